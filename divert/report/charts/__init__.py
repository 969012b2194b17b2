"""Charts as vector drawings with real text: one chart a file, plain values in, SVG out."""

import logging

# Where no folder of the user's can be written it tells of its own cache, which no reader asked about.
logging.getLogger("matplotlib").setLevel(logging.ERROR)
