"""Entries on a sheet without a table that can be read: calendars, diaries, lists under a day.

They are not read; each of them is set aside, and said once. What shows them is an amount with its
unit or container beside a day or a known name, so that price lists, contacts and minutes stay quiet.
"""

from __future__ import annotations

import re
from collections.abc import Sequence

from divert.core.findings import Finding, Where
from divert.core.words import N_, Text
from divert.ingest.cells import quantity
from divert.ingest.cells.date import is_weekday
from divert.ingest.cells.money import read_cell as read_money
from divert.ingest.cells.number import even
from divert.ingest.cells.problem import Problem
from divert.ingest.entries.gathered import Gathered
from divert.ingest.grid import Cell
from divert.ingest.known import Known
from divert.ingest.lexicon import bare
from divert.ingest.sheet import Sheet, as_text, is_number, letter
from divert.ingest.tables.heading_rows import is_amount, is_date_head, is_day
from divert.ingest.turned.line import may_count, read_line
from divert.ingest.turned.weekdays import week_of

Place = tuple[int, int, Cell]  # row and column from 0, and what stands there

_PARTS = re.compile(r"[:;,|–—\t\n]|(?<=\s)-(?=\s)")  # "March 3: School, 2 totes"
_LONGEST = 200  # characters; a longer text is prose
_LONGEST_AMOUNT = 40  # characters
_WEEK = 5  # names of weekdays across a row that make a calendar
_CUT = 4  # cells that one line of a diary may have been cut into
_DAYS = range(1, 32)
_WHOLE = 3  # days of a week beside each other that are no amounts
_TELEPHONE = 100_000  # no one entry of a site is as large a number


def might_be_entries(sheet: Sheet, known: Known, rows: Sequence[int] | None = None) -> list[Place]:
    """Return the cells that may each be an entry, though no table says what they are.

    ``rows``: only those of a table whose columns say no amounts; numbers alone then stay quiet.
    """
    if rows is not None:
        return [p for r in rows if (p := _in_row(sheet, r, known)) is not None]
    if calendar := _in_calendar(sheet, known):
        return calendar
    found: list[Place] = []
    under_a_day = False
    for row in range(sheet.height):
        cells = [c for c in sheet.row(row) if c is not None]
        under_a_day = under_a_day or (len(cells) == 1 and is_date_head(cells[0]))
        place = _in_row(sheet, row, known) or _number_in_row(sheet, row, known)
        place = place or (_line(sheet, row, known) if under_a_day else None)
        found += [place] if place else []
    return _with_numbers(sheet, found) if found else []


def _with_numbers(sheet: Sheet, found: Sequence[Place]) -> list[Place]:
    """Return the cells found, and every number beside a word: all of it hangs on the one question."""
    rows = {row for row, _, _ in found}
    more: list[Place] = []
    for row in sorted(set(range(sheet.height)) - rows):
        cells = [(i, c) for i, c in enumerate(sheet.row(row)) if c is not None]
        numbers = [(i, c) for i, c in cells if is_amount_number(c)]
        if numbers and any(isinstance(c, str) for _, c in cells):
            more.append((row, *numbers[0]))
    return sorted([*found, *more], key=lambda p: p[:2])


def set_might_be_aside(sheet: Sheet, places: Sequence[Place], out: Gathered) -> None:
    """Set aside the cells that may each be an entry, and say why."""
    message = Text(
        N_("I cannot tell how the entries on this sheet lie, so none of them is counted.")
    )
    hint = Text(N_("Give them headings across the top and a row each, or write holds = \"nothing\" "
                   "for this sheet under [[sheet]] in site.toml."))  # fmt: skip
    set_cells_aside(sheet, [(r, c, as_text(v)[:200]) for r, c, v in places], message, hint, out)


def set_cells_aside(
    sheet: Sheet,
    cells: Sequence[tuple[int, int, str]],
    message: Text,
    hint: Text,
    out: Gathered,
    code: str = "quantity unreadable",
) -> None:
    """Set some cells of a sheet aside (row and column from 0, text), with one finding for all."""
    out.set_aside += [(sheet.file, sheet.name, r + 1, letter(c), t, code) for r, c, t in cells]
    row, column, text = cells[0]
    where = Where(sheet.file, sheet.name, row + 1, letter(column))
    out.findings.append(Finding("refused", code, message, where, hint, text, len(cells)))


def _in_row(sheet: Sheet, row: int, known: Known) -> Place | None:
    cells = [(i, c) for i, c in enumerate(sheet.row(row)) if c is not None]
    said = ", ".join(c for _, c in cells if isinstance(c, str))  # a comma may have cut one text
    if len(cells) <= _CUT and _tells_a_day_and_amount(said, known):
        return row, cells[0][0], said
    amount = next(((i, c) for i, c in cells if isinstance(c, str) and _is_amount(c, known)), None)
    if amount is None or any(isinstance(c, str) and _is_price(c) for _, c in cells):
        return None
    others = [c for i, c in cells if i != amount[0]]
    if any(is_date_head(c) or _is_named(c, known) for c in others):
        return row, amount[0], amount[1]
    return None


def _line(sheet: Sheet, row: int, known: Known) -> Place | None:
    """Return the line of a diary that stands alone in its row, under a day."""
    cells = [(i, c) for i, c in enumerate(sheet.row(row)) if c is not None]
    column, text = cells[0] if len(cells) == 1 else (0, None)
    if not isinstance(text, str):
        return None
    return (row, column, text) if may_count(text, known) else None


def _number_in_row(sheet: Sheet, row: int, known: Known) -> Place | None:
    """Return the bare number of a row that also tells a day and a known name."""
    cells = [(i, c) for i, c in enumerate(sheet.row(row)) if c is not None]
    numbers = [(i, c) for i, c in cells if is_amount_number(c)]
    if not numbers or not any(_is_named(c, known) for _, c in cells):
        return None
    dated = any(is_date_head(c) for _, c in cells)
    return (row, *numbers[0]) if dated else None


def is_amount_number(cell: Cell) -> bool:
    """Return whether a cell is a number that may be an amount, not a telephone's."""
    return isinstance(cell, int | float) and not isinstance(cell, bool) and 0 < cell < _TELEPHONE


def _is_named(cell: Cell, known: Known) -> bool:
    return isinstance(cell, str) and known.names(cell)


def _is_price(text: str) -> bool:
    return any(sign in text for sign in "$€£") and not isinstance(read_money(text), Problem)


def _is_amount(text: str, known: Known) -> bool:
    """Return whether a text is nothing but an amount with its unit or container: "2 totes", "12 lb"."""
    if len(text) > _LONGEST_AMOUNT or not any(c.isdigit() for c in text):
        return False
    plain = bare(even(text))
    if not any(c.isalpha() for c in plain) or not is_amount(text, known) or is_day(text):
        return False
    read = quantity.read_cell(plain, known.trade)
    if isinstance(read, Problem):
        return False
    sized = any(q.container or q.mass_kg is not None or q.volume_m3 is not None for q in read)
    return sized and any(c.isdigit() for c in plain)


def _tells_a_day_and_amount(text: str, known: Known) -> bool:
    """Return whether one text tells a day and then what came: "March 3: School, 2 totes"."""
    if len(text) > _LONGEST or not any(c.isdigit() for c in text):
        return False
    parts = [p.strip() for p in _PARTS.split(text) if p.strip()]
    tokens = parts[0].split() if parts else []
    for size in range(min(len(tokens), 4), 0, -1):
        head = " ".join(tokens[:size])
        if (is_date_head(head) and any(c.isdigit() for c in head)) or _is_weekday(head):
            rest = [" ".join(tokens[size:]), *parts[1:]]
            named = any(_is_named(p, known) for p in rest)
            return any(_counts(p, known) or (named and is_number(p)) for p in rest)
    return False


def _counts(text: str, known: Known) -> bool:
    """Return whether some run of a text's words is an amount: "School 2 totes food scraps"."""
    tokens = text.split()
    starts = [i for i, t in enumerate(tokens) if t[0].isdigit() or t[0] in "½¼¾~"]
    return any(
        _is_amount(" ".join(tokens[i : i + size]), known) for i in starts for size in (1, 2, 3)
    )


def _is_weekday(cell: Cell) -> bool:
    return isinstance(cell, str) and is_weekday(cell)


def _in_calendar(sheet: Sheet, known: Known) -> list[Place]:
    """Return the amounts of a month drawn as a calendar: weekdays across, days and amounts below."""
    top = next(
        (
            r
            for r in range(min(sheet.height, 20))
            if sum(map(_is_weekday, sheet.row(r))) >= _WEEK or week_of(sheet, r)
        ),
        None,
    )
    if top is None:
        return []
    rows = range(top + 1, sheet.height)
    counted = {r: n for r in rows if (n := _days_counted(sheet, r))}
    whole = [r for r, n in counted.items() if n >= _WHOLE]  # a shorter one begins or ends a month
    days = {r for r in counted if r in whole or not whole or not whole[0] < r < whole[-1]}
    found: list[Place] = []
    for row in sorted(set(rows) - days):
        for column, cell in enumerate(sheet.row(row)):
            worded = isinstance(cell, str) and (
                _is_amount(cell, known)
                or _day_and_amount(cell, known)
                or read_line(cell, known) is not None
            )
            if worded or (any(d < row for d in days) and is_amount_number(cell)):
                found.append((row, column, cell))
    return found


def _days_counted(sheet: Sheet, row: int) -> int:
    """Return how many days a row numbers, one more in each column: 3, 4, 5 ...; 0 for any other row."""
    texts = [(i, as_text(c).strip()) for i, c in enumerate(sheet.row(row)) if c is not None]
    numbers = [(i, int(t)) for i, t in texts if t.isdecimal() and int(t) in _DAYS]
    if not numbers or len(numbers) < len(texts):
        return 0
    (left, first), (right, _) = numbers[0], numbers[-1]
    rising = all(n - first == i - left for i, n in numbers)
    return len(numbers) if rising and len(numbers) == right - left + 1 else 0


def _day_and_amount(text: str, known: Known) -> bool:
    """Return whether one square of a calendar holds its day and an amount: "3: 2 totes"."""
    found = re.match(r"\s*(\d{1,2})(?=\D)[\s:.)-]*(.+)", text, re.S)
    return found is not None and int(found[1]) in _DAYS and _counts(found[2], known)
