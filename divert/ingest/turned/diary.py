"""Diaries: a day, then lines of what came, "Two totes of food scraps from Lantern Row"; or both in one.

A line is read where nothing in it had to be guessed (divert.ingest.turned.line). One that may hold an
entry and cannot be read is set aside; where more of them are than are read, the sheet is no diary.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field

from divert.core.words import N_, Text
from divert.ingest.cells import quantity
from divert.ingest.cells.date import month_words, weekday_words
from divert.ingest.cells.date import read_cell as read_date
from divert.ingest.cells.mark import is_total_label, read_cell, read_start
from divert.ingest.cells.problem import Problem
from divert.ingest.grid import Cell
from divert.ingest.known import Known
from divert.ingest.lexicon import bare
from divert.ingest.sheet import Sheet, as_text
from divert.ingest.tables.context import Context, gather
from divert.ingest.turned.build import UNSAID, At, Left, Turned, at, build
from divert.ingest.turned.line import may_count, read_line

_MOST_ROWS = 5000
_MOST_COLUMNS = 26
_FIRST = 60  # filled rows in which a diary's first entry must stand
_DATE_WORDS = 6  # "Monday the 3rd of March 2025"
_YEAR = re.compile(r"(?:19|20)\d\d")
_HEADS = ("Date", "Source", "Material", "Quantity")


@dataclass
class _Found:
    """What has been read of a diary so far.

    ``day``: the cell that says the day of the lines to come. ``source``: the one that a row of its own
    names for the lines under it, up to the next day where such rows stand under days (``by_day``).
    ``named``: what any row of its own names; a line that does not say it is then in doubt.
    """

    lines: list[list[At]] = field(default_factory=list)
    doubtful: list[tuple[int, int, str]] = field(default_factory=list)
    left: list[Left] = field(default_factory=list)
    titles: list[list[At]] = field(default_factory=list)
    spoken: set[int] = field(default_factory=set)
    day: At | None = None
    source: str = ""
    by_day: bool = False
    named: set[str] = field(default_factory=set)


def as_diary(sheet: Sheet, known: Known, outer: Context) -> Turned | None:
    """Return a diary as an ordinary table, or None where a sheet is none that can be read.

    ``outer``: what the names of the sheet and of its file say.
    """
    if sheet.height > _MOST_ROWS or len(sheet.columns) > _MOST_COLUMNS:
        return None
    found, rows = _Found(), 0
    for row in range(sheet.height):
        cells = [at(sheet, row, c) for c in range(len(sheet.columns))]
        filled = [one for one in cells if one.cell is not None]
        if filled:
            _take(filled, found, known)
            rows += 1
        if rows > _FIRST and not found.lines:
            return None
    said = gather([as_text(c.cell) for line in found.titles for c in line], known).under(outer)
    named = any(one.cell != UNSAID for line in found.lines for one in line[1:3])
    came = [one for one in found.lines if read_start(as_text(one[3].cell)) is None]
    if not came or len(found.doubtful) > len(came):
        return None
    if not (named or said.source or said.material):
        return None
    head = found.lines[0][0]
    heads = [At(text, head.row, head.column) for text in _HEADS]
    over = [*found.titles, []] if found.titles else []
    first = len(over) + 1
    how = Text(N_("a diary: each line with an amount under its day"))
    turned = build(sheet, [*over, heads, *found.lines], how, heads="none")
    entries = tuple(range(first, first + len(found.lines)))
    return Turned(
        turned, frozenset(found.spoken), entries, tuple(found.doubtful), tuple(found.left)
    )


def _take(cells: list[At], found: _Found, known: Known) -> None:
    """Take one row of a diary: a day, a line of that day, both, or words."""
    first, row = cells[0], cells[0].row
    text = ", ".join(as_text(one.cell) for one in cells)
    if any(is_total_label(as_text(one.cell)) for one in cells):
        found.left.append((row, None, "", "total or subtotal"))
        found.spoken.add(row)
    elif _several(cells, known):
        found.doubtful.append((row, first.column, text))
        found.spoken.add(row)
    elif says_day(first.cell):
        _begin(first, found)
        if len(cells) > 1:
            rest = ", ".join(as_text(one.cell) for one in cells[1:])
            _line(rest, cells[1], found, known)
        else:
            found.left.append((row, None, "", "heading"))
            found.spoken.add(row)
    elif begun := day_begun(text):
        day, rest = _part(begun, known)
        _begin(None if day is None else At(day, row, first.column), found)
        if _names(rest, found, known):
            found.left.append((row, None, "", "heading"))
            found.spoken.add(row)
        else:
            _line(rest, first, found, known)
    elif _names(text, found, known):
        found.spoken.add(row)
        if found.by_day or found.lines:
            found.left.append((row, None, "", "heading"))
        else:
            found.titles += [[one] for one in cells]
    elif found.day is None and not found.lines and not may_count(text, known):
        found.titles.append(cells)
        found.spoken.add(row)
    else:
        _line(text, first, found, known)


def _several(cells: list[At], known: Known) -> bool:
    """Return whether amounts in one kind of box, or of one measure, stand in several cells of a row."""
    read = (quantity.read_cell(as_text(one.cell), known.trade) for one in cells if one.cell)
    told = [one[0] for one in read if not isinstance(one, Problem)]
    kinds = [(one.container, one.mass_kg is None, one.volume_m3 is None) for one in told]
    measured = [kind for kind in kinds if kind != ("", True, True)]
    return len(set(measured)) < len(measured)


def _begin(day: At | None, found: _Found) -> None:
    found.day = day
    if found.by_day:
        found.source = ""


def _names(text: str, found: _Found, known: Known) -> bool:
    """Take a row that names nothing but a source or a material, for the lines under it."""
    name = text.rstrip(" :")
    source = known.sources.find(name)
    if source is None:
        if known.materials.find(name) is None:
            return False
        found.named.add("material")
        return True
    if not found.named:
        found.by_day = found.day is not None
    elif not found.by_day:
        found.day = None
    found.named.add("source")
    found.source = source
    return True


def _line(text: str, cell: At, found: _Found, known: Known) -> None:
    """Take a line of the day that holds: an entry, one in doubt, or a note."""
    line = read_line(text, known)
    if line is None and read_cell(text) in ("unknown", "ditto"):
        found.day = None  # it may stand for a day
    source = line.source or found.source if line is not None else ""
    said = {n for n, text in (("source", source), ("material", line and line.material)) if text}
    if line is None or found.day is None or not found.named <= said:
        if line is not None or may_count(text, known):
            found.doubtful.append((cell.row, cell.column, text))
            found.spoken.add(cell.row)
        if line is None and _speaks_of_days(text, may_count(text, known)):
            found.day = None  # "Tuesday": the lines under it are of another day
        return
    found.spoken.add(cell.row)
    found.lines.append([
        found.day,
        At(source or UNSAID, cell.row, cell.column),
        At(line.material or UNSAID, cell.row, cell.column),
        At(line.amount, cell.row, cell.column),
    ])  # fmt: skip


def says_day(cell: Cell) -> bool:
    """Return whether a cell says a day of a month, and nothing more."""
    if isinstance(cell, int | float) or (
        isinstance(cell, str) and not cell.isascii() and set(cell) & set("½¼¾")
    ):
        return False
    read = read_date(cell)
    return not isinstance(read, Problem) and any(d.day is not None for _, d in read.readings)


def day_begun(text: str) -> list[tuple[str, str]]:
    """Return the ways in which a text begins with a day, the longest first: the day, and the rest."""
    tokens = text.split()
    found: dict[str, str] = {}
    for size in range(min(len(tokens) - 1, _DATE_WORDS), 0, -1):
        head = " ".join(tokens[:size]).rstrip(" :,;-–—.")
        shorter = " ".join(tokens[: size - 1]).rstrip(",")
        if tokens[size - 1].isdecimal() and len(tokens[size - 1]) < 3 and says_day(shorter):
            continue  # "March 3 20 ...": a year, or an amount?
        worded = any(c.isalpha() for c in head) or _YEAR.search(head)
        set_off = tokens[size - 1].endswith(":") or tokens[size] in ("-", "–", "—", ":")
        if says_day(head) and (worded or set_off):  # "3/4 tote" is no day
            found[head] = " ".join(tokens[size:]).lstrip(" :,;-–—")
    return list(found.items())


def _part(begun: list[tuple[str, str]], known: Known) -> tuple[str | None, str]:
    """Return the day and the rest of a line; no day where it may be parted in two ways."""
    read = [one for one in begun if read_line(one[1], known) is not None]
    ways = {(str(read_date(day)), read_line(rest, known)) for day, rest in read}
    if len(ways) > 1:
        return None, begun[-1][1]
    return read[-1] if read else begun[0]


def _speaks_of_days(text: str, counts: bool) -> bool:
    """Return whether words may name another day than the one above: "Tuesday", "the week after", "4".

    ``counts``: they count something, so that a number of theirs is no day's.
    """
    tokens = [bare(t).strip(".,:;()") for t in text.split()]
    days = {*weekday_words(), *month_words(), "week", "semaine", "next", "day", "jour"}
    return any(t in days or (t.isdecimal() and not counts) for t in tokens)
