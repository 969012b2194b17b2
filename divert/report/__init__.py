"""Figures to pages: wording, charts, and the paper they are set on."""
