"""A cross-check of landfill methane avoided with published factors per mass, never a result."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from divert.convert.cells import Cells
from divert.convert.emission_factors import landfill_factor
from divert.convert.naming import meanings
from divert.convert.parts import Parts
from divert.factors import FactorSet
from divert.figures.contract import Screening
from divert.figures.emissions import versions
from divert.figures.stretches import matching
from divert.site.model import Site


def screening(
    parts: Parts, cells: Cells, site: Site, factors: FactorSet, sets: Sequence[str]
) -> tuple[Screening, ...]:
    """Return landfill methane avoided by each published set's own factor, class by class.

    Landfill against landfill, over the fates of a period.
    """
    settings = versions(site)
    bound = matching(parts.codes["before"], cells.befores, ("landfill",))
    of_part = parts.codes["material"]
    shape = (len(cells.materials), len(settings))
    group = np.where(bound, of_part * len(settings) + parts.codes["version"], -1)
    kg = parts.centrals("diverted", group, shape[0] * shape[1]).reshape(shape)
    met = np.bincount(of_part[bound], minlength=shape[0])
    known = meanings([m for m in cells.materials if m], site, factors)
    rows: dict[str, float] = {}
    ours: dict[str, float] = {}
    for material, count, by_setting in zip(cells.materials, met, kg, strict=True):
        if not material or not count:
            continue
        entry = factors.materials.get(known[material][-1].key)
        if entry is None or not entry.screening or not entry.decay_class:
            continue
        per_kg = [float(landfill_factor(v, entry.decay_class, factors)) for v in settings]
        rows[entry.screening] = rows.get(entry.screening, 0.0) + float(by_setting.sum())
        ours[entry.screening] = ours.get(entry.screening, 0.0) + float(by_setting @ per_kg)
    return tuple(
        Screening(set_, class_, kg * row.landfilled, ours[class_], row.printed.citation)
        for set_ in sets
        for class_, kg in sorted(rows.items())
        if (row := factors.screening_row(set_, class_)) is not None
    )
