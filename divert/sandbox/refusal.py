"""Why a file, or one sheet of it, cannot be read: a code the parent has a sentence for."""

from __future__ import annotations


class Refused(Exception):  # noqa: N818 - a verdict on a file, not a fault of the program
    """Stops the reading of one file; ``reason`` is a key of divert.ingest.refusals."""

    def __init__(self, reason: str) -> None:
        super().__init__(reason)
        self.reason = reason
