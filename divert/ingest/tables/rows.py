"""What each row of a table is before its quantities are looked at: blank, heading, total, note, section."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np
import numpy.typing as npt

from divert.ingest.arrays import Bools
from divert.ingest.cells import mark
from divert.ingest.cells.date import Day, Order, as_date, with_year
from divert.ingest.cells.date import read_cell as read_date
from divert.ingest.cells.problem import Problem
from divert.ingest.known import Known, Names
from divert.ingest.sheet import as_text
from divert.ingest.tables.columns import IGNORE, Column
from divert.ingest.tables.context import Context
from divert.ingest.tables.table import Table

_QUIET = (
    "note",
    "by",
    "id",
    "time",
    "weekday",
)  # a word such as "total" here says nothing of the row

_DATED = ("date", "day", "month", "year")


@dataclass
class Rows:
    """Per row: ``reason`` a note code or "" for a candidate entry; sections name what follows them."""

    reason: npt.NDArray[np.object_]
    filled: npt.NDArray[np.int64]
    days: dict[int, np.datetime64] = field(default_factory=dict)
    sources: dict[int, str] = field(default_factory=dict)
    materials: dict[int, str] = field(default_factory=dict)
    months: dict[int, Day] = field(default_factory=dict)
    years: dict[int, int] = field(default_factory=dict)
    headers: Bools = field(default_factory=lambda: np.zeros(0, dtype=bool))

    settled: Bools | None = None

    @property
    def open(self) -> Bools:
        """Return the rows that may hold an entry."""
        return np.asarray(self.reason == "") if self.settled is None else self.settled

    def settle(self) -> None:
        """Let no reason change from here on, and say without asking each row which are open."""
        self.settled = self.open
        self.reason.flags.writeable = self.settled.flags.writeable = False


def classify(columns: Sequence[Column], table: Table, context: Context, known: Known) -> Rows:
    """Return what each row of a table is."""
    size = table.end - table.first
    filled = np.zeros(size, dtype=np.int64)
    for column in columns:
        filled += column.cells.codes >= 0
    rows = Rows(np.full(size, "", dtype=object), filled, headers=np.zeros(size, dtype=bool))
    rows.reason[filled == 0] = "blank"
    for row in table.repeats:
        if table.first <= row < table.end:
            rows.reason[row - table.first] = "heading"
    rows.reason[rows.open & _total_labels(columns, known)] = "total or subtotal"
    rows.reason[rows.open & _remarks(columns, known)] = "note"
    _sections(rows, columns, context, known)
    return rows


def _total_labels(columns: Sequence[Column], known: Known) -> Bools:
    """Return the rows that a cell labels as a total."""
    size = len(columns[0].cells.codes) if columns else 0
    labelled = np.zeros(size, dtype=bool)
    dated = np.zeros(size, dtype=bool)
    weak = np.zeros(size, dtype=bool)
    for column in columns:
        rows = column.cells.rows_of_texts(lambda text: _is_total(text, known))
        if column.field == "date":
            dated |= column.cells.codes >= 0
        if column.field in ("unit", "container", "kind"):
            continue  # "count" there says how a row was measured
        if column.field in _QUIET or column.field in ("", "other", "total", IGNORE):
            weak |= rows
        else:
            labelled |= rows
    return labelled | (weak & ~dated)


def _remarks(columns: Sequence[Column], known: Known) -> Bools:
    """Return the rows that say "Goal" or "Days" for a date, and name no source and no material."""
    size = len(columns[0].cells.codes) if columns else 0
    said, named = np.zeros(size, dtype=bool), np.zeros(size, dtype=bool)
    for column in columns:
        if column.field in _DATED:
            said |= column.cells.rows_of_texts(
                lambda text: not known.names(text) and mark.is_remark(text)
            )
        elif column.field in ("source", "material", "product", "container"):
            named |= column.cells.codes >= 0
    return said & ~named


def _is_total(text: str, known: Known) -> bool:
    return mark.is_total_label(text) and not known.names(text)


def _sections(rows: Rows, columns: Sequence[Column], context: Context, known: Known) -> None:
    """Read rows with one filled cell: a date, source or material for the rows under it, or a note."""
    alone = np.flatnonzero(rows.open & (rows.filled == 1))
    if not len(alone):
        return
    order = known.site.dates or _order_shown(columns, alone.tolist())
    for row in alone:
        column = next(c for c in columns if c.cells.codes[row] >= 0)
        cell = column.cells.cells[column.cells.codes[row]]
        text = as_text(cell)
        month = _section_month(cell)
        if month is not None and column.field != "month":
            rows.months[int(row)] = month
            rows.reason[row] = "heading"
            continue
        year = _section_year(text)
        if year is not None and (column is columns[0] or column.field in _DATED):
            rows.years[int(row)] = year
            rows.reason[row] = "heading"
            continue
        named = known.sources.find(text)
        if column.field in _DATED and not _only_words(cell) and not named:
            continue  # settled with the dates: a group's date, or a day on which nothing was logged
        if isinstance(cell, int | float):
            continue
        marked = None if named else mark.read_start(text)
        if marked in ("closed", "nothing"):
            rows.reason[row] = "closed" if marked == "closed" else "nothing delivered"
            continue
        day = _section_day(text, context, order)
        if day is not None:
            rows.days[int(row)] = day
            rows.reason[row] = "heading"
        elif source := _name(text, known.sources):
            if column.field != "note":
                rows.sources[int(row)] = source
                rows.reason[row] = "heading"
        elif material := _name(text, known.materials):
            if column.field != "note" and not _counts(column):
                rows.materials[int(row)] = material
                rows.reason[row] = "heading"
        elif not _counts(column) or _is_remark(text):
            rows.reason[row] = "note"


def _section_month(cell: object) -> Day | None:
    """Return the month that a lone text names, with its year if that is written: "MARCH"."""
    if not isinstance(cell, str):
        return None
    read = read_date(cell)
    if isinstance(read, Problem) or not read.sure or read.readings[0][1].day is not None:
        return None
    return read.readings[0][1]


def _section_year(text: str) -> int | None:
    """Return the year that stands alone over the rows of that year."""
    said = re.fullmatch(r"(?:(?:year|annee|année|fy)\s*)?(20\d\d)", text.casefold())
    return int(said[1]) if said else None


def _only_words(cell: object) -> bool:
    return (
        isinstance(cell, str)
        and isinstance(read_date(cell), Problem)
        and not any(c.isdigit() for c in cell)
    )


def _is_remark(text: str) -> bool:
    """Return whether words alone in an amount's column are a remark: "Checked by RT"."""
    return len(text.split()) >= 2 and not any(c.isdigit() for c in text)


def _counts(column: Column) -> bool:
    return column.field in ("count", "quantity", "weight", "volume", "gross")


_DRESSED = re.compile(r"^[\W_]+|[\W_]+$")
_MORE = re.compile(r"\s*[(\[]|\s+[-–—]+\s|\s*[,;:]\s")  # "LEAVES (curbside)", "Hotel - spring"
_MOST_MORE = 3  # words behind a name that only tell more of it


def _name(text: str, names: Names) -> str | None:
    """Return the name that a section's title is, or begins with before a bracket or a dash."""
    found = names.find(text) or names.find(re.sub(r"^[^:]{1,20}:\s*", "", text))
    plain = _DRESSED.sub("", text)
    if found is None and (found := names.find(plain)) is None:
        head, *rest = _MORE.split(plain, maxsplit=1)
        more = _DRESSED.sub("", rest[0]) if rest else ""
        told = len(more.split()) <= _MOST_MORE and mark.read_start(more) is None
        found = names.find(head) if told else None
    return found


def _order_shown(columns: Sequence[Column], alone: Sequence[int]) -> Order | None:
    """Return the order of text dates that the titles of sections show, where some allow but one."""
    shown: set[Order] = set()
    for row in alone:
        cell = next(c.cells.at(row) for c in columns if c.cells.codes[row] >= 0)
        read = read_date(_MORE.split(cell, maxsplit=1)[0]) if isinstance(cell, str) else None
        if read is not None and not isinstance(read, Problem) and len(read.readings) == 1:
            shown.add(read.readings[0][0])
    return shown.pop() if len(shown) == 1 else None


def _section_day(text: str, context: Context, order: Order | None = None) -> np.datetime64 | None:
    """Return the date that a section's title names, in the year its sheet names."""
    text = re.sub(r"(?i)^(?:date|day|jour|for|pour)\s*:?\s+", "", text)
    read = read_date(text)
    if isinstance(read, Problem) or not read.readings:  # "4/1/2025 - short crew"
        read = read_date(_MORE.split(text, maxsplit=1)[0])
    if isinstance(read, Problem) or not read.readings:
        return None
    day = read.readings[0][1]
    if not read.sure and len({d for _, d in read.readings}) > 1:
        if order is None:
            return None
        day = dict(read.readings)[order]
    if day.year is None and len(context.years) == 1:
        day = with_year(day, context.years[0])
    found = as_date(day) if day.day is not None else None
    return None if found is None else np.datetime64(found, "D")


def spread_section(size: int, named: dict[int, str]) -> npt.NDArray[np.object_]:
    """Return for every row the name of the section it stands in, "" before the first."""
    out = np.full(size, "", dtype=object)
    for row in sorted(named):
        out[row:] = named[row]
    return out
