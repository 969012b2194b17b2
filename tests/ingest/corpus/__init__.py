"""A corpus of workbooks as crews keep them, each made by a small script with its true entries beside it."""

from . import cells, dates, doubts, files, kinds, layouts

__all__ = ["ITEMS", "cells", "dates", "doubts", "files", "kinds", "layouts"]
ITEMS: tuple[str, ...] = ()
