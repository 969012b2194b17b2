"""The quantity as it stood in the sheet: "120 lb", or "3 tote, 3/4"."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt
import pandas as pd

from divert.ingest.amounts.measured import Measured
from divert.ingest.arrays import Objects
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
        return np.full(len(rows), "", dtype=object)
    key = np.zeros(len(rows), dtype=np.int64)
    for column in columns:
        key = key * (len(column.cells.cells) + 1) + column.cells.codes[rows] + 1
    codes, keys = pd.factorize(key)
    texts = []
    for value in keys:
        parts: list[str] = []
        rest = int(value)
        for column in reversed(columns):
            rest, code = divmod(rest, len(column.cells.cells) + 1)
            if code:
                unit = (
                    column.heading.unit_text
                    if column.field in ("weight", "gross", "volume", "quantity")
                    else ""
                )
                text = as_text(column.cells.cells[code - 1])
                parts.insert(0, f"{text} {unit}" if unit and text[-1:].isdigit() else text)
        texts.append(", ".join(parts))
    return np.asarray(np.array(texts, dtype=object)[codes])
