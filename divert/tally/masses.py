"""Masses of a period: the balance, by material, by source, by fate."""

from __future__ import annotations

from collections.abc import Iterable

import numpy as np
import pandas as pd

from divert.convert.amounts import amounts, centrals, coefficients, split
from divert.convert.cells import Cells
from divert.figures import Mass, Part, Range
from divert.ledger import BASES
from divert.site import CLAIMED
from divert.tally.stretches import Ints, Mask, matching, ranges

ZERO = Range(0.0, 0.0, 0.0)


def balance(cells: Cells, mask: Mask) -> Mass:
    """Return received, removed, residue, not claimed, diverted, thrown away of a mask of elements."""
    parts = split(cells, np.where(mask, 0, -1), 1)
    received, removed, residue, unclaimed, diverted, thrown_away = (
        ranges(parts.of(what))[0]
        for what in ("received", "removed", "residue", "not claimed", "diverted", "thrown away")
    )
    return Mass(received, removed, residue, unclaimed, diverted, thrown_away)


def by_level(cells: Cells, codes: Ints, levels: tuple[str, ...], mask: Mask) -> tuple[Part, ...]:
    """Return one part per name met in the mask, the largest received first."""
    met = np.flatnonzero(np.bincount(codes[mask], minlength=len(levels)))
    place = np.full(len(levels) + 1, -1)
    place[met] = np.arange(len(met))
    masses = split(cells, np.where(mask, place[codes], -1), len(met))
    columns = [
        ranges(masses.of(what)) for what in ("received", "diverted", "not claimed", "thrown away")
    ]
    parts = [
        Part(levels[code] or "not recorded", *values)
        for code, values in zip(met, zip(*columns, strict=True), strict=True)
    ]
    return tuple(sorted(parts, key=lambda p: (-p.received.central, p.name)))


def by_before(cells: Cells, mask: Mask, *, claimed: bool) -> dict[str, Range]:
    """Return diverted or (unless ``claimed``) unclaimed mass by where it would have gone."""
    wanted = np.array([(name in CLAIMED) == claimed for name in cells.befores] + [False])
    here = mask & wanted[cells.before]
    coefficient = coefficients(cells, "diverted" if claimed else "not claimed")
    group = np.where(here, cells.before, -1)
    found = ranges(amounts(cells, coefficient, group, len(cells.befores)))
    met = np.bincount(group + 1, minlength=len(cells.befores) + 1)[1:]
    out = {
        name or "not stated": found[code] for code, name in enumerate(cells.befores) if met[code]
    }
    return dict(sorted(out.items(), key=lambda item: -item[1].central))


def basis_shares(cells: Cells, mask: Mask) -> dict[str, float]:
    """Return the share of received mass that rests on each basis."""
    here = mask & (cells.what == 0)
    sums = np.bincount(cells.basis[here], weights=cells.mass_kg[here], minlength=len(BASES))
    whole = float(sums.sum())
    return {
        name: float(part) / whole if whole else 0.0 for name, part in zip(BASES, sums, strict=False)
    }


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
