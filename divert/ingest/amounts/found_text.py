"""The quantity as it stood in the sheet: "120 lb", or "3 tote, 3/4"."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from divert.ingest.amounts.measured import Measured
from divert.ingest.arrays import Objects, blank_texts
from divert.ingest.sheet import as_text
from divert.ingest.tables.columns import Column
from divert.ingest.tables.groups import Group
from divert.ingest.tables.layout import Layout


def found_texts(group: Group, layout: Layout, amounts: Measured) -> Objects:
    """Return for each row the words of its quantity: of its weight where it has one, else of its volume."""
    weighed = [c for f in ("weight", "gross", "quantity") for c in group.columns.get(f, ())]
    counted = [
        c for f in ("weight", "quantity", "count", "volume") for c in group.columns.get(f, ())
    ]
    weighed = weighed or counted  # "55 lb" under "How many"
    more = [layout.shared[f] for f in ("unit", "container", "fill") if f in layout.shared]
    more += group.columns.get("fill", [])
    unit = [layout.shared["unit"]] if "unit" in layout.shared else []
    by_weight = ~np.isnan(amounts.mass_kg) | ~np.isnan(amounts.gross_kg)
    out = np.full(len(by_weight), "", dtype=object)
    heavy, rest = np.flatnonzero(by_weight), np.flatnonzero(~by_weight)
    out[heavy] = _joined([*weighed, *unit], heavy)
    out[rest] = _joined([*dict.fromkeys(counted), *more], rest)
    return out


def _joined(columns: list[Column], rows: npt.NDArray[np.int64]) -> Objects:
    """Return the columns' texts side by side, built once for each combination that occurs."""
    if not columns or not len(rows):
        return blank_texts(len(rows))
    if len(columns) == 1:
        return np.asarray(_texts(columns[0])[columns[0].cells.codes[rows]])
    said = [_texts(column)[column.cells.codes[rows]].tolist() for column in columns]
    joined: dict[tuple[str, ...], str] = {}
    for parts in zip(*said, strict=True):
        if parts not in joined:
            joined[parts] = ", ".join(filter(None, parts))
    return np.array([joined[parts] for parts in zip(*said, strict=True)], dtype=object)


def _texts(column: Column) -> Objects:
    """Return the texts of a column's cells, a number with the unit of its heading; "" of none, last."""
    measured = column.field in ("weight", "gross", "volume", "quantity")
    unit = column.heading.unit_text if measured else ""
    texts = [as_text(cell) for cell in column.cells.cells]
    if unit:
        texts = [f"{text} {unit}" if text[-1:].isdigit() else text for text in texts]
    return np.array([*texts, ""], dtype=object)
