"""What the tool tells a user about their data: values, never exceptions."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal

from divert.core.words import N_, Text

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
class Choice:
    """One way to settle a question: what a person reads, and the lines of site.toml that say so.

    ``table`` is "answer" or "sheet", ``keys`` what stands in it; a reason, initials and a day are
    added to an answer by whoever gives it.
    """

    label: Text
    table: str
    keys: Mapping[str, str] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Finding:
    """One thing said about the data.

    ``code`` is one of :data:`CODES`; ``found`` the text as it stood in the cell; ``rows`` how many
    entries it speaks of; ``about`` what an ``[[answer]]`` names to settle it; ``answer`` the reason
    given there. ``content`` is what the row says that it is about (day, source, material, amount),
    so that an answer stays with the row when rows are put in above it. ``mass_kg`` is the mass that
    hangs on a question and ``days`` the first and the last day that it touches, None where nobody
    can know; ``blocks`` that no report may be issued before it is answered; ``shown`` are lines to
    show beneath it; ``choices`` the ways to settle it.
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
    content: str = ""
    mass_kg: float | None = None
    days: tuple[dt.date, dt.date] | None = None
    blocks: bool = False
    shown: tuple[Text, ...] = ()
    choices: tuple[Choice, ...] = ()

    @property
    def about(self) -> str:
        """Return what an answer in site.toml names to settle this finding; never empty."""
        said = self.name or self.content
        return f"{self.code}: {said}" if said else str(self.where) or self.code


class CannotRun(Exception):  # noqa: N818 - the name is the message: the run cannot go on
    """What stops a run: carries one sentence (what, where, what to do) and the exit status."""

    def __init__(self, message: Text, exit_status: int = 2) -> None:
        super().__init__(str(message))
        self.message = message
        self.exit_status = exit_status


REFUSED = (
    N_("no date"),
    N_("no material"),
    N_("no quantity"),
    N_("quantity unreadable"),
    N_("not explained"),
    N_("unit unknown"),
    N_("net mass zero or less"),
    N_("date in the future"),
    N_("date before the start"),
    N_("date order ambiguous"),
    N_("larger than any load"),
    N_("exact copy of a file"),
    N_("near copy"),
    N_("file gone"),
    N_("file renamed"),
    N_("says less than before"),
    N_("what it holds is not plain"),
    N_("correction matches no entry"),
    N_("file unreadable"),
    N_("plan does not fit"),
    N_("check not made"),
)
QUERIES = (
    N_("unknown material"),  # refused where the mass cannot be found without it
    N_("unknown source"),
    N_("unknown container"),  # refused where the mass cannot be found without it
    N_("row repeated exactly"),
    N_("weight row and volume row of one load"),
    N_("notes not understood"),
    N_("numbers not read"),
    N_("total disagrees"),
    N_("weighed, not received"),
    N_("heavier than water allows"),
    N_("implausible density"),
    N_("load above 50 tonnes"),
    N_("count far outside habit"),
    N_("unit settled by site.toml"),
    N_("fill not recorded"),
    N_("empty weight not known"),
    N_("source not recorded"),
    N_("usual fate not stated"),
    N_("required by law not stated"),
    N_("weekly habit broken"),
    N_("contamination exactly zero all year"),
    N_("contamination high"),
    N_("product larger than feed"),
    N_("outside the ordinary band"),
    N_("measured density outside the published range"),
    N_("condition without a density"),
    N_("state not recorded"),
    N_("screening factor far away"),
    N_("gas capture not stated"),
    N_("disposed may hold what was removed"),
    N_("date order settled by site.toml"),
    N_("money in another currency"),
)
NOTES = (
    N_("total or subtotal"),
    N_("heading"),
    N_("note"),
    N_("blank"),
    N_("closed"),
    N_("nothing delivered"),
    N_("hidden sheet read"),
    N_("written by this tool"),
    N_("sheet not read"),
    N_("formula without a value"),
    N_("correction"),
)
CODES = REFUSED + QUERIES + NOTES
