"""Gas capture is drawn by the landfill where it has a name: sites that share one move together."""

from __future__ import annotations

import datetime as dt
from pathlib import Path

import numpy as np

from divert.factors import load_factors
from divert.figures.emissions import parameter_draws
from divert.site.model import Landfill, Site, Spread

GAS = Spread(0.2, 0.4, 0.6)


def drawn(site: str, landfill: str) -> np.ndarray:
    dump = Landfill(name=landfill, gas_captured=GAS)
    own = Site(Path("nowhere"), site, "metric", dt.date(2024, 1, 1), landfills=(dump,), id=site)
    return parameter_draws(own, dump, "food", load_factors(None))["gas_captured.all"]


def test_sites_that_name_one_landfill_draw_one_capture() -> None:
    assert (drawn("a", "Saltgrass") == drawn("b", "saltgrass ")).all()
    assert np.corrcoef(drawn("a", "Saltgrass"), drawn("a", "Long Marsh"))[0, 1] < 0.05


def test_sites_that_name_none_draw_their_own() -> None:
    assert np.corrcoef(drawn("a", ""), drawn("b", ""))[0, 1] < 0.05
