"""Charts as vector drawings with real text: one chart a file, plain values in, SVG out."""
