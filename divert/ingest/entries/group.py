"""The entries of one group of quantity columns: which rows are used, and why the others are not."""

from __future__ import annotations

import re

import numpy as np
import numpy.typing as npt

from divert.ingest.amounts.column import CLOSED, NOTHING, PROBLEM, UNKNOWN, VALUE
from divert.ingest.amounts.measured import Measured, without_dittos
from divert.ingest.arrays import Bools, Objects
from divert.ingest.coded import Coded, Part, constant, of_texts
from divert.ingest.days.dated_rows import When
from divert.ingest.entries.activities import activity_part
from divert.ingest.entries.asked import ask_words
from divert.ingest.entries.gathered import Gathered
from divert.ingest.entries.group_days import days_of_group
from divert.ingest.entries.job import TableJob, place_in, text_at
from divert.ingest.entries.left_out import refuse_row, set_aside, skip_row
from divert.ingest.entries.no_loads import no_loads, say_no_loads
from divert.ingest.entries.row_facts import RowFacts
from divert.ingest.entries.things import named
from divert.ingest.entries.used import use_rows
from divert.ingest.known import Names
from divert.ingest.tables.groups import Group
from divert.ingest.tables.rows import Rows

NEEDS_MATERIAL = ("intake", "weigh-in", "moved", "harvest")


def group_entries(
    job: TableJob,
    group: Group,
    amounts: Measured,
    rows: Rows,
    dated: When,
    shared: RowFacts,
    doubted: Bools,
    out: Gathered,
) -> Bools:
    """Take one group's entries; returns the rows that had one (used, set aside or skipped).

    ``doubted``: the rows whose loads hang on a question that is asked for the table.
    """
    if job.kind == "activity":
        part, taken = activity_part(job, group, rows, dated, shared.notes)
        return _take_part(job, group, part, taken, rows, dated, out)
    size = len(rows.reason)
    open_rows = rows.open.copy()
    for column in group.only_where_blank:
        open_rows &= column.cells.codes < 0
    days = days_of_group(group, dated, job, rows)
    material = _material_of(group, amounts, job, shared, size)
    source = constant(group.label.source, size).filled(shared.source)
    if job.kind in ("removed", "residue"):
        _none_taken_out(amounts)
    state = amounts.state
    said = shared.status.texts()
    void = no_loads(said, amounts, days, source, material, open_rows)
    value = open_rows & (state == VALUE) & ~void
    rejected = value & ((said == "rejected") | _rejected_by_note(amounts, size))
    code = np.full(size, "", dtype=object)
    code[open_rows & (state == PROBLEM)] = "problem"
    code[open_rows & (state == UNKNOWN)] = "no quantity"
    code[void] = "void"
    kinds = _entry_kinds(job, shared, rejected, size)
    if job.kind in NEEDS_MATERIAL:
        missing = value & (material.codes < 0) & ~rejected
        code[missing] = "no material"
    seen = value | (code == "problem") | (code == "no quantity")
    _date_codes(code, seen, days, dated, job)
    if group.label.ambiguous:
        code[seen] = "date order ambiguous"
    code[value & doubted & (code == "")] = "not explained"
    used = np.flatnonzero(value & (code == ""))
    use_rows(job, group, amounts, used, days, material, source, kinds, shared, out)
    set_aside(job, group, amounts, code, out)
    for row in np.flatnonzero(open_rows & ((state == NOTHING) | (state == CLOSED)) & (code == "")):
        why = "closed" if state[row] == CLOSED else "nothing delivered"
        skip_row(job, int(row), group.first, why, days[row], out)
    for row in np.flatnonzero(void):
        skip_row(job, int(row), group.first, "correction", days[row], out)
    say_no_loads(job, void, said, amounts, group.first, out)
    ask_words(job, amounts, value & (code == ""), group, out)
    _dates_by_site(job, group, dated, value & (code == ""), out)
    return np.asarray(open_rows & (state != 0))


def _material_of(
    group: Group, amounts: Measured, job: TableJob, shared: RowFacts, size: int
) -> Coded:
    """Return the material of each load: its own column's, its head's, the row's, or its note's."""
    material = constant(group.label.material, size).filled(shared.material)
    if own := group.columns.get("material"):
        material = named(without_dittos(own[0].cells), job.known.materials.find)
    return material if job.kind == "fuel" else _material_from_notes(material, amounts, job)


def _rejected_by_note(amounts: Measured, size: int) -> Bools:
    if not (amounts.note != "").any():
        return np.zeros(size, dtype=bool)
    return np.array(["reject" in str(n) or "refus" in str(n) for n in amounts.note])


def _dates_by_site(job: TableJob, group: Group, dated: When, used: Bools, out: Gathered) -> None:
    """Note the loads whose day only site.toml's order of dates settled, in their cells or across."""
    across = group.label.by_site
    by_site = used if across else dated.by_site & used
    if by_site.any():
        first = int(np.flatnonzero(by_site)[0])
        column = group.first if across else job.layout.shared["date"]
        text = column.head.text if across else text_at(column, first)
        out.by_site_dates.append((int(by_site.sum()), place_in(job, first, column), text))


def _none_taken_out(amounts: Measured) -> None:
    """Take 0, or "none", on a sheet of what was taken out for the fact that nothing was."""
    none = amounts.state == NOTHING
    amounts.mass_kg[none] = 0.0
    for name in ("count", "volume_m3", "gross_kg"):
        getattr(amounts, name)[none] = np.nan
    amounts.state[none] = VALUE


def _take_part(
    job: TableJob,
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
                skip_row(job, int(row), group.first, what, dated.days[row], out)
            else:
                refuse_row(job, int(row), group.first, what, out)
    return answered


def _material_from_notes(material: Coded, amounts: Measured, job: TableJob) -> Coded:
    """Take "food scraps" of "3 totes food scraps" for the material, where no column names it."""
    gaps = material.codes < 0
    if not gaps.any():
        return material
    if (amounts.note != "").any():
        found = of_texts(np.where(gaps, amounts.note, "").astype(object))
        parted = [_material_first(n, job.known.materials) for n in found.names]
        names, rests = [name for name, _ in parted], [rest for _, rest in parted]
        texts = np.array([*names, ""], dtype=object)[found.codes]
        amounts.note[texts != ""] = np.array([*rests, ""], dtype=object)[found.codes][texts != ""]
        material = material.filled(of_texts(texts))
    only = list(dict.fromkeys(m.name for m in job.known.site.materials))
    no_column = "material" not in job.layout.shared and "product" not in job.layout.shared
    if len(only) == 1 and no_column and job.kind in ("intake", "weigh-in"):
        material = material.filled(constant(only[0], len(material.codes)))
    return material


def _material_first(note: str, materials: Names) -> tuple[str, str]:
    """Return the material that a note is or begins with, and the rest: "coffee grounds, wet"."""
    whole = materials.find(note)
    if whole:
        return whole, ""
    first, mark, rest = re.match(r"([^,;(]*)([,;(]?)(.*)", note, re.S).groups()  # type: ignore[union-attr]
    name = materials.find(first.strip(" -")) if mark else None
    return (name, rest.strip(" ,;()")) if name else ("", note)


def _entry_kinds(job: TableJob, shared: RowFacts, rejected: Bools, size: int) -> Coded:
    kinds = constant(job.kind, size)
    if shared.kind is not None:
        kinds = kinds.where(shared.kind.codes >= 0, shared.kind)
    if job.kind == "intake":
        moved = shared.before.texts() == "moved on site"
        kinds = kinds.where(moved, constant("moved", size)) if moved.any() else kinds
        kinds = kinds.where(rejected, constant("rejected", size)) if rejected.any() else kinds
    return kinds


_NO_DAY = {
    "no year": "no year",
    "ambiguous": "date order ambiguous",
    "turned round": "date turned round",
    "no sum": "no sum",
    "month beside its days": "month beside its days",
}


def _date_codes(
    code: Objects, rows: Bools, days: npt.NDArray[np.datetime64], dated: When, job: TableJob
) -> None:
    missing = rows & np.isnat(days)
    code[missing] = "no date"
    for problem, said in _NO_DAY.items() if missing.any() else ():
        code[missing & (dated.problem == problem)] = said
    fine = rows & ~np.isnat(days)
    code[fine & (days > np.datetime64(job.as_of, "D"))] = "date in the future"
    code[fine & (days < np.datetime64(job.known.site.started, "D"))] = "date before the start"
