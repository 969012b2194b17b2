"""The mass that hangs on a question about a file or a sheet: what its entries would come to."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace

import numpy as np

from divert.convert import Workings, work_out
from divert.core.reading import reading_of


def with_mass_held(workings: Workings) -> Workings:
    """Return the workings, each question that holds entries back with the mass of those entries."""
    held = workings.reading.held
    if held is None or held.empty:
        return workings
    # A copy must not teach a density: the weigh-ins of what counts set them.
    waiting = work_out(
        workings.site, reading_of(held), workings.factors, workings.reading.entries
    ).ledger
    kg: Counter[str] = Counter()
    about = held["about"].to_numpy()[waiting.index]
    mass = np.nan_to_num(waiting["mass_kg"].to_numpy())
    for name, one in zip(about.tolist(), mass.tolist(), strict=True):
        kg[name] += one
    return replace(
        workings,
        findings=tuple(
            replace(f, mass_kg=kg[f.about]) if f.mass_kg is None and f.about in kg else f
            for f in workings.findings
        ),
    )
