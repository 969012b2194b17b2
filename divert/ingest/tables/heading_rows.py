"""Which rows of a sheet may be headings: words that name fields, or names or dates across."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping, Sequence
from functools import lru_cache

import numpy as np

from divert.ingest.cells.date import is_weekday
from divert.ingest.cells.date import read_cell as read_date
from divert.ingest.cells.mark import read_cell as read_mark
from divert.ingest.cells.number import even
from divert.ingest.cells.problem import Problem
from divert.ingest.cells.quantity import read_cell as read_quantity
from divert.ingest.cells.quantity_spellings import plainly
from divert.ingest.cells.scan import pieces
from divert.ingest.grid import Cell
from divert.ingest.known import Known
from divert.ingest.lexicon import bare
from divert.ingest.sheet import Distinct, Sheet, as_text, is_value
from divert.ingest.tables.heading import QUANTITIES, Heading
from divert.ingest.tables.heading_words import WORD, listed, norm
from divert.ingest.tables.headings import read_heading
from divert.ingest.tables.month_across import days_across, rows_of_days
from divert.ingest.tables.years_across import heads_years, rising_years

_VALUE_STARTS = frozenset("0123456789-+~$€£.,½¼¾")
_TOP = 60
_LEAST_DATES = 3  # across
_LONGEST = 400  # characters of a heading: a form asks whole questions


def heading_rows(sheet: Sheet, known: Known) -> list[int]:
    """Return the rows that may be a heading: no data in them, and words that name fields."""
    rows = [
        r
        for r in _valueless(sheet)
        if _says_fields(sheet.row(r), known) or _may_head_alone(sheet, r, known)
    ]
    across = set(rows_of_days(sheet))
    dated = sum(map(_may_be_dated, sheet.columns)) >= _LEAST_DATES
    for r in range(min(sheet.height, _TOP)):
        logged = _is_logged(sheet.row(r))
        if (dated and _dates_across(sheet, r)) if logged else _runs_across(sheet, r, known):
            across.add(r)
    return sorted(r for r in {*rows, *across} if _is_heading_row(sheet, r, known))


def _is_logged(cells: Sequence[Cell]) -> bool:
    """Return whether a row begins with a day or a number and holds another number: most of a log do.

    Of what a heading may be it can only be one of days across.
    """
    if not cells or cells[0] is None or isinstance(cells[0], str):
        return False
    return any(isinstance(c, int | float) for c in cells[1:])


def _may_be_dated(column: Distinct) -> bool:
    """Return whether a date may head a column: whether one of its first cells could."""
    first = set(column.codes[:_TOP].tolist()) - {-1}
    return any(is_date_head(column.cells[code]) for code in first)


def _runs_across(sheet: Sheet, row: int, known: Known) -> bool:
    """Return whether dates, names, years or numbers that are names run across a row."""
    if _dates_across(sheet, row) or _names_across(sheet, row, known):
        return True
    cells = sheet.row(row)
    first = next((c for c in cells if c is not None), None)
    if isinstance(first, str) and (heads_years(cells, known) or _codes_across(cells, known)):
        return True
    names = _weekdays_over_names(sheet, row, known) or _amounts_over_days(sheet, row, known)
    return names or _few_dates_across(sheet, row, known)


def _valueless(sheet: Sheet) -> list[int]:
    """Return the rows that hold text but no number and no date, found column by column."""
    has_value = np.zeros(sheet.height, dtype=bool)
    has_text = np.zeros(sheet.height, dtype=bool)
    for column in sheet.columns:
        worded = column.rows_of_texts(lambda text: not _is_data(text))
        has_value |= (column.codes >= 0) & ~worded
        has_text |= worded
    return [int(r) for r in np.flatnonzero(has_text & ~has_value)]


def _is_data(text: str) -> bool:
    return text[0] in _VALUE_STARTS and is_value(text)


def _says_fields(cells: Sequence[Cell], known: Known) -> bool:
    texts = {c for c in cells if type(c) is str and len(c) <= _LONGEST}
    return len(texts) > 1 and sum(_says_field(t, known) for t in texts) > 1


def _says_field(text: str, known: Known) -> bool:
    return not is_value(text) and read_heading(text, known).known


def _may_head_alone(sheet: Sheet, row: int, known: Known) -> bool:
    """Return whether a row with one known word ("Date") heads a wide table of unknown names."""
    cells = [c for c in sheet.row(row) if c is not None]
    first = read_heading(as_text(cells[0]), known) if len(cells) > 1 else Heading()
    if not first.said or first.field not in ("date", "day", "month", "source", "material"):
        return False
    below = next(
        (
            r
            for r in range(row + 1, min(row + 4, sheet.height))
            if any(c is not None for c in sheet.row(r))
        ),
        None,
    )
    if below is None:
        return False
    under = [c for c in sheet.row(below) if c is not None]
    return is_date_head(under[0]) or any(is_value(c) for c in under)


def _names_across(sheet: Sheet, row: int, known: Known) -> bool:
    cells = [c for c in sheet.row(row) if c is not None]
    if any(is_value(c) for c in cells):
        return False
    named = [c for c in cells if type(c) is str and known.names(c)]
    if len(named) < 2 or len(named) < 0.6 * len(cells):
        return False
    below = row + 1
    return below < sheet.height and sum(is_value(c) for c in sheet.row(below)) >= 2


def _codes_across(cells: Sequence[Cell], known: Known) -> bool:
    """Return whether a row heads known names that look like numbers: "Date | 101 | 3B | 12-A"."""
    texts = [as_text(c) for c in cells if c is not None]
    if len(texts) < 3 or not any(map(is_value, cells)):
        return False
    if is_value(texts[0]) or not read_heading(texts[0], known).said:
        return False
    heads = [t for t in texts if not is_value(t) and read_heading(t, known).said]
    codes = [t for t in texts if known.names(t) and t not in heads]
    return len(codes) >= 2 and len(codes) + len(heads) == len(texts)


_LEAST_WEEKDAYS = 3


def _weekdays_over_names(sheet: Sheet, row: int, known: Known) -> bool:
    """Return whether days of the week head amounts of what the column left of them names."""
    first, *cells = sheet.row(row) if sheet.columns else [None]
    if first is not None:
        return False
    texts = [as_text(c) for c in cells if c is not None]
    days = sum(len(t) > 1 and is_weekday(t) for t in texts)
    if days < _LEAST_WEEKDAYS or len(texts) > days + 1:
        return False
    below = sheet.row(row + 1) if row + 1 < sheet.height else [None]
    words = WORD.findall(read_heading(as_text(below[0]), known).label)
    named = known.names(" ".join(words)) or known.source_and_material(words) is not None
    return named and any(isinstance(c, int | float) for c in below[1:])


def _amounts_over_days(sheet: Sheet, row: int, known: Known) -> bool:
    """Return whether units, or years, head numbers right of days that stand under nothing."""
    first, *cells = sheet.row(row) if sheet.columns else [None]
    if first is not None:
        return False
    heads = [(i, c) for i, c in enumerate(cells, 1) if c is not None]
    below = sheet.row(row + 1) if heads and row + 1 < sheet.height else [None]
    if not is_date_head(below[0]):
        return False
    if any(not isinstance(below[i], int | float) for i, _ in heads):
        return False
    if rising_years([as_text(c) for _, c in heads]):
        return True
    return all(type(c) is str and read_heading(c, known).unit is not None for _, c in heads)


def _dates_across(sheet: Sheet, row: int) -> bool:
    """Return whether dates or months run across a row, three of them or more."""
    cells = [c for c in sheet.row(row) if c is not None]
    if len(cells) == 2 and all(is_date_head(c) for c in cells):
        return _names_down(sheet, row)
    least = max(_LEAST_DATES, len(cells) - 3)
    may = [c for c in cells if not isinstance(c, int | float)]  # a number heads no day
    return len(may) >= least and sum(map(is_date_head, may)) >= least


def _few_dates_across(sheet: Sheet, row: int, known: Known) -> bool:
    """Return whether a row heads one or two days: "Source | 2025-03-03 | Total", amounts under them."""
    cells = sheet.row(row)
    if any(isinstance(c, int | float) for c in cells):
        return False  # most rows of a log
    dated = [i for i, c in enumerate(cells) if c is not None and is_date_head(c)]
    words_ = [c for i, c in enumerate(cells) if c is not None and i not in dated]
    if not 1 <= len(dated) <= 2 or not words_ or any(not isinstance(c, str) for c in words_):
        return False
    read = [read_heading(as_text(c), known) for c in words_]
    if not all(h.said for h in read) or not {h.field for h in read} & {"source", "material"}:
        return False
    below = [
        sheet.columns[i].at(r) for i in dated for r in range(row + 1, min(row + 4, sheet.height))
    ]
    return any(is_value(c) and not is_date_head(c) for c in below)


def _names_down(sheet: Sheet, row: int) -> bool:
    """Return whether under a row of two dates a name stands left of them, and amounts under them."""
    first = next(i for i, c in enumerate(sheet.row(row)) if c is not None)
    below = sheet.row(row + 1) if row + 1 < sheet.height else []
    named = any(isinstance(c, str) and not is_value(c) for c in below[:first])
    return named and any(isinstance(c, int | float) for c in below[first:])


def is_date_head(cell: Cell) -> bool:
    """Return whether a cell could head a column of one day."""
    if isinstance(cell, str):
        return len(cell) <= 30 and _says_a_date(cell)
    return isinstance(cell, dt.date)


@lru_cache(maxsize=16384)
def _says_a_date(text: str) -> bool:
    read = read_date(text)
    return not isinstance(read, Problem) and bool(read.readings)


def _is_heading_row(sheet: Sheet, row: int, known: Known) -> bool:
    cells = [c for c in sheet.row(row) if c is not None]
    if len(cells) == 2 and as_text(cells[0]).rstrip().endswith(":"):
        return False  # "Organisme : | École": a pair that speaks of the sheet
    if _few_dates_across(sheet, row, known):
        return True
    if heads_years(cells, known) or _dates_across(sheet, row) or days_across(cells):
        return True
    if _codes_across(cells, known) or _weekdays_over_names(sheet, row, known):
        return True
    if _amounts_over_days(sheet, row, known):
        return True
    if any(is_value(c) for c in cells):
        return False
    if holds_an_entry(cells, known):
        return False
    read = [read_heading(as_text(c), known) for c in cells]
    fields = {h.field for h in read if h.known}
    labels = [
        h for h in read if not h.known and h.label and (known.names(h.text) or is_weekday(h.text))
    ]
    marks = sum(read_mark(as_text(c)) is not None for c in cells)
    said = sum(1 for h in read if h.said)
    if marks > len(cells) / 3:
        return False
    if _names_across(sheet, row, known) or (
        len(fields) == 1 and _may_head_alone(sheet, row, known)
    ):
        return True
    counted = len([h for h in read if h.known]) + len(labels)
    return len(fields) >= 2 and said >= 1 and counted >= 0.4 * len(cells)


def holds_an_entry(cells: Sequence[Cell], known: Known) -> bool:
    """Return whether some cell is a day or an amount in words, as only a row of entries holds.

    Where the row says "Date" it is a heading all the same: "64 gal" then heads a column of carts.
    """
    texts = [c for c in cells if isinstance(c, str) and not known.names(c)]  # "CPE 3 Sacs"
    headed = any(read_heading(t, known).field in _DAYS and _heads(t, known) for t in texts)
    if any(is_day(t) and not (headed and _numbers_a_day(t)) for t in texts):
        return True
    if headed:
        return False
    asks = {t for t in texts if t.endswith("?") and not any(c.isdigit() for c in t)}  # "Full?"
    told = [t for t in texts if t not in asks and is_amount(t, known)]
    others = sum(_heads(t, known) for t in texts if t not in told)
    words = all(read_heading(t, known).said and not any(map(str.isdigit, t)) for t in told)
    return bool(told) and not (
        words and others >= _PLAINLY_HEADED
    )  # "Quarter" beside three headings


def _numbers_a_day(text: str) -> bool:
    """Return whether a text numbers a day and says no more: "1st" may be the first of several weighings."""
    read = read_date(text)
    return not isinstance(read, Problem) and read.day_alone is not None


_PLAINLY_HEADED = 3  # headings in full, beside which a word for an amount is one too


def is_day(cell: Cell) -> bool:
    """Return whether a cell says a day: a date, with a year or without, or a day of the month."""
    if cell is None:
        return False
    read = read_date(cell)
    if isinstance(read, Problem):
        return False
    return read.day_alone is not None or any(day.day is not None for _, day in read.readings)


@lru_cache(maxsize=16384)
def is_amount(text: str, known: Known) -> bool:
    """Return whether a text counts or measures: "three pails", "850 g"; not "5 gal pails" or "lb"."""
    plain = bare(even(text))
    if len(plain) > 40 or isinstance(read_quantity(plain, known.trade), Problem):
        return False
    try:
        first = next(pieces(plainly(plain), known.trade), None)
    except ValueError:  # readable only part by part
        return True
    return first is not None and (
        first.kind in ("mass", "volume", "number", "fill")
        or (first.kind == "count" and not first.by_word)
    )


def heads_anew(cells: Sequence[Cell], above: Mapping[int, str], known: Known) -> bool:
    """Return whether a row under a heading already found is plainly a heading itself.

    A row of entries may hold words that also head columns ("School", "received"): those do not
    count. It takes a word for the date, or two words that nobody logs. ``above``: the field that
    the heading gives to each column; a row with what two of them ask for is an entry.
    """
    if answers(cells, above, known):
        return False
    plain_words = [c for c in cells if isinstance(c, str) and _heads(c, known)]
    read = [read_heading(t, known) for t in plain_words if not is_amount(t, known)]
    wholly = [
        h for h in read if not h.label or h.unit is not None
    ]  # not "market day", "garden stuff"
    return any(h.field in _DAYS for h in wholly) or (bool(wholly) and len(read) >= 2)


_DAYS = ("date", "day", "month")


def answers(cells: Sequence[Cell], above: Mapping[int, str], known: Known) -> bool:
    """Return whether a row holds what two columns of a heading ask for; ``above``: their fields."""
    return sum(_answers(cells[i], f, known) for i, f in above.items() if i < len(cells)) >= 2


def _answers(cell: Cell, field: str, known: Known) -> bool:
    """Return whether a cell is what a heading asks for: a day, a known name, or an amount in words."""
    if field in _DAYS:
        return is_day(cell)
    if not isinstance(cell, str):
        return False
    if field == "source":
        return known.sources.find(cell) is not None
    if field in ("material", "product"):
        return known.materials.find(cell) is not None
    return field in QUANTITIES and is_amount(cell, known)


def _heads(text: str, known: Known) -> bool:
    heading = read_heading(text, known)
    if known.names(text) or norm(text) in listed("headings", "also_logged", "words"):
        return False
    return heading.said or (heading.unit is not None and bool(heading.field))
