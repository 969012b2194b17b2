"""Masses of a period: the balance, by material, by source, by fate."""

from __future__ import annotations

from collections.abc import Iterable

import numpy as np
import pandas as pd

from divert.convert.amounts import centrals, coefficients
from divert.convert.cells import Cells
from divert.convert.parts import Parts, gathered
from divert.core.ledger import BASES
from divert.core.range import Range
from divert.figures.contract import Mass, Part
from divert.figures.stretches import Mask, matching, ranges
from divert.site.model import CLAIMED

ZERO = Range(0.0, 0.0, 0.0)


def balance(parts: Parts) -> Mass:
    """Return received, removed, residue, not claimed, diverted, thrown away of some parts."""
    received, removed, residue, unclaimed, diverted, thrown_away = (
        ranges(parts.amounts(what))[0]
        for what in ("received", "removed", "residue", "not claimed", "diverted", "thrown away")
    )
    return Mass(received, removed, residue, unclaimed, diverted, thrown_away)


SOURCES_AT_ONCE = 200  # a source's draws take 0.7 MB while it is worked out


def by_source(cells: Cells, mask: Mask) -> tuple[Part, ...]:
    """Return one part per source met in the mask, the largest received first."""
    met = np.unique(cells.source[mask])
    found: list[Part] = []
    for start in range(0, len(met), SOURCES_AT_ONCE):
        some = met[start : start + SOURCES_AT_ONCE]
        here = mask if len(some) == len(met) else mask & np.isin(cells.source, some)
        parts = gathered(cells, {"source": (cells.source, len(cells.sources))}, here)
        found += by_level(parts, "source", cells.sources)
    return tuple(sorted(found, key=lambda p: (-p.received.central, p.name)))


def by_level(parts: Parts, column: str, levels: tuple[str, ...]) -> tuple[Part, ...]:
    """Return the masses of each name in a column of parts, the largest received first."""
    met, group = np.unique(parts.codes[column], return_inverse=True)
    columns = [
        ranges(parts.amounts(what, group, len(met)))
        for what in ("received", "diverted", "not claimed", "thrown away")
    ]
    found = [
        Part(levels[code] or "not recorded", *values)
        for code, values in zip(met, zip(*columns, strict=True), strict=True)
    ]
    return tuple(sorted(found, key=lambda p: (-p.received.central, p.name)))


def by_before(parts: Parts, befores: tuple[str, ...], *, claimed: bool) -> dict[str, Range]:
    """Return diverted or (unless ``claimed``) unclaimed mass by where it would have gone."""
    met, group = np.unique(parts.codes["before"], return_inverse=True)
    found = ranges(parts.amounts("diverted" if claimed else "not claimed", group, len(met)))
    out = {
        befores[code] or "not stated": one
        for code, one in zip(met, found, strict=True)
        if (befores[code] in CLAIMED) == claimed
    }
    return dict(sorted(out.items(), key=lambda item: -item[1].central))


def basis_shares(cells: Cells, mask: Mask) -> dict[str, float]:
    """Return the share of received mass that rests on each basis."""
    sums = basis_masses(cells, mask)
    whole = float(np.sum(list(sums.values())))
    return {name: part / whole if whole else 0.0 for name, part in sums.items()}


def basis_masses(cells: Cells, mask: Mask) -> dict[str, float]:
    """Return the received mass that rests on each basis, kg."""
    here = mask & (cells.what == 0)
    sums = np.bincount(cells.basis[here], weights=cells.mass_kg[here], minlength=len(BASES))
    return {name: float(part) for name, part in zip(BASES, sums, strict=False)}


def of_sources(cells: Cells, names: Iterable[str]) -> Mask:
    """Return a mask of elements of some sources."""
    return matching(cells.source, cells.sources, names)


def received_and_removed(cells: Cells) -> pd.DataFrame:
    """Return received and removed mass by source and stretch: date, source, mass_kg, removed_kg."""
    stretches = len(cells.starts)
    group = cells.source * stretches + cells.stretch
    received, removed = (
        centrals(cells, coefficients(cells, what), group, len(cells.sources) * stretches)
        for what in ("received", "removed")
    )
    met = np.flatnonzero((received != 0) | (removed != 0))
    return pd.DataFrame(
        {
            "date": cells.starts[met % stretches].astype("datetime64[s]"),
            "source": pd.Categorical.from_codes(met // stretches, list(cells.sources)),  # type: ignore[call-overload]
            "mass_kg": received[met],
            "removed_kg": removed[met],
        }
    )
