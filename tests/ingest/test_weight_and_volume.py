"""A weight row and a volume row of one day, source and material: asked about where they may be one load."""

from __future__ import annotations

import datetime as dt
from pathlib import Path

import pandas as pd
import pytest

from divert.core.ledger import tidy
from divert.ingest.checks.repeats import weight_and_volume
from divert.site.model import Container, Site

SITE = Site(
    Path("nowhere"), "Kestrel Bend", "metric", dt.date(2024, 1, 1),
    containers=(Container("cart", volume_m3=0.1),),
)  # fmt: skip


@pytest.mark.parametrize(
    ("mass_kg", "asked"),
    # 0.1 m³ at 20 to 1,200 kg/m³ (what any load could weigh: common practice) is 2 to 120 kg.
    [(1.9, 0), (2.1, 1), (119.0, 1), (121.0, 0), (1190.0, 0)],
)
def test_two_rows_are_one_load_only_where_one_load_could_weigh_that(
    mass_kg: float, asked: int
) -> None:
    common = {
        "kind": "intake", "date": "2025-03-01", "source": "Alder Street drop-off",
        "material": "food scraps", "file": "log.csv", "sheet": "log", "column": "D", "found": "?",
    }  # fmt: skip
    rows = [
        {**common, "row": 2, "mass_kg": mass_kg},
        {**common, "row": 3, "count": 1.0, "container": "cart"},
    ]
    found = weight_and_volume(tidy(pd.DataFrame(rows)), SITE)
    assert [f.code for f in found] == ["weight row and volume row of one load"] * asked
