"""Months drawn as calendars: weekdays across, the numbers of the days, amounts in their squares.

Read only where the month is named, every number stands under the weekday that its day was, and a week
is there with all its days. What nobody could tell in a square is set aside; the others are read.
"""

from __future__ import annotations

import datetime as dt
import re
from collections.abc import Sequence
from dataclasses import dataclass, field, replace

from divert.core.words import N_, Text
from divert.ingest.cells.date import month_words
from divert.ingest.cells.mark import is_total_label
from divert.ingest.known import Known
from divert.ingest.lexicon import bare
from divert.ingest.sheet import Sheet, as_text, is_number
from divert.ingest.tables.context import Context, gather
from divert.ingest.tables.headings import read_heading
from divert.ingest.turned.build import UNSAID, At, Left, Turned, build
from divert.ingest.turned.calendar_grid import Month, Square, is_sum, month_of, squares
from divert.ingest.turned.forms import title_lines
from divert.ingest.turned.line import Line, may_count, read_line
from divert.ingest.turned.quiet import is_quiet
from divert.ingest.turned.weekdays import Week, week_of, weeks_at_the_top

_LONGEST = 2000  # rows; a year of calendars has some 600
_HEADS = ("Date", "Source", "Material", "Quantity")


@dataclass
class _Found:
    """What the calendars of a sheet hold: lines of entries, cells in doubt, what is skipped."""

    lines: list[list[At]] = field(default_factory=list)
    entries: list[int] = field(default_factory=list)
    doubtful: list[At] = field(default_factory=list)
    left: list[Left] = field(default_factory=list)
    spoken: set[int] = field(default_factory=set)


def as_calendars(sheet: Sheet, known: Known, outer: Context, as_of: dt.date) -> Turned | None:
    """Return a sheet of calendars as ordinary tables; None for any other.

    ``outer``: what the names of the sheet and of its file say.
    """
    if not weeks_at_the_top(sheet):
        return None
    tops = [w for r in range(min(sheet.height, _LONGEST)) if (w := week_of(sheet, r))]
    found = _Found()
    titles = _titles(sheet, 0, tops[0].row, known)
    if _filled(sheet, set(range(tops[0].row)) - set(titles)):
        return None
    for place, top in enumerate(tops):
        end, over = sheet.height, list[int]()
        if place + 1 < len(tops):
            over = _titles(sheet, top.row + 1, tops[place + 1].row, known)
            end = min([*over, tops[place + 1].row])
        texts = [t for r in reversed(titles) for c in sheet.row(r) if (t := as_text(c))]
        context = gather(texts, known).under(outer)
        month = _month(sheet, top, end, context, [*texts, sheet.name], known, as_of)
        if month is None or not _take(sheet, month, end, titles, known, found):
            return None
        titles = over
    if not found.entries or len(found.doubtful) > len(found.entries):
        return None
    how = Text(N_("a calendar: each amount under the day in whose square it stands"))
    turned = build(sheet, found.lines, how, heads="none")
    doubts = tuple((a.row, a.column, as_text(a.cell)) for a in found.doubtful)
    return Turned(turned, frozenset(found.spoken), tuple(found.entries), doubts, tuple(found.left))


def _filled(sheet: Sheet, rows: set[int]) -> bool:
    return any(c.codes[r] >= 0 for r in rows for c in sheet.columns)


def _titles(sheet: Sheet, after: int, top: int, known: Known) -> list[int]:
    """Return the rows right above a calendar that speak of it: a few words that count nothing."""
    rows: list[int] = []
    for row in range(top - 1, after - 1, -1):
        cells = [c for c in sheet.row(row) if c is not None]
        words = all(isinstance(c, str) or c in range(2000, 2100) for c in cells)
        if not words or len(cells) > 3 or any(may_count(as_text(c), known) for c in cells):
            break
        rows = [row, *rows] if cells else rows
    return rows


def _month(
    sheet: Sheet,
    week: Week,
    end: int,
    context: Context,
    texts: Sequence[str],
    known: Known,
    as_of: dt.date,
) -> Month | None:
    """Return the month of a calendar: the one named, in the year named or the only one it fits."""
    if context.month is None:
        context = replace(context, month=_month_before_year(texts))
    if context.month is None:
        return None
    years = context.years or range(known.site.started.year, as_of.year + 1)
    fits = [m for y in years if (m := month_of(sheet, week, end, y, context.month))]
    return fits[0] if len(fits) == 1 else None


def _month_before_year(texts: Sequence[str]) -> int | None:
    """Return the month of "May 2023 - food scraps": the year shows that it is one."""
    found = {
        month_words()[word]
        for text in texts for word in re.findall(r"([a-z]+)\.? (?:19|20)\d\d(?!\d)", bare(text))
        if word in month_words()
    }  # fmt: skip
    return found.pop() if len(found) == 1 else None


def _take(
    sheet: Sheet, month: Month, end: int, titles: list[int], known: Known, found: _Found
) -> bool:
    """Take what one calendar holds; False where something in or beside it cannot be told."""
    labels = _labels(sheet, month, known)
    if labels is None or not _sums_beside(sheet, month, known, found):
        return False
    below = set(range(month.end, end))
    if any(not _is_said(sheet, r, known) for r in below if _filled(sheet, {r})):
        return False
    inside = list(squares(sheet, month))
    bare = any(not isinstance(s.said, str) or is_number(s.said) for s in inside)
    if bare and not month.whole:
        return False  # a number may then be an amount, or a day of a week that is not whole
    lines = found.lines
    lines += [[], []] * bool(lines)
    lines += title_lines(sheet, titles, known)
    lines.append([At(text, month.week.row, month.week.spans[0][0]) for text in _HEADS])
    for square in inside:
        line = _line(square, labels.get(square.cell.row, Line("")), month, known)
        if line is None:
            found.doubtful.append(square.cell)
        elif line:
            found.entries.append(len(lines))
            lines.append(line)
        else:
            cell = square.cell
            found.left.append((cell.row, cell.column, as_text(square.said), "note"))
    found.left.append((month.week.row, None, "", "heading"))
    sums = {r for r in range(min(month.rows), end) if is_sum(sheet, r)}
    found.left += [(r, None, "", "total or subtotal") for r in sorted(sums)]
    found.spoken |= {*titles, month.week.row, *sums}
    found.spoken |= {r for r in range(min(month.rows), month.end) if _filled(sheet, {r})}
    return True


def _line(square: Square, label: Line, month: Month, known: Known) -> list[At] | None:
    """Return the line of an entry, one without cells for a note, None where nobody can tell."""
    if (square.day.year, square.day.month) != (month.year, month.month):
        return None  # it may stand on the next month's calendar too
    source, material = label.source, label.material
    amount = square.said
    if isinstance(amount, str) and not is_number(amount):
        read = read_line(amount, known, numbers=True)
        if read is None:
            inside = square.cell == square.number
            return None if may_count(f"1 {amount}" if inside else amount, known) else []
        if (read.source and source) or (read.material and material):
            return None
        source, material, amount = read.source or source, read.material or material, read.amount
    cell = square.cell
    return [
        At(square.day, square.number.row, square.number.column),
        At(source or UNSAID, cell.row, cell.column),
        At(material or UNSAID, cell.row, cell.column),
        At(amount, cell.row, cell.column),
    ]


def _labels(sheet: Sheet, month: Month, known: Known) -> dict[int, Line] | None:
    """Return the source or material left of each row of squares; None where something else stands there."""
    out: dict[int, Line] = {}
    for row in range(month.week.row, month.end):
        cells = [c.at(row) for c in sheet.columns[: month.week.columns.start]]
        for cell in (c for c in cells if c is not None):
            text = as_text(cell)
            source, material = known.sources.find(text), known.materials.find(text)
            numbered = isinstance(cell, int | float) or is_number(text)
            free = row not in month.rows and row not in out
            if free and bool(source) != bool(material):
                out[row] = Line("", source or "", material or "")
            elif (source or material) or not (
                (numbered and row in month.rows) or _is_quiet(as_text(cell), known) or is_sum(sheet, row)
            ):  # fmt: skip
                return None
    return out


def _is_quiet(text: str, known: Known) -> bool:
    return is_quiet(text, known) or read_heading(text, known).field in ("id", "date", "day")


def _sums_beside(sheet: Sheet, month: Month, known: Known, found: _Found) -> bool:
    """Skip the sums that stand right of the squares under their heading; False for anything else."""
    for column in range(month.week.columns.stop, len(sheet.columns)):
        rows = [r for r in range(month.week.row, month.end) if sheet.columns[column].codes[r] >= 0]
        if not rows:
            continue
        head = as_text(sheet.columns[column].at(month.week.row))
        summed = is_total_label(head) or read_heading(head, known).field in ("total", "running")
        for row in rows:
            text = as_text(sheet.columns[column].at(row))
            if row == month.week.row or is_sum(sheet, row):
                continue
            if not summed and not is_quiet(text, known):
                return False
            found.left.append((row, column, text, "total or subtotal" if summed else "note"))
    return True


def _is_said(sheet: Sheet, row: int, known: Known) -> bool:
    """Return whether a row under a calendar is a sum, or words that hold no entry."""
    return is_sum(sheet, row) or all(c is None or is_quiet(c, known) for c in sheet.row(row))
