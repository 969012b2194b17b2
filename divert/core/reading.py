"""What reading a folder gives: the entries, what was left out and why, and how sheets were taken."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

import pandas as pd

from divert.core.findings import Finding
from divert.core.ledger import tidy
from divert.core.words import Text


@dataclass(frozen=True, slots=True)
class Claim:
    """What one decider says of a column (its letter, "" for the table): a role, a weight 0-1, a reason."""

    column: str
    role: str
    weight: float
    reason: Text


@dataclass(frozen=True, slots=True)
class SheetTaken:
    """How one table was understood, so that a person can see and correct it.

    ``columns`` pairs (letter, heading as found, field and unit it was taken to be, e.g.
    ``"weight (lb)"``); ``seen = used + set_aside + skipped`` counts candidate entries. ``how`` says
    how a sheet was read that is no table as it lies; ``cells`` then gives, by the cell of an entry's
    amount, the cells of its other fields ({"B5": {"source": "B3"}}), and the first of a column's three
    is the cell of its heading. ``why``: what decided, in order; a column's last claim stands.
    """

    file: str
    sheet: str
    holds: str
    heading_row: int | None
    columns: tuple[tuple[str, str, str], ...]
    seen: int
    used: int
    set_aside: int
    skipped: int
    hidden: bool = False
    how: Text | None = None
    why: tuple[Claim, ...] = ()
    cells: Mapping[str, Mapping[str, str]] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class InputFile:
    """One file of the folder with the SHA-256 of its bytes."""

    file: str
    sha256: str
    size: int


@dataclass(frozen=True, slots=True)
class Reading:
    """The result of reading a site folder.

    ``entries``: a ledger frame (divert.core.ledger). ``set_aside``: one row per refused entry, columns
    file, sheet, row, column, found, code. ``skipped``: one row per skipped entry, columns file, sheet,
    row, column, found, reason (a code of NOTES), date (datetime64 or NaT; a "closed" row marks its
    week as closed) and rows (1, or how many empty rows follow one another from there). Always
    ``len(entries) + len(set_aside) + rows_skipped`` entries were seen.
    ``held``: a ledger frame of the entries that are set aside only because a question about their
    file or sheet is open, with a column ``about`` that names it: what would count under its answer.
    ``plans``: the text of the reading.toml that was followed, "" where there was none.
    ``read_before``: the files that were read the last time, where it may hang on them which of two
    that say the same counts; None where the same is read whichever those were.
    """

    entries: pd.DataFrame
    set_aside: pd.DataFrame
    skipped: pd.DataFrame
    findings: tuple[Finding, ...]
    sheets: tuple[SheetTaken, ...] = ()
    inputs: tuple[InputFile, ...] = field(default=())
    held: pd.DataFrame | None = None
    plans: str = ""
    read_before: tuple[str, ...] | None = None

    @property
    def rows_skipped(self) -> int:
        """Return the number of entries skipped, ranges of empty rows with all of theirs."""
        return int(self.skipped["rows"].sum())

    @property
    def seen(self) -> int:
        """Return the number of candidate entries met."""
        return len(self.entries) + len(self.set_aside) + self.rows_skipped


def reading_of(entries: pd.DataFrame) -> Reading:
    """Return a reading of entries that come from elsewhere than a folder of spreadsheets.

    ``entries``: any of the ledger's columns (divert.core.ledger), SI units, one row per entry.
    """
    aside, skipped = (
        pd.DataFrame({name: [] for name in names}) for names in (SET_ASIDE_COLUMNS, SKIPPED_COLUMNS)
    )
    return Reading(tidy(entries), aside, skipped, ())


SET_ASIDE_COLUMNS = ("file", "sheet", "row", "column", "found", "code")
SKIPPED_COLUMNS = ("file", "sheet", "row", "column", "found", "reason", "date", "rows")
