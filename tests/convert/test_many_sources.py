"""Very many sources are worked out some at a time, and come out as they would together."""

from __future__ import annotations

import datetime as dt
from pathlib import Path

import numpy as np
import pandas as pd
import pytest

from divert.convert import work_out
from divert.core.reading import reading_of
from divert.factors import load_factors
from divert.figures import masses
from divert.figures.stretches import inside
from divert.site.model import Material, Site


def test_sources_worked_out_some_at_a_time_are_the_same(monkeypatch: pytest.MonkeyPatch) -> None:
    site = Site(
        Path("nowhere"), "Alder Yard", "metric", dt.date(2025, 1, 1),
        materials=(Material("scraps", like="food-scraps", before="landfill"),),
    )  # fmt: skip
    rows = 60
    frame = pd.DataFrame(
        {
            "date": np.datetime64("2025-02-01", "s") + np.arange(rows).astype("timedelta64[D]"),
            "kind": "intake", "material": "scraps", "source": [f"Stop {n % 7}" for n in range(rows)],
            "volume_m3": np.where(np.arange(rows) % 2, 0.1, np.nan), "row": range(2, rows + 2),
            "mass_kg": np.where(np.arange(rows) % 2, np.nan, 30.0 + np.arange(rows)),
        }
    )  # fmt: skip
    cells = work_out(site, reading_of(frame), load_factors(None)).cells()
    here = inside(cells, dt.date(2025, 1, 1), dt.date(2025, 12, 31))
    at_once = masses.by_source(cells, here)
    monkeypatch.setattr(masses, "SOURCES_AT_ONCE", 2)
    assert masses.by_source(cells, here) == at_once
    assert len(at_once) == 7
    assert at_once[0].received.central >= at_once[-1].received.central
