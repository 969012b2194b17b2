"""Slips: one form an entry, "Date: ... From: ... What: ... Amount: ...", printed again and again.

They stand one under another, side by side, or one on a sheet; what is filled in stands behind the
colon, in the cell beside, or in the one below. A sheet is read as slips only where every cell of it
is a label, what was filled in for one, or words that hold no entry.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from divert.core.words import N_, Text
from divert.ingest.cells.mark import is_total_label
from divert.ingest.cells.unit import read_cell as read_unit
from divert.ingest.grid import Cell
from divert.ingest.known import Known
from divert.ingest.sheet import Sheet, as_text, is_number, is_value
from divert.ingest.tables.heading_rows import is_day
from divert.ingest.tables.heading_words import norm
from divert.ingest.tables.headings import read_heading
from divert.ingest.turned.build import UNSAID, At, Turned, build
from divert.ingest.turned.forms import (
    AMOUNTS,
    DATED,
    NAMED,
    is_example,
    title_lines,
)
from divert.ingest.turned.labels import Labels, label_columns, lanes_of
from divert.ingest.turned.line import may_count
from divert.ingest.turned.quiet import is_quiet

_LEAST = 3  # labels that we know
_NEVER_CARRIED = (*DATED, "source", "material", "container")


@dataclass(frozen=True)
class _Label:
    """A label of a form: where it stands, its text and field, and what is filled in for it."""

    row: int
    column: int
    text: str
    field: str
    value: At
    uses: tuple[tuple[int, int], ...]  # further cells that are part of the value

    @property
    def filled(self) -> bool:
        return self.value.cell not in (None, UNSAID)


def as_slips(sheet: Sheet, known: Known) -> Turned | None:
    """Return a sheet of slips as one ordinary table; None for any other."""
    columns = label_columns(sheet, known)
    lanes = lanes_of(columns)
    slips: list[list[_Label]] = []
    for place, lane in enumerate(lanes):
        end = lanes[place + 1][0] if place + 1 < len(lanes) else len(sheet.columns)
        found = _slips(_labels(sheet, {c: columns[c] for c in lane}, end, known))
        if not found:
            return None
        slips += found
    if not slips or not all(_is_slip(s, known) for s in slips) or is_example(sheet):
        return None
    titles = _titles(sheet, slips, known)
    slips.sort(key=lambda slip: (slip[0].row, slip[0].column))
    return None if titles is None else _turned(sheet, slips, titles, known)


def _labels(sheet: Sheet, lane: Labels, end: int, known: Known) -> list[_Label] | None:
    """Return the labels of slips under one another with what is filled in, in reading order."""
    stops = dict(zip(lane, [*list(lane)[1:], end], strict=True))
    beside = any(
        sheet.columns[c].codes[r] >= 0
        for column, found in lane.items() for r in found for c in range(column + 1, stops[column])
    )  # fmt: skip
    inline = any(s[0].rest or len(s) > 1 for found in lane.values() for s in found.values())
    out: list[_Label] = []
    for column, found in lane.items():
        titles = {sheet.columns[column].at(r) for r in range(min(found))}
        below = -1  # the row of a value that stands under its label
        for row, said in found.items():
            if row == below:
                continue
            inside = [
                _Label(row, column, one.text, one.field, At(one.rest or None, row, column), ())
                for one in said
            ]
            out += inside[:-1]
            label: _Label | None = inside[-1]
            if said[-1].rest or beside or inline:
                label = _with_more(inside[-1], sheet, range(column + 1, stops[column]), known)
            elif (under := _below(sheet, row, column, titles)) is not None:
                below = row + 1 if under.cell is not None else -1
                label = replace(inside[-1], value=under)
            else:
                label = None
            if label is None:
                return None
            out.append(label)
    return sorted(out, key=lambda one: (one.row, one.column))


def _below(sheet: Sheet, row: int, column: int, titles: set[Cell]) -> At | None:
    """Return what stands under a label; None where nobody could tell a value from the next label.

    ``titles``: what stands over the first label, and may stand over the next slip as well.
    """
    own = str(sheet.columns[column].at(row))
    if not own.rstrip().endswith(":"):
        return None
    cell = sheet.columns[column].at(row + 1) if row + 1 < sheet.height else None
    if isinstance(cell, str) and (cell.rstrip().endswith(":") or cell in titles):
        cell = None
    return At(cell, row if cell is None else row + 1, column)


def _with_more(label: _Label, sheet: Sheet, columns: range, known: Known) -> _Label | None:
    """Return a label with what stands in the cells beside it: its value, or the unit of one."""
    places = [c for c in columns if sheet.columns[c].codes[label.row] >= 0]
    value, used = label.value, []
    for c in places:
        cell = sheet.columns[c].at(label.row)
        if value.cell is None:
            value = At(cell, label.row, c)
        elif _is_unit(cell, known) and is_number(as_text(value.cell)) and len(places) <= 2:
            value = replace(value, cell=f"{as_text(value.cell)} {cell}")
            used.append((label.row, c))
        else:
            return None
    return replace(label, value=value, uses=tuple(used))


def _is_unit(cell: Cell, known: Known) -> bool:
    if not isinstance(cell, str):
        return False
    return bool(known.containers.find(cell)) or read_unit(cell, known.trade.meaning) is not None


def _slips(labels: Sequence[_Label] | None) -> list[list[_Label]]:
    """Part the labels at each first one; none where a label comes twice in one slip."""
    if not labels:
        return []
    first = norm(labels[0].text)
    slips: list[list[_Label]] = []
    for label in labels:
        if norm(label.text) == first:
            slips.append([])
        slips[-1].append(label)
    texts = [[norm(one.text) for one in slip] for slip in slips]
    return slips if all(len(set(t)) == len(t) for t in texts) else []


def _is_slip(slip: Sequence[_Label], known: Known) -> bool:
    """Return whether labels make a form for one load, left blank or filled in so that it can be read."""
    fields = {one.field for one in slip}
    if (
        sum(bool(one.field) for one in slip) < _LEAST
        or not fields & set(DATED)
        or not fields & set(AMOUNTS)
    ):
        return False
    if any(is_total_label(one.text) for one in slip):
        return False
    if fields & {"money", "price"}:
        return False  # an invoice
    inside = all((one.value.row, one.value.column) == (one.row, one.column) for one in slip)
    if len({one.row for one in slip}) < 2 and not (inside and any(one.filled for one in slip)):
        return False  # labels side by side are the headings of a table
    if not any(one.filled for one in slip):
        return True
    days = [one.value.cell for one in slip if one.field in DATED and one.filled]
    return all(is_day(d) or isinstance(d, str) for d in days)


def _titles(sheet: Sheet, slips: Sequence[Sequence[_Label]], known: Known) -> list[list[At]] | None:
    """Return the title rows over the first slip; None where something else on the sheet is not told."""
    used = {(one.row, one.column) for s in slips for one in s}
    used |= {(one.value.row, one.value.column) for s in slips for one in s}
    used |= {place for s in slips for one in s for place in one.uses}
    top = min(one.row for s in slips for one in s)
    rest = [
        At(cell, r, c)
        for r in range(sheet.height)
        for c, column in enumerate(sheet.columns)
        if (cell := column.at(r)) is not None and (r, c) not in used
    ]
    over = [one for one in rest if one.row < top]
    if not all(_may_title(one, over, known) for one in over):
        return None
    again = {one.cell for one in over}  # a title printed over each slip
    if any(
        one.row >= top and one.cell not in again and not is_quiet(one.cell, known) for one in rest
    ):
        return None
    lines = title_lines(sheet, sorted({one.row for one in over}), known)
    first = {tuple(one.cell for one in line): line for line in reversed(lines)}
    return [line for line in lines if any(line is kept for kept in first.values())]


def _may_title(one: At, over: Sequence[At], known: Known) -> bool:
    """Return whether a cell over the slips is a title, or what stands behind one such as "Month:"."""
    first = next(other for other in over if other.row == one.row)
    paired = isinstance(first.cell, str) and first.cell.rstrip().endswith(":") and first is not one
    if paired:
        return True
    return isinstance(one.cell, str) and not is_value(one.cell) and not may_count(one.cell, known)


def _turned(
    sheet: Sheet, slips: Sequence[Sequence[_Label]], titles: list[list[At]], known: Known
) -> Turned | None:
    texts = list(dict.fromkeys(norm(one.text) for s in slips for one in s))
    heads = {norm(one.text): one for s in reversed(slips) for one in s}
    filled = [s for s in slips if any(one.filled for one in s)]
    if not filled or not _certain(filled, known):
        return None
    lines: list[list[At]] = [
        *titles,
        [At(heads[t].text, heads[t].row, heads[t].column) for t in texts],
    ]
    first = len(lines)
    for slip in filled:
        own = {norm(one.text): one for one in slip}
        lines.append([_cell(own.get(t), slip[0], heads[t].field) for t in texts])
    how = Text(N_("slips, each of them an entry: {count}"), {"count": len(filled)})
    spoken = {one.row for s in slips for one in s} | {one.value.row for s in slips for one in s}
    turned = build(sheet, lines, how, heads="among")
    return Turned(
        turned, frozenset(spoken | {t[0].row for t in titles if t}), tuple(range(first, len(lines)))
    )


def _cell(label: _Label | None, first: _Label, field: str) -> At:
    if label is None or not label.filled:
        place = label or first
        return At(UNSAID if field in _NEVER_CARRIED else None, place.row, place.column)
    return label.value


def _certain(slips: Sequence[Sequence[_Label]], known: Known) -> bool:
    """Return whether the slips are of loads: their days are days, and most say what came, or from whom."""
    said = [{one.field: one.value.cell for one in s if one.filled} for s in slips]
    days = [cell for s in said for f, cell in s.items() if f in DATED]
    amounts = sum(bool(set(s) & set(AMOUNTS)) for s in said)
    named = any(set(s) & set(NAMED) for s in said) or any(
        read_heading(one.text, known).label for s in slips for one in s if one.field in AMOUNTS
    )
    return (
        bool(days)
        and 2 * sum(map(is_day, days)) >= len(days)
        and 2 * amounts >= len(said)
        and named
    )
