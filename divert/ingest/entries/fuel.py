"""Fuel: its name and its litres."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from divert.ingest.amounts.measured import Measured
from divert.ingest.arrays import Objects
from divert.ingest.coded import Part, constant, of_cells
from divert.ingest.entries.job import TableJob
from divert.ingest.sheet import as_text
from divert.ingest.tables.groups import Group

LITRE_M3 = 0.001


def fuel_part(job: TableJob, group: Group, amounts: Measured, used: npt.NDArray[np.int64],
              days: npt.NDArray[np.datetime64], note: Objects | None) -> Part:  # fmt: skip
    """Return fuel entries: the fuel's name and litres."""
    size = len(amounts.count)
    find = job.known.fuels.find
    column = job.layout.shared.get("fuel")
    names = (
        of_cells(column.cells, lambda c: find(as_text(c)) or as_text(c))
        if column is not None
        else constant("", size)
    )
    said = group.label.other or group.label.material
    for text in (said, group.first.head.text, *job.table.titles, job.sheet.name, job.sheet.file):
        fuel = find(text) or next(
            (f for w in text.replace(".", " ").replace("_", " ").split() if (f := find(w))), ""
        )
        if fuel:
            names = names.filled(constant(fuel, size))
            break
    texts = {
        "kind": constant("fuel", size), "name": names, "unit": constant("L", size),
        "file": constant(job.sheet.file, size), "sheet": constant(job.sheet.name, size),
        "column": constant(group.first.letter, size),
    }  # fmt: skip
    found = of_cells(group.first.cells, as_text).texts()
    return Part(
        len(used), days[used], used + job.table.first + 1,
        {k: v.take(used) for k, v in texts.items()},
        {"amount": (amounts.volume_m3 / LITRE_M3)[used]},
        {"found": found[used]} | ({} if note is None else {"note": note[used]}),
    )  # fmt: skip
