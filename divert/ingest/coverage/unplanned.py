"""What no plan explains: amounts beside a day or a known name, where no table that can be read was found.

Each such cell may be an entry, and becomes a question. Price lists, contacts and minutes stay quiet.
"""

from __future__ import annotations

import re
from collections.abc import Sequence

from divert.ingest.cells.date import is_weekday
from divert.ingest.grid import Cell
from divert.ingest.known import Known
from divert.ingest.sheet import Sheet, as_text
from divert.ingest.tables.heading_rows import is_amount, is_date_head, is_day
from divert.ingest.tables.headings import read_heading
from divert.ingest.tables.titled_amounts import unit_of
from divert.ingest.tables.years_across import year_of
from divert.ingest.turned.diary import day_begun
from divert.ingest.turned.forms import AMOUNTS, DATED
from divert.ingest.turned.labels import label_columns
from divert.ingest.turned.line import may_count
from divert.ingest.turned.weekdays import LEAST, week_of

Place = tuple[int, int, Cell]  # row and column from 0, and what stands there
_Cells = Sequence[tuple[int, Cell]]

_CUT = 4  # cells that one line of a diary may have been cut into
_TELEPHONE = 100_000  # no one entry of a site is as large a number
_MOST = 0.7  # of a column must be headings, where a sheet holds but one form
_YEAR = re.compile(r"(?<!\d)20\d\d(?!\d)")
_TRIED = 200  # different cells of a column that are asked whether the sheet speaks of loads
_LONGEST = 80  # characters of a title or a heading
_LEAST_FIELDS = 3  # different headings down such a column


def entries_left(sheet: Sheet, known: Known, rows: Sequence[int] | None = None) -> list[Place]:
    """Return the cells that may each be an entry, though no table says what they are.

    ``rows``: only those of a table whose columns say no amounts; numbers alone then stay quiet.
    """
    found: list[Place] = []
    calendar = under_a_day = False
    day = 0  # the last that a calendar has numbered
    for row in range(sheet.height) if rows is None else rows:
        cells = [(i, c) for i, c in enumerate(sheet.row(row)) if c is not None]
        if rows is None and _is_week(sheet, row, cells):
            calendar = True
        elif calendar and (numbered := _last_day(cells, day)):
            day = numbered
        elif calendar:
            found += [(row, i, c) for i, c in cells if _in_square(c, day > 0, known)]
        elif (place := _in_row(row, cells, known, rows is None, under_a_day)) is not None:
            found.append(place)
        under_a_day = under_a_day or (len(cells) == 1 and is_date_head(cells[0][1]))
    if found and (calendar or rows is not None):
        return found
    if not found and not _speaks_of_loads(sheet, known):
        return []
    return _with_numbers(sheet, found, range(sheet.height) if rows is None else rows)


def _speaks_of_loads(sheet: Sheet, known: Known) -> bool:
    """Return whether a sheet names what came in, a day or a month, and what amounts are in.

    Whatever its numbers then are, they are no price list's.
    """
    said = [c for column in sheet.columns for c in column.cells[:_TRIED] if isinstance(c, str)]
    short = [text for text in said if len(text) <= _LONGEST]
    if not any(known.materials.within(text, but=known.products) for text in short):
        return False
    days = any(is_date_head(c) for column in sheet.columns for c in column.cells[:_TRIED])
    days = days or any(is_weekday(text) or _YEAR.search(text) for text in short)
    years = (as_text(c) for column in sheet.columns for c in column.cells[:_TRIED])
    days = days or any(_YEAR.fullmatch(text) for text in years)
    return days and any(_is_measure(text, known) for text in short)


def _is_measure(text: str, known: Known) -> bool:
    """Return whether a text says what amounts are in: "Net weight (kg)", "Barrow loads"."""
    heading = read_heading(text, known)
    boxed = known.containers.is_own(heading.container) if heading.container else False
    return boxed or heading.unit is not None or unit_of(text, known)[0] is not None


def _with_numbers(sheet: Sheet, found: Sequence[Place], among: Sequence[int]) -> list[Place]:
    """Return the cells found, and the first number beside a word: all of it hangs on the one question."""
    rows = {row for row, _, _ in found}
    more: list[Place] = []
    for row in sorted(set(among) - rows):
        cells = [(i, c) for i, c in enumerate(sheet.row(row)) if c is not None]
        yearly = len(cells) > 1 and year_of(as_text(cells[0][1])) is not None  # "2022 | 40 | 310"
        numbers = [(i, c) for i, c in cells[yearly:] if is_plain_number(c)]
        if numbers and (yearly or any(isinstance(c, str) for _, c in cells)):
            more.append((row, *numbers[0]))
    return sorted([*found, *more], key=lambda p: p[:2])


def _is_week(sheet: Sheet, row: int, cells: _Cells) -> bool:
    days = sum(isinstance(c, str) and is_weekday(c) for _, c in cells)
    return days >= LEAST or week_of(sheet, row) is not None


def _last_day(cells: _Cells, before: int) -> int:
    """Return the last of the days that a row numbers, one more in each column: 5 of 3, 4, 5; else 0."""
    numbers = [(i, int(as_text(c))) for i, c in cells if as_text(c).isdecimal()]
    if not cells or len(numbers) < len(cells) or len({n - i for i, n in numbers}) > 1:
        return 0
    first, last = numbers[0][1], numbers[-1][1]
    return last if last < 32 and (len(cells) > 2 or first == before + 1) else 0


def _in_square(cell: Cell, numbered: bool, known: Known) -> bool:
    return may_count(cell, known) if isinstance(cell, str) else numbered and is_plain_number(cell)


def _in_row(
    row: int, cells: _Cells, known: Known, numbers: bool, under_a_day: bool
) -> Place | None:
    """Return what may be the entry of a row: an amount, a line of a diary, or a bare number."""
    texts = [(i, c) for i, c in cells if isinstance(c, str)]
    if not cells or any(sign in c for _, c in texts for sign in "$€£"):
        return None  # a price
    named = [i for i, c in texts if known.names(c)]
    dated = [i for i, c in cells if is_date_head(c)]
    for i, text in texts:
        if is_measured(text, known) and {*named, *dated} - {i}:
            return row, i, text
    said = ", ".join(c for _, c in texts)  # a comma may have cut one text
    if len(cells) <= _CUT and _day_and_amount(said, known):
        return row, cells[0][0], said
    if under_a_day and len(cells) == len(texts) == 1 and may_count(said, known):
        return row, cells[0][0], said
    amounts = [(i, c) for i, c in cells if is_plain_number(c)]
    whose = any(known.sources.find(c) for _, c in texts)
    what = any(known.materials.find(c) for _, c in texts)
    told = (named and dated) or (whose and (what or under_a_day))
    return (row, *amounts[0]) if numbers and amounts and told else None


def is_plain_number(cell: Cell) -> bool:
    """Return whether a cell is a number that may be an amount, not a telephone's."""
    return isinstance(cell, int | float) and not isinstance(cell, bool) and 0 < cell < _TELEPHONE


def is_measured(cell: Cell, known: Known) -> bool:
    """Return whether a cell is nothing but an amount with its unit or container: "2 totes", "12 lb"."""
    if not isinstance(cell, str):
        return False
    worded = any(c.isdigit() for c in cell) and any(c.isalpha() for c in cell)
    return worded and is_amount(cell, known) and not is_day(cell)


def _day_and_amount(text: str, known: Known) -> bool:
    """Return whether one text tells a day and then what came: "March 3: School, 2 totes"."""
    first, _, rest = text.partition(" ")
    told = [rest] if is_weekday(first.rstrip(":,")) else []
    return any(may_count(t, known) for t in (*told, *(rest for _, rest in day_begun(text))))


def days_headed_down(sheet: Sheet, known: Known) -> list[Place]:
    """Return the days of entries whose headings run down a column: forms, or a table on its side.

    Forms are filled in again and again, under labels that end in a colon; else most of a column must
    be headings, of an amount among others.
    """
    forms: list[Place] = []
    beside: list[Place] = []
    amounts = 0
    for index, labels in label_columns(sheet, known).items():
        column, right = sheet.columns[index], sheet.columns[index + 1 :]
        fields = {row: {one.field for one in said} for row, said in labels.items()}
        measured = sum(bool(said & set(AMOUNTS)) for said in fields.values())
        dated = [row for row, said in fields.items() if said & set(DATED)]
        days = [
            (row, index + at, c.at(row))
            for row in dated for at, c in enumerate(right, 1) if is_day(c.at(row))
        ]  # fmt: skip
        if next(iter(labels.values()))[0].colon:
            amounts += measured
            written = {row for row, _, _ in days} | {r for r in dated if labels[r][0].rest}
            forms += [(row, index, column.at(row)) for row in sorted(written)]
        if measured and len(set().union(*fields.values())) >= _LEAST_FIELDS:
            most = len(labels) >= _MOST * (column.codes >= 0).sum()
            beside += days if most else []
    return forms if len(forms) > 1 and amounts > 1 else beside
