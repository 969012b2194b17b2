"""The quantity of each row of one group: count, container, fill, volume, mass and what was removed.

A bare number takes its unit from its heading, else from the unit column, else from the table's other
weights, its title, or most of its own column's cells; with none of these it is an unknown unit.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field

import numpy as np
import numpy.typing as npt

from divert.ingest import carry
from divert.ingest.amounts import (
    BLANK,
    NOTHING,
    PROBLEM,
    PROBLEMS,
    UNKNOWN,
    VALUE,
    Amounts,
    Bools,
    Floats,
    Ints,
    Objects,
    blank_numbers,
    blank_texts,
    no_rows,
    read_amounts,
    read_fills,
    read_shares,
    uses_decimal_comma,
)
from divert.ingest.cells import quantity as quantity_cell
from divert.ingest.cells import unit as unit_cell
from divert.ingest.cells.problem import Problem
from divert.ingest.cells.quantity import Quantity
from divert.ingest.cells.unit import Unit
from divert.ingest.columns import Column
from divert.ingest.context import Context
from divert.ingest.known import Known
from divert.ingest.layout import Group, Layout
from divert.ingest.lexicon import bare
from divert.ingest.sheet import Distinct, as_text

UNREADABLE = PROBLEMS.index("quantity unreadable")
NO_UNIT = PROBLEMS.index("unit unknown")
NET_ZERO = PROBLEMS.index("net mass zero or less")


@dataclass
class Measured:
    """The quantities of a stretch of rows, SI; NaN and "" where not said.

    ``state`` as in Amounts; ``problem`` a place in PROBLEMS; ``where`` the column index of the cell
    that settled state or problem; ``asked`` row counts by ambiguous word with the first row.
    """

    count: Floats
    fill: Floats
    volume_m3: Floats
    mass_kg: Floats
    gross_kg: Floats
    removed_kg: Floats
    removed_share: Floats
    number: Floats
    container: Objects
    note: Objects
    state: Ints
    problem: Ints
    where: npt.NDArray[np.int16]
    rank: Ints
    several: dict[int, tuple[Quantity, ...]] = field(default_factory=dict)
    asked: dict[str, Bools] = field(default_factory=dict)
    settled: set[int] = field(default_factory=set)

    def note_asked(self, words: Objects, rows: Bools) -> None:
        """Remember which rows use a word that only site.toml settles."""
        for word in {w for w in words[rows] if w}:
            self.ask(str(word), rows & (words == word))

    def ask(self, word: str, rows: Bools) -> None:
        """Remember that some rows use a word that only site.toml settles."""
        self.asked[word] = self.asked.get(word, no_rows(len(rows))) | rows


def _nothing(rows: int) -> Measured:
    count, fill, volume, mass = (blank_numbers(rows) for _ in range(4))
    gross, removed, share, number = (blank_numbers(rows) for _ in range(4))
    state, problem, rank = (np.zeros(rows, dtype=np.int8) for _ in range(3))
    return Measured(
        count, fill, volume, mass, gross, removed, share, number,
        blank_texts(rows), blank_texts(rows), state, problem, np.zeros(rows, dtype=np.int16), rank,
    )  # fmt: skip


@dataclass(frozen=True)
class Units:
    """A unit column, row by row: kg or m³ in one, or a container's name."""

    mass: Floats
    volume: Floats
    container: Objects
    asked: Objects
    unread: Bools


def _units(column: Column | None, rows: int, known: Known) -> Units:
    if column is None:
        return Units(
            blank_numbers(rows),
            blank_numbers(rows),
            blank_texts(rows),
            blank_texts(rows),
            no_rows(rows),
        )
    cells = _dittoed(column.cells)
    size = len(cells.cells) + 1
    mass, volume = blank_numbers(size), blank_numbers(size)
    container, asked, unread = blank_texts(size), blank_texts(size), no_rows(size)
    for place, cell in enumerate(cells.cells):
        text = as_text(cell)
        ton_in_capitals = text == "T" and known.site.ton != "tonne"
        unit = unit_cell.read_cell("ton" if ton_in_capitals else text, known.trade.meaning)
        if unit is not None and known.containers.find(text) is None:
            (mass if unit.dimension == "mass" else volume)[place] = unit.factor
            asked[place] = unit.asked
        else:
            named = container_of(text, known)
            container[place], unread[place] = named[0], not named[0]
    codes = cells.codes
    return Units(mass[codes], volume[codes], container[codes], asked[codes], unread[codes])


def container_of(text: str, known: Known) -> tuple[str, float, float, float]:
    """Return (name, count, fill, size in m³) of a container cell; the text as found where unknown."""
    own = known.containers.find(text)
    if own is not None:
        return own, np.nan, np.nan, np.nan
    read = quantity_cell.read_cell(text, known.trade)
    if isinstance(read, Problem):
        taken = known.containers.take(bare(text), 0)
        return (taken[0] if taken and taken[1] == len(bare(text)) else text), np.nan, np.nan, np.nan
    one = read[0]
    spoken = text[:1].isdigit() and " " in text and one.count not in (None, 1.0)
    fill = np.nan if one.fill is None else one.fill
    if one.container:
        counted = one.count if spoken and one.count is not None else np.nan
        return one.container, counted, fill, np.nan
    if one.volume_m3 is not None:
        fits = known.containers.of_size(one.volume_m3)
        return (fits or text), np.nan, fill, (np.nan if fits else one.volume_m3)
    return ("" if one.fill is not None else text), np.nan, fill, np.nan


def _dittoed(cells: Distinct) -> Distinct:
    """Return the cells with every ditto mark replaced by what stands above it."""
    marks = carry.dittos(cells)
    if not marks.any():
        return cells
    codes = np.where(marks, -1, cells.codes)
    return Distinct(carry.carried(codes, marks, no_rows(len(codes))), cells.cells)


def decimal_comma(columns: Iterable[Column], known: Known) -> bool:
    """Return whether a table's numbers have a decimal comma, by all its quantity columns together."""
    texts: list[object] = []
    for column in columns:
        texts += [c for c in column.cells.cells if isinstance(c, str)]
    joined = Distinct(np.arange(len(texts)), texts)  # type: ignore[arg-type]
    return uses_decimal_comma(joined, known.trade.comma)


def measure(
    group: Group,
    layout: Layout,
    context: Context,
    known: Known,
    comma: bool,
    table_unit: Unit | None,
) -> Measured:
    """Return the quantities of every row of a group."""
    rows = len(group.first.cells.codes)
    out = _nothing(rows)
    units = _units(layout.shared.get("unit"), rows, known)
    boxes = _boxes(group, layout, context, known, rows)
    trade = known.trade_with(comma)
    for name in ("weight", "gross", "volume", "quantity", "count"):
        for column in group.columns.get(name, ()):
            cells = _dittoed(column.cells)
            amounts = read_amounts(cells, trade, fractions=name in ("count", "quantity"))
            _take(out, name, column, amounts, cells, units, boxes, context, table_unit)
    _put_boxes(out, boxes, group, layout)
    _put_fill(out, group, layout, comma)
    _sized(out, group, layout, known)
    _net(out, group, layout, known, comma, context, table_unit)
    _removed(out, group, layout, known, comma, context, table_unit)
    _settle(out)
    return out


@dataclass(frozen=True)
class _Boxes:
    """Which container each row's count counts, and what its container cell says beside its name."""

    name: Objects
    count: Floats
    fill: Floats
    size_m3: Floats
    any_column: bool
    sized: bool


def _boxes(group: Group, layout: Layout, context: Context, known: Known, rows: int) -> _Boxes:
    column = layout.shared.get("container")
    name, count, fill, size = (
        blank_texts(rows),
        blank_numbers(rows),
        blank_numbers(rows),
        blank_numbers(rows),
    )
    if column is not None:
        cells = _dittoed(column.cells)
        read = [container_of(as_text(c), known) for c in cells.cells]
        marks = [quiet(as_text(c)) for c in cells.cells]
        table = [("", np.nan, np.nan, np.nan) if m else r for r, m in zip(read, marks, strict=True)]
        table.append(("", np.nan, np.nan, np.nan))
        name = np.array([t[0] for t in table], dtype=object)[cells.codes]
        count, fill, size = (
            np.array([t[k] for t in table], dtype=float)[cells.codes] for k in (1, 2, 3)
        )
    said = group.label.container or context.container
    if said:
        name = (
            np.where(name == "", said, name)
            if column is not None
            else np.full(rows, said, dtype=object)
        )
    if group.label.size_m3 is not None:
        size = np.full(rows, group.label.size_m3)
    sized = "size" in layout.shared or "size" in group.columns
    return _Boxes(name, count, fill, size, column is not None, sized)


def quiet(text: str) -> bool:
    """Return whether a cell is a mark that says nothing of its own column."""
    from divert.ingest.cells.mark import read_cell

    return read_cell(text) is not None


def _take(
    out: Measured,
    name: str,
    column: Column,
    amounts: Amounts,
    cells: Distinct,
    units: Units,
    boxes: _Boxes,
    context: Context,
    table_unit: Unit | None,
) -> None:
    """Lay one column's amounts into the rows that have none of that kind yet."""
    number = amounts.number.copy()
    bare_number = ~np.isnan(number)
    if column.heading.unsized:
        amounts.state[bare_number], amounts.problem[bare_number] = PROBLEM, NO_UNIT
        bare_number = no_rows(len(number))
    mass, volume, count = amounts.mass_kg.copy(), amounts.volume_m3.copy(), amounts.count.copy()
    container = (
        np.array(amounts.container, dtype=object)
        if "container" in amounts.says
        else blank_texts(len(number))
    )
    if bare_number.any():
        factor, dimension = _factors(name, column, amounts, units, boxes, context, table_unit, out)
        loose = amounts.loose & bare_number
        as_mass, as_volume = bare_number & (dimension == 1), bare_number & (dimension == 2)
        as_count, unknown = bare_number & (dimension == 3), bare_number & (dimension == 0)
        mass[as_mass] = (number * factor)[as_mass]
        volume[as_volume] = (number * factor)[as_volume]
        count[as_count] = number[as_count]
        named = as_count & (units.container != "")
        container[named] = units.container[named]
        stray = loose & as_count & (container == "") & (boxes.name == "")
        container[stray] = amounts.note[stray]
        zero = unknown & (number == 0)
        amounts.state[zero] = NOTHING
        unknown &= ~zero
        amounts.state[unknown], amounts.problem[unknown] = PROBLEM, NO_UNIT
    each = amounts.each & ~np.isnan(mass)
    if each.any():
        amounts.state[each], amounts.problem[each] = PROBLEM, UNREADABLE
        mass[each] = np.nan
    heavy = np.asarray(amounts.gross | (name == "gross"))
    _lay(out.gross_kg, np.where(heavy, mass, np.nan))
    agree = ~np.isnan(out.mass_kg) & ~np.isnan(mass) & ~heavy
    clash = agree & (np.abs(out.mass_kg - mass) > 0.03 * np.abs(out.mass_kg))
    _lay(out.mass_kg, np.where(heavy, np.nan, mass))
    _lay(out.volume_m3, volume)
    _lay(out.count, count)
    _lay(out.fill, amounts.fill)
    _lay_text(out.container, container)
    if "note" in amounts.says:
        _lay_text(out.note, amounts.note)
    if "asked" in amounts.says:
        out.note_asked(amounts.asked, amounts.state == VALUE)
    out.several |= amounts.several
    sized = ~np.isnan(amounts.volume_m3) & ~np.isnan(amounts.count) & (container == "")
    out.settled |= set(np.flatnonzero(sized).tolist())
    _state(out, column, name, amounts.state, amounts.problem)
    if clash.any():
        out.state[clash], out.problem[clash] = PROBLEM, UNREADABLE


_RANK = np.array([0, 5, 1, 2, 3, 0, 4], dtype=np.int8)  # BLANK, VALUE, NOTHING, CLOSED, UNKNOWN ...
_HELD = 6  # a weight that cannot be read holds its row back, whatever else the row says


def _state(out: Measured, column: Column, name: str, state: Ints, problem: Ints) -> None:
    """Merge one column's states: a value outdoes a mark, and an unreadable weight outdoes a value."""
    rank = _RANK[state]
    if name in ("weight", "gross"):
        rank = np.where(state == PROBLEM, _HELD, rank).astype(np.int8)
    better = rank > out.rank
    out.rank[better] = rank[better]
    out.where[better] = column.index
    out.problem[better] = problem[better]
    out.state[better] = state[better]


def _lay(into: Floats, values: Floats) -> None:
    gap = np.isnan(into)
    into[gap] = values[gap]


def _lay_text(into: Objects, values: Objects) -> None:
    gap = (into == "") & (values != "")
    into[gap] = values[gap]


def _factors(
    name: str,
    column: Column,
    amounts: Amounts,
    units: Units,
    boxes: _Boxes,
    context: Context,
    table_unit: Unit | None,
    out: Measured,
) -> tuple[Floats, Ints]:
    """Return what a bare number of each row is: a factor, and 1 mass, 2 volume, 3 count, 0 unknown."""
    rows = len(amounts.number)
    factor = np.ones(rows)
    dimension = np.zeros(rows, dtype=np.int8)
    bare_number = ~np.isnan(amounts.number)

    def give(where: Bools, value: Floats | float, what: int) -> None:
        open_ = where & (dimension == 0)
        factor[open_] = value[open_] if isinstance(value, np.ndarray) else value
        dimension[open_] = what

    def give_unit(unit: Unit | None, where: Bools) -> None:
        if unit is None:
            return
        if unit.asked:
            out.ask(unit.asked, where & bare_number & (dimension == 0))
        give(where, unit.factor, 1 if unit.dimension == "mass" else 2)

    everywhere = np.ones(rows, dtype=bool)
    heading = column.heading
    give_unit(heading.unit, everywhere)
    if name == "count" and not ((~np.isnan(units.mass)) | (~np.isnan(units.volume))).any():
        give(everywhere, 1.0, 3)
    by_row = ~np.isnan(units.mass) & (dimension == 0)
    out.note_asked(units.asked, bare_number & (by_row | ~np.isnan(units.volume)) & (dimension == 0))
    give(~np.isnan(units.mass), units.mass, 1)
    give(~np.isnan(units.volume), units.volume, 2)
    give(units.container != "", 1.0, 3)
    if name == "count":
        give(everywhere, 1.0, 3)
    if name == "quantity":
        give((boxes.name != "") | boxes.sized, 1.0, 3)
    if name in ("weight", "gross", "quantity"):
        own = _own_unit(amounts)
        if own is not None:
            give(everywhere, own[0], own[1])
    wanted = {"weight": "mass", "gross": "mass", "volume": "volume"}.get(name)
    for unit in (table_unit, context.unit):
        if unit is not None and (wanted is None or unit.dimension == wanted):
            give_unit(unit, everywhere)
    return factor, dimension


def _own_unit(amounts: Amounts) -> tuple[float, int] | None:
    """Return the unit that at least half of a column's cells write out, all the same one."""
    if "unit" not in amounts.says:
        return None
    written = amounts.unit[amounts.unit != ""]
    filled = int((amounts.state == VALUE).sum())
    if len(set(written)) != 1 or len(written) < 0.5 * filled:
        return None
    unit = unit_cell.read_cell(str(written[0]), unit_cell.Meaning())
    if unit is None or unit.asked:
        return None
    return unit.factor, 1 if unit.dimension == "mass" else 2


def _put_boxes(out: Measured, boxes: _Boxes, group: Group, layout: Layout) -> None:
    _lay(out.count, boxes.count)
    _lay(out.fill, boxes.fill)
    counted = set(group.columns) & {"count", "quantity", "weight", "gross", "volume"}
    filled = ~np.isnan(out.fill) & np.isnan(out.count)
    fill_column = layout.shared.get("fill")
    has_fill = fill_column is not None and (fill_column.cells.codes >= 0)
    alone = (
        np.isnan(out.count)
        & np.isnan(out.mass_kg)
        & np.isnan(out.volume_m3)
        & np.isnan(out.gross_kg)
        & (boxes.name != "")
    )
    one_each = alone & (
        filled
        | (has_fill if not counted else no_rows(len(alone)))
        | (not counted and boxes.any_column)
    )
    one_each |= _one_box(out, boxes, layout, counted)
    out.count[one_each] = 1.0
    out.state[one_each & (out.state != PROBLEM)] = VALUE
    told = (
        ~np.isnan(out.count) | ~np.isnan(out.gross_kg) | (boxes.any_column & ~np.isnan(out.mass_kg))
    )
    gap = (out.container == "") & told
    out.container[gap] = boxes.name[gap]
    counted_boxes = ~np.isnan(boxes.count) & (out.state == BLANK)
    out.state[counted_boxes] = VALUE


def _one_box(out: Measured, boxes: _Boxes, layout: Layout, counted: set[str]) -> Bools:
    """Return the rows that weigh one container: its name and fill, or its gross weight, and no count."""
    fill = layout.shared.get("fill")
    told = (
        ~np.isnan(out.gross_kg)
        if fill is None
        else (fill.cells.codes >= 0) | ~np.isnan(out.gross_kg)
    )
    if not boxes.any_column or counted & {"count", "quantity"}:
        return no_rows(len(told))
    weighed = ~np.isnan(out.gross_kg) | ~np.isnan(out.mass_kg)
    return np.asarray(np.isnan(out.count) & weighed & told & (boxes.name != ""))


def _put_fill(out: Measured, group: Group, layout: Layout, comma: bool) -> None:
    column = next(iter(group.columns.get("fill", ())), layout.shared.get("fill"))
    if column is None:
        return
    fills = read_fills(_dittoed(column.cells), comma)
    _lay(out.fill, fills.fill)
    needed = np.isnan(out.mass_kg) & np.isnan(out.gross_kg) & np.isnan(out.volume_m3)
    bad = needed & (fills.state == PROBLEM) & (out.state == VALUE)
    out.state[bad], out.problem[bad], out.where[bad] = PROBLEM, UNREADABLE, column.index
    empty = needed & (out.fill == 0) & (out.state == VALUE)
    out.state[empty] = NOTHING
    sized = [r for r in out.settled if not np.isnan(fills.fill[r])]
    out.volume_m3[sized] *= fills.fill[sized]


def _sized(out: Measured, group: Group, layout: Layout, known: Known) -> None:
    """Use a container's size where the container is none of the site's: count x size x fill."""
    size = blank_numbers(len(out.count))
    column = next(iter(group.columns.get("size", ())), layout.shared.get("size"))
    if group.label.size_m3 is not None:
        size[:] = group.label.size_m3
    if column is not None:
        size = _sizes(column, known)
    boxes = layout.shared.get("container")
    if boxes is not None:
        read = np.array([container_of(as_text(c), known)[3] for c in boxes.cells.cells] + [np.nan])
        size = np.where(np.isnan(size), read[boxes.cells.codes], size)
    for row in np.flatnonzero(~np.isnan(size) & ~np.isnan(out.count) & np.isnan(out.volume_m3)):
        name = str(out.container[row])
        fits = known.containers.of_size(float(size[row]), name or None)
        if known.containers.is_own(name) and (fits is None or fits == name):
            continue
        if fits is not None:
            out.container[row] = fits
        else:
            fill = 1.0 if np.isnan(out.fill[row]) else out.fill[row]
            out.volume_m3[row] = out.count[row] * size[row] * fill


def _sizes(column: Column, known: Known) -> Floats:
    unit = column.heading.unit
    sizes = []
    for cell in column.cells.cells:
        read = quantity_cell.read_cell(cell, known.trade)
        one = None if isinstance(read, Problem) else read[0]
        if one is not None and one.volume_m3 is not None:
            sizes.append(one.volume_m3)
        elif (
            one is not None
            and one.number is not None
            and unit is not None
            and unit.dimension == "volume"
        ):
            sizes.append(one.number * unit.factor)
        elif (
            one is not None
            and one.container
            and (held := known.containers.sizes_m3.get(one.container))
        ):
            sizes.append(held[0])
        else:
            sizes.append(np.nan)
    return np.array([*sizes, np.nan])[column.cells.codes]


def _masses(
    column: Column, known: Known, comma: bool, context: Context, table_unit: Unit | None
) -> Floats:
    """Return a column of plain masses (tare, each) in kg; NaN where it cannot be told."""
    amounts = read_amounts(_dittoed(column.cells), known.trade_with(comma))
    unit = column.heading.unit or table_unit or context.unit
    factor = unit.factor if unit is not None and unit.dimension == "mass" else np.nan
    return np.where(np.isnan(amounts.mass_kg), amounts.number * factor, amounts.mass_kg)


def _net(
    out: Measured,
    group: Group,
    layout: Layout,
    known: Known,
    comma: bool,
    context: Context,
    table_unit: Unit | None,
) -> None:
    """Find the net mass: weighed, else gross less the tare written beside it, else count x each."""
    column = next(iter(group.columns.get("tare", ())), layout.shared.get("tare"))
    has_gross = ~np.isnan(out.gross_kg)
    if column is not None and has_gross.any():
        tare = _masses(column, known, comma, context, table_unit)
        own = {c.name: c.tare_kg for c in known.site.containers if c.tare_kg is not None}
        times = np.ones(len(tare))
        for row in np.flatnonzero(has_gross & ~np.isnan(tare) & (out.count > 1)):
            usual = own.get(str(out.container[row]))
            if usual and abs(tare[row] - usual) <= 0.15 * usual:
                times[row] = out.count[row]  # the tare of one container, as site.toml knows it
        net = out.gross_kg - times * tare
        found = np.isnan(out.mass_kg) & ~np.isnan(net)
        out.mass_kg[found] = net[found]
    weightless = has_gross & (out.mass_kg <= 0) & (out.gross_kg >= 0)
    out.state[weightless], out.problem[weightless] = PROBLEM, NET_ZERO
    out.gross_kg[~np.isnan(out.mass_kg)] = np.nan
    column = next(iter(group.columns.get("each", ())), layout.shared.get("each"))
    if column is not None:
        each = _masses(column, known, comma, context, table_unit) * out.count
        _lay(out.mass_kg, each)


def _removed(
    out: Measured,
    group: Group,
    layout: Layout,
    known: Known,
    comma: bool,
    context: Context,
    table_unit: Unit | None,
) -> None:
    for name in ("removed", "contamination"):
        column = next(iter(group.columns.get(name, ())), layout.shared.get(name))
        if column is None:
            continue
        shares = read_shares(_dittoed(column.cells), known.trade_with(comma))
        mass, part = shares.mass_kg.copy(), shares.share.copy()
        numbers = ~np.isnan(shares.number)
        filled = shares.number[numbers]
        unit = column.heading.unit
        if numbers.any():
            fraction = column.heading.percent or (unit is None and name == "contamination")
            below_one = bool((filled <= 1).all() and (filled % 1 != 0).any())
            if column.heading.percent:
                part[numbers] = filled if below_one else filled / 100
            elif unit is None and fraction and below_one:
                part[numbers] = filled
            else:
                unit = unit or table_unit or context.unit
                known_mass = unit is not None and unit.dimension == "mass"
                if unit is not None and unit.asked:
                    out.ask(unit.asked, numbers)
                factor = unit.factor if unit is not None and known_mass else np.nan
                mass[numbers] = np.where(filled == 0, 0.0, filled * factor)
                unsaid = numbers & np.isnan(mass) & (out.state == VALUE)
                out.state[unsaid], out.problem[unsaid], out.where[unsaid] = (
                    PROBLEM,
                    NO_UNIT,
                    column.index,
                )
        unread = (shares.state == PROBLEM) | (part > 1)
        bad = unread & (out.state == VALUE)
        out.state[bad], out.problem[bad], out.where[bad] = PROBLEM, UNREADABLE, column.index
        _lay(out.removed_kg, mass)
        _lay(out.removed_share, part)
        if "words" in shares.says:
            _add_note(out.note, shares.words)
        if "asked" in shares.says:
            out.note_asked(shares.asked, shares.state == VALUE)


def _add_note(into: Objects, words: Objects) -> None:
    for row in np.flatnonzero(words != ""):
        into[row] = f"{into[row]}; {words[row]}" if into[row] else words[row]


def _settle(out: Measured) -> None:
    """Name rows of nothing but zeros "nothing", and rows with only a fill "no quantity"."""
    amounts = np.stack([out.count, out.mass_kg, out.volume_m3, out.gross_kg])
    said = ~np.isnan(amounts)
    value = out.state == VALUE
    none_said = value & ~said.any(axis=0)
    out.state[none_said] = UNKNOWN
    with np.errstate(invalid="ignore"):
        zero = value & said.any(axis=0) & (np.where(said, amounts, 0) == 0).all(axis=0)
        weightless = value & (out.mass_kg == 0) & (out.count > 0)
    out.state[zero] = NOTHING
    out.state[weightless], out.problem[weightless] = PROBLEM, NET_ZERO
