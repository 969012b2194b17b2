"""What the tool tells a user about their data: values, never exceptions."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from divert.words import Text

Level = Literal["refused", "query", "note"]


@dataclass(frozen=True, slots=True)
class Where:
    """A place in the user's files; ``row`` counts from 1, ``column`` is a letter such as ``F``."""

    file: str | None = None
    sheet: str | None = None
    row: int | None = None
    column: str | None = None

    def __str__(self) -> str:
        cell = f"{self.column or ''}{self.row or ''}"
        return "!".join(part for part in (self.file, self.sheet, cell) if part)


@dataclass(frozen=True, slots=True)
class Finding:
    """One thing said about the data.

    ``code`` is one of :data:`CODES`; ``found`` the text as it stood in the cell; ``rows`` how many
    entries it speaks of; ``about`` what an ``[[answer]]`` names to settle it (a cell, or
    ``"code: name"`` for a finding made once per name); ``answer`` the reason given there.
    """

    level: Level
    code: str
    message: Text
    where: Where = Where()
    hint: Text | None = None
    found: str = ""
    rows: int = 1
    name: str = ""
    answer: str | None = None

    @property
    def about(self) -> str:
        """Return what an answer in site.toml must name to settle this finding."""
        return f"{self.code}: {self.name}" if self.name else str(self.where)


class CannotRun(Exception):  # noqa: N818 - the name is the message: the run cannot go on
    """What stops a run: carries one sentence (what, where, what to do) and the exit status."""

    def __init__(self, message: Text, exit_status: int = 2) -> None:
        super().__init__(str(message))
        self.message = message
        self.exit_status = exit_status


REFUSED = (
    "no date",
    "no material",
    "no quantity",
    "quantity unreadable",
    "unit unknown",
    "net mass zero or less",
    "date in the future",
    "date before the start",
    "date order ambiguous",
    "heavier than water allows",
    "exact copy of a file",
    "correction matches no entry",
    "file unreadable",
)
QUERIES = (
    "unknown material",  # refused where the mass cannot be found without it
    "unknown source",
    "unknown container",  # refused where the mass cannot be found without it
    "row repeated exactly",
    "weight row and volume row of one load",
    "month beside its days",
    "implausible density",
    "count far outside habit",
    "unit settled by site.toml",
    "fill not recorded",
    "empty weight not known",
    "source not recorded",
    "usual fate not stated",
    "weekly habit broken",
    "contamination exactly zero all year",
    "contamination high",
    "product larger than feed",
    "outside the ordinary band",
    "measured density outside the published range",
    "screening factor far away",
    "gas capture not stated",
    "date order settled by site.toml",
    "money in another currency",
)
NOTES = (
    "total or subtotal",
    "heading",
    "note",
    "blank",
    "closed",
    "nothing delivered",
    "hidden sheet read",
    "written by this tool",
    "sheet not read",
    "formula without a value",
    "correction",
)
CODES = REFUSED + QUERIES + NOTES
