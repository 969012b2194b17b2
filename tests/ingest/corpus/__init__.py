"""A corpus of workbooks as crews keep them, each made by a small script with its true entries beside it."""

from . import files

__all__ = ["ITEMS", "files"]
ITEMS: tuple[str, ...] = ()
