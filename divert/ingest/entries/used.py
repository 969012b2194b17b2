"""The rows that are used, as a part of the ledger."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from divert.ingest.amounts.found_text import found_texts
from divert.ingest.amounts.measured import Measured, add_texts
from divert.ingest.arrays import Objects
from divert.ingest.cells.fill import read_note
from divert.ingest.coded import Coded, Part, constant, of_texts
from divert.ingest.entries.asked import ask_contamination, ask_fates, ask_source
from divert.ingest.entries.fuel import fuel_part
from divert.ingest.entries.gathered import Gathered
from divert.ingest.entries.job import TableJob
from divert.ingest.entries.row_facts import RowFacts
from divert.ingest.entries.sales import sale_numbers
from divert.ingest.tables.groups import Group


def use_rows(
    job: TableJob,
    group: Group,
    amounts: Measured,
    used: npt.NDArray[np.int64],
    days: npt.NDArray[np.datetime64],
    material: Coded,
    source: Coded,
    kinds: Coded,
    shared: RowFacts,
    out: Gathered,
) -> None:
    """Gather the used rows of a group as a part of the ledger."""
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
    if job.kind in ("harvest", "disposed", "sale"):
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
    if job.kind == "intake":
        ask_fates(job, shared.strange_fates, used, out)
        ask_contamination(job, group, used, out)
    ask_source(job, group, kinds, source, used, out)


def _fill_from_notes(job: TableJob, amounts: Measured, used: npt.NDArray[np.int64]) -> None:
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


def _place(job: TableJob, group: Group, where: npt.NDArray[np.int16]) -> dict[str, Coded]:
    """Return file, sheet and the letter of the cell that says how much."""
    size = len(where)
    letters = {c.index: c.letter for c in group.members}
    letters |= {c.index: c.letter for c in job.layout.shared.values() if c.index not in letters}
    indices = sorted(letters)
    place = np.full(max(indices) + 1, -1, dtype=np.int64)
    place[indices] = np.arange(len(indices))
    return {
        "file": constant(job.sheet.file, size),
        "sheet": constant(job.sheet.name, size),
        "column": Coded(place[where], [letters[i] for i in indices]),
    }


def _note(amounts: Measured, shared: RowFacts) -> Objects | None:
    spoken = (amounts.note != "").any()
    if shared.notes is None:
        return amounts.note if spoken else None
    if not spoken:
        return shared.notes
    out = amounts.note.copy()
    add_texts(out, shared.notes)
    return out


def _several(part: Part, amounts: Measured, used: npt.NDArray[np.int64], job: TableJob) -> Part:
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
