"""Containers that are none of the site's own, by the size written beside them."""

from __future__ import annotations

import numpy as np

from divert.ingest.amounts.boxes import container_of
from divert.ingest.amounts.measured import Measured
from divert.ingest.arrays import Floats, blank_numbers
from divert.ingest.cells import quantity as quantity_cell
from divert.ingest.cells.problem import Problem
from divert.ingest.known import Known
from divert.ingest.sheet import as_text
from divert.ingest.tables.columns import Column
from divert.ingest.tables.groups import Group
from divert.ingest.tables.layout import Layout


def put_sizes(out: Measured, group: Group, layout: Layout, known: Known) -> None:
    """Use a container's size where the container is none of the site's: count x size x fill."""
    size = blank_numbers(len(out.count))
    column = layout.column(group, "size")
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
        if known.containers.is_own(name):
            continue  # site.toml knows its size
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
