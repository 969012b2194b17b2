"""Densities in use: the site's own from weigh-ins, else stated, else published."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from statistics import NormalDist

import numpy as np
import pandas as pd

from divert.convert.columns import of_names
from divert.convert.grouping import grouped
from divert.convert.volume import BY_EYE_SD, EYE_OWN_SD
from divert.site.model import Spread

LEAST_WEIGH_INS = 3
TAUGHT_BY = ("intake", "weigh-in")
TEACHING = ["kind", "material", "condition", "net_kg", "volume_m3", "fill_used"]
LOAD_SCATTER = (
    0.15  # of one load about its material's mean, where no weigh-ins tell (common practice)
)


@dataclass(frozen=True, slots=True)
class Measured:
    """A site's own density of one (material, condition), kg/m³.

    ``se`` its standard error, ``s_kg`` the standard deviation of a load about its mean (kg), of
    which ``eye_kg`` is what the reading of fills alone explains, ``mean_kg`` the mean mass of a
    weigh-in, ``cut`` the ends beyond which no draw goes. ``eye_lever``: by how much the density
    falls, relatively, per brim-full container that the eye's bias adds to each weigh-in's fill.
    """

    rho: float
    se: float
    n: int
    s_kg: float
    mean_kg: float
    cut: tuple[float, float]
    eye_kg: float = 0.0
    eye_lever: float = 0.0

    @property
    def load_scatter(self) -> float:
        """Return the relative standard deviation of one load about its mean, the eye's error apart."""
        return math.sqrt(max(0.0, self.s_kg**2 - self.eye_kg**2)) / self.mean_kg


def ratio_estimate(
    m: np.ndarray, v: np.ndarray, published: Spread | None, read: np.ndarray | None = None
) -> Measured:
    """Return the ratio estimate of density from masses (kg) and volumes (m³) of weigh-ins.

    rho = sum m / sum v; s² = sum (m - rho v)² / (n - 1); se = s / (mean(v) sqrt(n)), never below what
    reading the fill by eye alone would give. Cut at half the published low or half of rho, whichever
    is less, and at twice the published high or twice rho: what was measured is never cut to nothing.
    ``read``: each weigh-in's fill where the eye that reads all loads read it, else NaN.
    """
    n = len(m)
    rho = float(m.sum() / v.sum())
    s = math.sqrt(float(((m - rho * v) ** 2).sum()) / (n - 1))
    se = max(s / (float(v.mean()) * math.sqrt(n)), rho * BY_EYE_SD / math.sqrt(n))
    cut = (0.0, math.inf)
    if published is not None:
        cut = (min(published.low, rho) / 2, max(published.high, rho) * 2)
    brim = np.zeros(n) if read is None else np.nan_to_num(v / read)
    eye_kg = rho * EYE_OWN_SD * math.sqrt(float((brim**2).mean()))
    lever = float(brim.sum() / v.sum())
    return Measured(rho, se, n, s, float(m.mean()), cut, eye_kg, lever)


def weigh_ins(ledger: pd.DataFrame) -> pd.DataFrame:
    """Return the rows that teach a density: net mass known and a volume whose fill was recorded.

    Columns :data:`TEACHING` (kg, m³); ``ledger`` needs them and fill_group (-1: recorded) and
    too_heavy, for a load heavier than water would be teaches nothing.
    """
    usable = (
        of_names(ledger["kind"], TAUGHT_BY)
        & (ledger["net_kg"].to_numpy() > 0)
        & (ledger["volume_m3"].to_numpy() > 0)
        & (ledger["fill_group"].to_numpy() < 0)
        & ~ledger["too_heavy"].to_numpy(dtype=bool)
    )
    rows = np.flatnonzero(usable)
    return pd.DataFrame({c: ledger[c].iloc[rows] for c in TEACHING})


def weigh_ins_by_name(ledger: pd.DataFrame) -> dict[tuple[str, str], pd.DataFrame]:
    """Return the rows that teach a density, by (material, condition)."""
    teaching = weigh_ins(ledger)
    if teaching.empty:
        return {}
    materials, conditions = teaching["material"].cat, teaching["condition"].cat
    parts = [(c.codes.to_numpy(), len(c.categories)) for c in (materials, conditions)]
    group, first = grouped(parts)
    order = np.argsort(group.astype(np.min_scalar_type(len(first))), kind="stable")
    ends = np.cumsum(np.bincount(group))
    found = {}
    for number, (start, end) in enumerate(zip([0, *ends], ends, strict=False)):
        m, c = (codes[first[number]] for codes, _ in parts)
        if m >= 0 and c >= 0:
            pair = (str(materials.categories[m]), str(conditions.categories[c]))
            found[pair] = teaching.iloc[order[start:end]]
    return found


def measured_densities(
    ledger: pd.DataFrame, published: Mapping[tuple[str, str], Spread]
) -> dict[tuple[str, str], Measured]:
    """Return the site's own density for each (material, condition) with at least 3 weigh-ins."""
    return {
        pair: ratio_estimate(
            rows["net_kg"].to_numpy(),
            rows["volume_m3"].to_numpy(),
            published.get(pair),
            _read(rows),
        )
        for pair, rows in weigh_ins_by_name(ledger).items()
        if len(rows) >= LEAST_WEIGH_INS
    }


def _read(rows: pd.DataFrame) -> np.ndarray:
    """Return the fill of loads weighed on the intake sheet, which the crew's eye read; else NaN.

    What stands on a sheet of weigh-ins was measured for its own sake: no bias of the eye is taken to
    cancel there.
    """
    fill = rows["fill_used"].to_numpy()
    return np.where(of_names(rows["kind"], ("intake",)) & (fill > 0), fill, np.nan)


def t_quantile(share: float, degrees: int) -> float:
    """Return a quantile of Student's t by the expansion of Abramowitz and Stegun (1964) 26.7.5.

    Within 1 % at 0.95 for two degrees of freedom, far closer above.
    """
    x = NormalDist().inv_cdf(share)
    g1 = (x**3 + x) / 4
    g2 = (5 * x**5 + 16 * x**3 + 3 * x) / 96
    g3 = (3 * x**7 + 19 * x**5 + 17 * x**3 - 15 * x) / 384
    g4 = (79 * x**9 + 776 * x**7 + 1482 * x**5 - 1920 * x**3 - 945 * x) / 92160
    return x + g1 / degrees + g2 / degrees**2 + g3 / degrees**3 + g4 / degrees**4


def widened(n: int) -> float:
    """Return by how much a normal error must be widened whose size is known from n loads only."""
    return t_quantile(0.95, n - 1) / NormalDist().inv_cdf(0.95)


def more_to_halve(measured: Measured) -> int:
    """Return how many more weigh-ins would halve the range, loads scattering as they do now."""
    now = measured.se * t_quantile(0.95, measured.n - 1)
    per_load = measured.se * math.sqrt(measured.n)

    def wide(n: int) -> bool:
        return per_load / math.sqrt(n) * t_quantile(0.95, n - 1) > now / 2

    few, enough = measured.n, 4 * measured.n  # four times the loads always halve it
    while enough - few > 1:
        middle = (few + enough) // 2
        few, enough = (middle, enough) if wide(middle) else (few, middle)
    return enough - measured.n
