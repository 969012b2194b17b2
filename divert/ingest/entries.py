"""One table's rows as entries, set-aside rows and skipped rows: every row accounted for once."""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field

import numpy as np
import numpy.typing as npt

from divert.findings import Finding, Where
from divert.ingest import carry, totals
from divert.ingest.amounts import CLOSED, NOTHING, PROBLEM, PROBLEMS, UNKNOWN, VALUE
from divert.ingest.cells import mark
from divert.ingest.cells.date import Order
from divert.ingest.cells.fill import read_note
from divert.ingest.cells.unit import Unit
from divert.ingest.coded import Coded, Part, constant, of_cells, of_texts
from divert.ingest.columns import Column
from divert.ingest.context import Context
from divert.ingest.dates import NAT, Parsed
from divert.ingest.found_text import found_texts
from divert.ingest.known import Known, row_kinds
from divert.ingest.layout import Group, Layout
from divert.ingest.measure import Measured, decimal_comma, measure
from divert.ingest.other_kinds import activity_part, fuel_part, sale_numbers
from divert.ingest.rows import Rows, classify, spread_section
from divert.ingest.say import refused
from divert.ingest.sheet import Sheet, as_text
from divert.ingest.tables import Table
from divert.ingest.things import carried_cells, condition, named, only_known
from divert.ingest.when import When, when
from divert.names import plain

Bools = npt.NDArray[np.bool_]
Objects = npt.NDArray[np.object_]
NEEDS_MATERIAL = ("intake", "weigh-in", "moved", "harvest")
_MANY = 12  # refused rows of one cause and column beyond this are said in one finding


@dataclass
class Gathered:
    """What reading adds up: parts of the ledger, rows set aside, rows skipped, findings, asked words."""

    parts: list[Part] = field(default_factory=list)
    set_aside: list[tuple[str, str, int, str, str, str]] = field(default_factory=list)
    skipped: list[tuple[str, str, int, str, str, str, np.datetime64]] = field(default_factory=list)
    findings: list[Finding] = field(default_factory=list)
    asked: dict[str, tuple[int, Where, str]] = field(default_factory=dict)
    by_site_dates: list[tuple[int, Where, str]] = field(default_factory=list)
    sourceless: dict[str, tuple[int, Where]] = field(default_factory=dict)


@dataclass(frozen=True)
class Reading1:
    """Everything one table is read with."""

    sheet: Sheet
    table: Table
    columns: tuple[Column, ...]
    layout: Layout
    kind: str
    context: Context
    known: Known
    as_of: dt.date
    parsed: Parsed | None
    order: Order | None

    __hash__ = object.__hash__


@dataclass(frozen=True)
class Counted:
    """How many entries of a table were seen, by what became of them."""

    used: int
    set_aside: int
    skipped: int


def read_entries(job: Reading1, out: Gathered) -> Counted:
    """Read one table into what is gathered; returns how many entries became what."""
    before = (sum(p.size for p in out.parts), len(out.set_aside), len(out.skipped))
    rows = classify(job.columns, job.table, job.context, job.known)
    merged = _merged(job)
    dated = when(
        job.layout.shared, job.parsed, rows, merged, job.context, job.known, job.as_of, job.order
    )
    shared = _Shared(job, rows, dated, merged)
    comma = decimal_comma(
        [c for g in job.layout.groups for cs in g.columns.values() for c in cs], job.known
    )
    unit = _table_unit(job.layout)
    measured = [
        measure(g, job.layout, job.context, job.known, comma, unit) for g in job.layout.groups
    ]
    summed = totals.arithmetic(rows, dated, job.layout, measured)
    rows.reason[summed] = "total or subtotal"
    answered = np.zeros(len(rows.reason), dtype=bool)
    for group, amounts in zip(job.layout.groups, measured, strict=True):
        answered |= _group_entries(job, group, amounts, rows, dated, shared, out)
    _leftover_rows(job, rows, dated, shared, answered, out)
    _total_cells(job, rows, out)
    after = (sum(p.size for p in out.parts), len(out.set_aside), len(out.skipped))
    return Counted(*(a - b for a, b in zip(after, before, strict=True)))


def _merged(job: Reading1) -> dict[str, Bools]:
    size = job.table.end - job.table.first
    return {
        name: carry.merged_rows(job.sheet.merged, c.index, job.table.first, size)
        for name, c in job.layout.shared.items()
    }


def _table_unit(layout: Layout) -> Unit | None:
    """Return the unit of mass that the table's other headings name, where they all name one."""
    columns = [
        c
        for g in layout.groups
        for f, cs in g.columns.items()
        if f in ("weight", "gross", "each", "quantity")
        for c in cs
    ]
    units = {
        u.name: u for c in columns if (u := c.heading.unit) is not None and u.dimension == "mass"
    }
    return next(iter(units.values())) if len(units) == 1 else None


class _Shared:
    """What a row says for all its groups: source, material, fate, notes."""

    def __init__(self, job: Reading1, rows: Rows, dated: When, merged: dict[str, Bools]) -> None:
        self.job, self.rows, self.dated, self.merged = job, rows, dated, merged
        self.size = len(rows.reason)
        known = job.known
        self.source = self._thing("source", known.sources.find, job.context.source, rows.sources)
        materials = (
            "product"
            if "product" in job.layout.shared and "material" not in job.layout.shared
            else "material"
        )
        self.material = self._thing(
            materials, known.materials.find, job.context.material, rows.materials
        )
        if (
            self.job.kind in ("residue", "removed", "disposed", "rejected")
            and "material" not in job.layout.shared
        ):
            self.material = constant("", self.size)
        self.condition = self._plain("condition", condition(known))
        self.destination = self._plain("destination", lambda t: t)
        self.before, strange = self._fates()
        self.status = self._status()
        self.kind = self._kinds()
        self.notes = self._notes(strange)
        self.start_mark = self._start_marks()

    def _thing(
        self, name: str, find: Callable[[str], str | None], outer: str, sections: dict[int, str]
    ) -> Coded:
        column = self.job.layout.shared.get(name)
        out = constant("", self.size)
        if column is not None:
            anew = None
            date = self.job.layout.shared.get("date")
            if date is not None and self.dated.grouped and date.index < column.index:
                anew = self.dated.own
            cells = carried_cells(column, self.rows.open, self.rows.reason == "blank",
                                  self.merged.get(name, np.zeros(self.size, dtype=bool)), anew)  # fmt: skip
            out = named(cells, find)
        if sections:
            out = out.filled(of_texts(spread_section(self.size, sections)))
        return out.filled(constant(outer, self.size)) if outer else out

    def _plain(self, name: str, find: Callable[[str], str | None]) -> Coded:
        column = self.job.layout.shared.get(name)
        if column is None:
            return constant("", self.size)
        cells = carried_cells(column, np.zeros(self.size, dtype=bool), np.zeros(self.size, dtype=bool),
                              self.merged.get(name, np.zeros(self.size, dtype=bool)))  # fmt: skip
        return named(cells, find)

    def _fates(self) -> tuple[Coded, Coded | None]:
        column = self.job.layout.shared.get("before")
        if column is None:
            return constant("", self.size), None
        cells = carried_cells(column, np.zeros(self.size, dtype=bool), np.zeros(self.size, dtype=bool),
                              self.merged.get("before", np.zeros(self.size, dtype=bool)))  # fmt: skip
        return only_known(cells, self.job.known.befores.find)

    def _status(self) -> Coded:
        """Return "rejected" or "void" for the rows that a status column or a note says so of."""
        out = constant("", self.size)
        column = self.job.layout.shared.get("status")
        if column is not None:
            asks = plain(column.head.text)
            yes = "rejected" if asks.startswith(("reject", "refus", "rejete")) else ""
            no = "rejected" if asks.startswith(("accept", "ok")) else ""

            def read(cell: object) -> str:
                text = as_text(cell) if isinstance(cell, str | int | float) else ""
                said = mark.read_start(text)
                if said in ("rejected", "void"):
                    return str(said)
                answer = plain(text)
                if answer in ("yes", "y", "true", "oui", "o", "x", "1"):
                    return yes
                return no if answer in ("no", "n", "false", "non", "0") else ""

            out = of_cells(column.cells, read)
        for column in self.job.layout.notes:
            said = of_cells(column.cells, _said_in_note)
            out = out.filled(said)
        return out

    def _kinds(self) -> Coded | None:
        column = self.job.layout.shared.get("kind")
        return (
            None
            if column is None
            else of_cells(column.cells, lambda c: row_kinds().get(plain(as_text(c)), ""))
        )

    def _notes(self, strange: Coded | None) -> Objects | None:
        columns = list(self.job.layout.notes)
        texts = [of_cells(c.cells, as_text).texts() for c in columns]
        if strange is not None and len(strange.names):
            texts.append(strange.texts())
        if not texts:
            return None
        out = texts[0].copy()
        for more in texts[1:]:
            for row in np.flatnonzero(more != ""):
                out[row] = f"{out[row]}; {more[row]}" if out[row] else more[row]
        return out

    def _start_marks(self) -> Coded:
        """Return the mark that any text cell of a row begins with, notes last."""
        out = constant("", self.size)
        quiet = ("date", "by", "id", "time", "weekday")
        ordered = sorted(self.job.columns, key=lambda c: c.field == "note")
        for column in ordered:
            if column.field in quiet:
                continue
            texts = [c for c in column.cells.cells if isinstance(c, str)]
            if texts:
                out = out.filled(
                    of_cells(
                        column.cells,
                        lambda c: mark.read_start(c) or "" if isinstance(c, str) else "",
                    )
                )
        return out.where(self.dated.closed, constant("closed", self.size))


def _said_in_note(cell: object) -> str:
    said = mark.read_start(cell) if isinstance(cell, str) else None
    return str(said) if said in ("rejected", "void") else ""


def _group_entries(
    job: Reading1,
    group: Group,
    amounts: Measured,
    rows: Rows,
    dated: When,
    shared: _Shared,
    out: Gathered,
) -> Bools:
    """Take one group's entries; returns the rows that had one (used, set aside or skipped)."""
    if job.kind == "activity":
        part, taken = activity_part(job, group, rows, dated, shared.notes)
        return _take_part(job, group, part, taken, rows, dated, out)
    size = len(rows.reason)
    open_rows = rows.open.copy()
    for column in group.only_where_blank:
        open_rows &= column.cells.codes < 0
    days = _days(group, dated, job)
    material = constant(group.label.material, size).filled(shared.material)
    if job.kind != "fuel":
        material = _material_from_notes(material, amounts, job)
    source = constant(group.label.source, size).filled(shared.source)
    status = shared.status
    state = amounts.state
    void = open_rows & (state != 0) & (status.texts() == "void")
    value = open_rows & (state == VALUE) & ~void
    reject_text = (
        np.array(["reject" in str(n) or "refus" in str(n) for n in amounts.note])
        if (amounts.note != "").any()
        else np.zeros(size, dtype=bool)
    )
    rejected = value & ((status.texts() == "rejected") | reject_text)
    code = np.full(size, "", dtype=object)
    code[open_rows & (state == PROBLEM)] = "problem"
    code[open_rows & (state == UNKNOWN)] = "no quantity"
    code[void] = "void"
    kinds = _entry_kinds(job, shared, rejected, size)
    if any(job.kind == k for k in NEEDS_MATERIAL):
        missing = value & (material.codes < 0) & ~rejected
        code[missing] = "no material"
    _date_codes(code, value | (code == "problem") | (code == "no quantity"), days, dated, job)
    used = np.flatnonzero(value & (code == ""))
    _use(job, group, amounts, used, days, material, source, kinds, shared, out)
    _set_aside(job, group, amounts, code, dated, out)
    for row in np.flatnonzero(open_rows & ((state == NOTHING) | (state == CLOSED)) & (code == "")):
        _skip(
            job,
            int(row),
            group.first,
            "closed" if state[row] == CLOSED else "nothing delivered",
            days[row],
            out,
        )
    for row in np.flatnonzero(void):
        _skip(job, int(row), group.first, "correction", days[row], out)
    _ask(job, amounts, value & (code == ""), group, out)
    by_site = dated.by_site & value & (code == "")
    if by_site.any():
        first = int(np.flatnonzero(by_site)[0])
        column = job.layout.shared["date"]
        out.by_site_dates.append(
            (int(by_site.sum()), _where(job, first, column), _text_at(column, first))
        )
    return np.asarray(open_rows & (state != 0))


def _take_part(
    job: Reading1,
    group: Group,
    part: Part | None,
    taken: dict[str, Bools],
    rows: Rows,
    dated: When,
    out: Gathered,
) -> Bools:
    """Gather the entries of a kind that is read by itself, and its rows left out."""
    answered = np.zeros(len(rows.reason), dtype=bool)
    if part is not None:
        out.parts.append(part)
    for what, mask in taken.items():
        answered |= mask
        if what == "used":
            continue
        for row in np.flatnonzero(mask):
            if what in ("closed", "nothing delivered"):
                _skip(job, int(row), group.first, what, dated.days[row], out)
            else:
                _refuse_one(job, int(row), group.first, what, out)
    return answered


def _days(group: Group, dated: When, job: Reading1) -> npt.NDArray[np.datetime64]:
    label = group.label
    if label.day is not None:
        from divert.ingest.cells.date import as_date
        from divert.ingest.dates import _only_year

        found = as_date(_only_year(label.day, job.context, job.known.site, job.as_of))
        return np.full(len(dated.days), NAT if found is None else np.datetime64(found, "D"))
    if label.weekday is None:
        return dated.days
    weekday = (dated.days.astype("int64") + 3) % 7  # 1970-01-01 was a Thursday
    column = job.layout.shared.get("date")
    ends = column is not None and any(w in plain(column.head.text) for w in ("ending", "fin"))
    ahead = (label.weekday - weekday) % 7
    back = (weekday - label.weekday) % 7
    moved = dated.days - back if ends else dated.days + ahead
    return np.where(np.isnat(dated.days), NAT, moved).astype("datetime64[D]")


def _material_from_notes(material: Coded, amounts: Measured, job: Reading1) -> Coded:
    """Take "food scraps" of "3 totes food scraps" for the material, where no column names it."""
    gaps = material.codes < 0
    if not gaps.any():
        return material
    if (amounts.note != "").any():
        found = of_texts(np.where(gaps, amounts.note, "").astype(object))
        names = [job.known.materials.find(n) or "" for n in found.names]
        texts = np.array([*names, ""], dtype=object)[found.codes]
        amounts.note[texts != ""] = ""
        material = material.filled(of_texts(texts))
    only = list(dict.fromkeys(m.name for m in job.known.site.materials))
    no_column = "material" not in job.layout.shared and "product" not in job.layout.shared
    if len(only) == 1 and no_column and job.kind in ("intake", "weigh-in"):
        material = material.filled(constant(only[0], len(material.codes)))
    return material


def _entry_kinds(job: Reading1, shared: _Shared, rejected: Bools, size: int) -> Coded:
    kinds = constant(job.kind, size)
    if shared.kind is not None:
        kinds = kinds.where(shared.kind.codes >= 0, shared.kind)
    if job.kind == "intake":
        moved = shared.before.texts() == "moved on site"
        kinds = kinds.where(moved, constant("moved", size)) if moved.any() else kinds
        kinds = kinds.where(rejected, constant("rejected", size)) if rejected.any() else kinds
    return kinds


def _date_codes(
    code: Objects, rows: Bools, days: npt.NDArray[np.datetime64], dated: When, job: Reading1
) -> None:
    missing = rows & np.isnat(days)
    code[missing] = "no date"
    code[missing & (dated.problem == "no year")] = "no year"
    code[missing & (dated.problem == "ambiguous")] = "date order ambiguous"
    fine = rows & ~np.isnat(days)
    code[fine & (days > np.datetime64(job.as_of, "D"))] = "date in the future"
    code[fine & (days < np.datetime64(job.known.site.started, "D"))] = "date before the start"


def _use(
    job: Reading1,
    group: Group,
    amounts: Measured,
    used: npt.NDArray[np.int64],
    days: npt.NDArray[np.datetime64],
    material: Coded,
    source: Coded,
    kinds: Coded,
    shared: _Shared,
    out: Gathered,
) -> None:
    if not len(used):
        return
    texts = {
        "kind": kinds, "source": source, "material": material, "condition": shared.condition,
        "before": shared.before, "destination": shared.destination,
    }  # fmt: skip
    numbers = {
        "count": amounts.count, "fill": amounts.fill, "volume_m3": amounts.volume_m3,
        "mass_kg": amounts.mass_kg, "gross_kg": amounts.gross_kg,
        "removed_kg": amounts.removed_kg, "removed_share": amounts.removed_share,
    }  # fmt: skip
    note = _note(amounts, shared)
    texts["container"] = of_texts(amounts.container)
    _fill_from_notes(job, amounts, used)
    if job.kind == "sale":
        texts["name"] = material
        texts["currency"], texts["unit"], numbers["amount"] = sale_numbers(job, group, amounts)
        texts.pop("material")
    if job.kind == "fuel":
        part = fuel_part(job, group, amounts, used, days, note)
        out.parts.append(part)
        return
    if job.kind in ("harvest", "disposed", "fuel", "sale"):
        texts.pop("source")
    found = found_texts(group, job.layout, amounts)
    part = Part(
        len(used),
        days[used],
        used + job.table.first + 1,
        {k: v.take(used) for k, v in texts.items()} | _place(job, group, amounts.where[used]),
        {k: v[used] for k, v in numbers.items()},
        {"found": found[used]} | ({} if note is None else {"note": note[used]}),
    )
    if amounts.several:
        part = _several(part, amounts, used, job)
    out.parts.append(part)
    _source_asked(job, group, kinds, source, used, out)


def _fill_from_notes(job: Reading1, amounts: Measured, used: npt.NDArray[np.int64]) -> None:
    """Take a note that says nothing but "half full" for the fill, where no column says it."""
    for column in job.layout.notes:
        fills = [
            read_note(c) if isinstance(c, str) and len(c) <= 30 else None
            for c in column.cells.cells
        ]
        if not any(f is not None for f in fills):
            continue
        said = np.array([*(np.nan if f is None else f for f in fills), np.nan])[column.cells.codes]
        gap = np.isnan(amounts.fill) & ~np.isnan(amounts.count) & ~np.isnan(said)
        rows = used[gap[used]]
        amounts.fill[rows] = said[rows]


def _place(job: Reading1, group: Group, where: npt.NDArray[np.int16]) -> dict[str, Coded]:
    """Return file, sheet and the letter of the cell that says how much."""
    size = len(where)
    letters = {c.index: c.letter for cs in group.columns.values() for c in cs}
    letters |= {c.index: c.letter for c in job.layout.shared.values() if c.index not in letters}
    indices = sorted(letters)
    place = np.full(max(indices) + 1, -1, dtype=np.int64)
    place[indices] = np.arange(len(indices))
    return {
        "file": constant(job.sheet.file, size),
        "sheet": constant(job.sheet.name, size),
        "column": Coded(place[where], [letters[i] for i in indices]),
    }


def _note(amounts: Measured, shared: _Shared) -> Objects | None:
    spoken = (amounts.note != "").any()
    if shared.notes is None:
        return amounts.note if spoken else None
    if not spoken:
        return shared.notes
    out = shared.notes.copy()
    for row in np.flatnonzero(amounts.note != ""):
        out[row] = f"{amounts.note[row]}; {out[row]}" if out[row] else amounts.note[row]
    return out


def _several(part: Part, amounts: Measured, used: npt.NDArray[np.int64], job: Reading1) -> Part:
    """Give each quantity of a cell that names several its own entry, on the same row."""
    place = {int(row): i for i, row in enumerate(used)}
    repeat = np.ones(part.size, dtype=np.int64)
    alone = {
        r: q for r, q in amounts.several.items() if r in place and np.isnan(amounts.mass_kg[r])
    }
    for row, quantities in alone.items():
        repeat[place[row]] = len(quantities)
    take = np.repeat(np.arange(part.size), repeat)
    texts = {k: v.take(take) for k, v in part.texts.items()}
    numbers = {k: v[take].copy() for k, v in part.numbers.items()}
    free = {k: v[take].copy() for k, v in part.free.items()}
    container, material = (
        texts["container"].texts().copy(),
        texts.get("material", constant("", len(take))).texts().copy(),
    )
    first = np.concatenate([[0], np.cumsum(repeat)[:-1]])
    for row, quantities in alone.items():
        for i, quantity in enumerate(quantities):
            at = int(first[place[row]]) + i
            for name in ("count", "fill", "volume_m3", "mass_kg"):
                value = getattr(quantity, name)
                numbers[name][at] = (
                    numbers["fill"][at]
                    if value is None and name == "fill"
                    else (np.nan if value is None else value)
                )
            container[at] = quantity.container
            meant = job.known.materials.find(quantity.note) if quantity.note else None
            if meant:
                material[at] = meant
            elif quantity.note and "note" in free:
                free["note"][at] = quantity.note
    texts["container"] = of_texts(container)
    if "material" in texts:
        texts["material"] = of_texts(material)
    return Part(len(take), part.days[take], part.rows[take], texts, numbers, free)


def _set_aside(
    job: Reading1, group: Group, amounts: Measured, code: Objects, dated: When, out: Gathered
) -> None:
    rows = np.flatnonzero((code != "") & (code != "void"))
    if not len(rows):
        return
    causes: dict[tuple[str, int], list[int]] = {}
    for row in rows:
        said = PROBLEMS[amounts.problem[row]] if code[row] == "problem" else str(code[row])
        column = _cause_column(job, group, amounts, int(row), said)
        causes.setdefault((said, column.index), []).append(int(row))
        out.set_aside.append(_aside_row(job, int(row), column, said))
    for (said, index), members in causes.items():
        column = next(c for c in job.columns if c.index == index)
        one_cause = len(members) > _MANY and said in (
            "unit unknown",
            "no material",
            "date order ambiguous",
            "no year",
            "no date",
            "date before the start",
            "date in the future",
        )
        groups = [members] if one_cause else [[m] for m in members]
        for rows_said in groups:
            out.findings.append(_finding(job, rows_said, column, said))


def _aside_row(
    job: Reading1, row: int, column: Column, said: str
) -> tuple[str, str, int, str, str, str]:
    code = "no date" if said == "no year" else said
    return (
        job.sheet.file,
        job.sheet.name,
        row + job.table.first + 1,
        column.letter,
        _text_at(column, row),
        code,
    )


def _cause_column(job: Reading1, group: Group, amounts: Measured, row: int, said: str) -> Column:
    shared = job.layout.shared
    if said.startswith(("no date", "no year", "date")) and (
        date := shared.get("date") or shared.get("day") or shared.get("month")
    ):
        return date
    if said == "no material" and (material := shared.get("material") or shared.get("product")):
        return material
    at = int(amounts.where[row])
    return (
        next((c for c in job.columns if c.index == at), group.first)
        if said in PROBLEMS and at
        else group.first
    )


def _finding(job: Reading1, rows: Sequence[int], column: Column, said: str) -> Finding:
    message, hint = refused(said, job.as_of, job.known.site.started)
    code = "no date" if said == "no year" else said
    name = f"{job.sheet.file}!{job.sheet.name}!{column.letter}" if len(rows) > 1 else ""
    return Finding(
        "refused",
        code,
        message,
        _where(job, rows[0], column),
        hint,
        _text_at(column, rows[0]),
        len(rows),
        name,
    )


def _refuse_one(job: Reading1, row: int, column: Column, said: str, out: Gathered) -> None:
    if said in (
        "no date",
        "no year",
        "date order ambiguous",
        "date in the future",
        "date before the start",
    ):
        column = job.layout.shared.get("date", column)
    out.set_aside.append(_aside_row(job, row, column, said))
    out.findings.append(_finding(job, [row], column, said))


def _skip(
    job: Reading1, row: int, column: Column | None, reason: str, day: np.datetime64, out: Gathered
) -> None:
    text = _text_at(column, row) if column is not None else _row_text(job, row)
    out.skipped.append((job.sheet.file, job.sheet.name, row + job.table.first + 1,
                        column.letter if column is not None else "", text, reason, day))  # fmt: skip


def _where(job: Reading1, row: int, column: Column) -> Where:
    return Where(job.sheet.file, job.sheet.name, row + job.table.first + 1, column.letter)


def _text_at(column: Column, row: int) -> str:
    code = column.cells.codes[row]
    return as_text(column.cells.cells[code]) if code >= 0 else ""


def _row_text(job: Reading1, row: int) -> str:
    texts = (_text_at(c, row) for c in job.columns)
    return " | ".join(t for t in texts if t)[:200]


def _ask(job: Reading1, amounts: Measured, value: Bools, group: Group, out: Gathered) -> None:
    for word, rows in amounts.asked.items():
        hit = np.flatnonzero(rows & value)
        if not len(hit):
            continue
        column = next((c for c in job.columns if c.index == amounts.where[hit[0]]), group.first)
        count, where, found = out.asked.get(
            word, (0, _where(job, int(hit[0]), column), _text_at(column, int(hit[0])))
        )
        out.asked[word] = (count + len(hit), where, found)


def _source_asked(
    job: Reading1,
    group: Group,
    kinds: Coded,
    source: Coded,
    used: npt.NDArray[np.int64],
    out: Gathered,
) -> None:
    intake = np.array([n == "intake" for n in kinds.names] + [False])[kinds.codes[used]]
    missing = used[(source.codes[used] < 0) & intake]
    if len(missing):
        column = job.layout.shared.get("source", group.first)
        count, where = out.sourceless.get(job.sheet.file, (0, _where(job, int(missing[0]), column)))
        out.sourceless[job.sheet.file] = (count + len(missing), where)


def _leftover_rows(
    job: Reading1, rows: Rows, dated: When, shared: _Shared, answered: Bools, out: Gathered
) -> None:
    """Account for rows in which no group had an entry: notes, closed days, prefilled dates, gaps."""
    marks = shared.start_mark.texts()
    content = _content_rows(job)
    for row in np.flatnonzero((rows.reason != "") | ~answered).tolist():
        reason = rows.reason[row]
        if reason != "":
            day = dated.days[row] if reason in ("closed", "nothing delivered") else NAT
            _skip(job, row, None, str(reason), day, out)
            continue
        if answered[row]:
            continue
        said = marks[row]
        if said in ("closed", "nothing"):
            _skip(
                job,
                row,
                None,
                "closed" if said == "closed" else "nothing delivered",
                dated.days[row],
                out,
            )
        elif said in ("void", "rejected"):
            _skip(
                job,
                row,
                None,
                "correction" if said == "void" else "nothing delivered",
                dated.days[row],
                out,
            )
        elif content[row] and not _only_words_for_a_date(job, dated, row):
            if job.layout.wide:
                _skip(job, row, None, "blank", NAT, out)
            else:
                _refuse_one(
                    job,
                    row,
                    _quantity_column(job),
                    "no date" if np.isnat(dated.days[row]) else "no quantity",
                    out,
                )
        else:
            note = _has_words(job, row) or _only_words_for_a_date(job, dated, row)
            _skip(job, row, None, "note" if note else "blank", dated.days[row], out)


def _only_words_for_a_date(job: Reading1, dated: When, row: int) -> bool:
    """Return whether words stand where the date should, on a row with no amount: a note, not a load."""
    column = job.layout.shared.get("date")
    if column is None or not dated.own[row] or not np.isnat(dated.days[row]):
        return False
    return dated.problem[row] == "unreadable" and any(c.isalpha() for c in _text_at(column, row))


def _quantity_column(job: Reading1) -> Column:
    return job.layout.groups[0].first if job.layout.groups else job.columns[0]


def _content_rows(job: Reading1) -> Bools:
    """Return the rows that name a source, material or container: somebody meant to log something."""
    size = job.table.end - job.table.first
    out = np.zeros(size, dtype=bool)
    for name in ("source", "material", "container", "product", "fill", "fuel"):
        column = job.layout.shared.get(name)
        if column is not None:
            out |= column.cells.codes >= 0
    return out


def _has_words(job: Reading1, row: int) -> bool:
    dates = ("date", "day", "month", "year", "weekday", "time")
    return any(c.cells.codes[row] >= 0 and c.field not in dates for c in job.columns)


def _total_cells(job: Reading1, rows: Rows, out: Gathered) -> None:
    """Name each filled cell of a total column of a wide table: seen, and skipped."""
    if not job.layout.wide:
        return
    for column in job.layout.totals:
        for row in np.flatnonzero((column.cells.codes >= 0) & rows.open):
            _skip(job, int(row), column, "total or subtotal", NAT, out)
