"""The numbers that the lines rest on, each with its source, and what a landfill makes of them."""

from __future__ import annotations

from dataclasses import dataclass

import pandas as pd

from divert.convert import Workings
from divert.convert.emission_factors import (
    COMPOSTING,
    fuel_key,
    gas_captured,
    gas_is_stated,
    names,
    warming_keys,
)
from divert.core.words import N_, Text
from divert.evidence.lines import landfill_versions
from divert.evidence.per_kg import LandfillClass, Process
from divert.factors import FactorSet
from divert.figures.climate import SETS
from divert.site.model import Landfill

LOST = "beds.solids_lost"


@dataclass(frozen=True, slots=True)
class FactorRow:
    """One number in use; ``measured`` where it is worked out from the weigh-ins in the ledger."""

    key: str
    value: float
    low: float
    high: float
    unit: str
    source: str
    standing: str
    as_published: str = ""
    measured: bool = False


@dataclass(frozen=True, slots=True)
class Numbers:
    """All numbers behind a set of lines, by key, and the combinations of them that are used."""

    rows: tuple[FactorRow, ...]
    classes: tuple[LandfillClass, ...]
    processes: tuple[Process, ...]

    @property
    def values(self) -> dict[str, float]:
        """Return each number by its key."""
        return {row.key: row.value for row in self.rows}


def numbers(workings: Workings, lines: pd.DataFrame) -> Numbers:
    """Return the numbers that lines rest on, in a fixed order."""
    factors, versions = workings.factors, landfill_versions(workings.site)
    rows = {row.key: row for row in _densities(workings, lines)}
    bound = lines[(lines["before"] == "landfill") & (lines["decay_class"] != "")]
    pairs = sorted(
        {(int(n), c) for n, c in zip(bound["landfill"], bound["decay_class"], strict=True)}
    )
    classes = []
    for number, decay_class in pairs:
        one = _landfill_class(number, versions[number - 1], decay_class)
        classes.append(one)
        for key in (one.doc, one.docf_2006, one.docf_2019, one.mcf, one.methane_share,
                    one.oxidation, one.k, one.gwp):  # fmt: skip
            rows[key] = published(key, factors)
        rows[one.gas_captured] = _gas(one.gas_captured, versions[number - 1], decay_class, factors)
    processes = []
    for number in sorted({int(n) for n in lines["landfill"]}):
        ch4, n2o = warming_keys(versions[number - 1])
        processes.append(Process(number, *COMPOSTING, ch4, n2o))
        for key in (*COMPOSTING, ch4, n2o):
            rows[key] = published(key, factors)
        fee = versions[number - 1].fee_per_kg
        if fee is not None:
            key = fee_key(number)
            unit = f"{workings.site.currency} per kg"
            rows[key] = FactorRow(key, fee, fee, fee, unit, "site.toml", "")
    if (lines["kind"] == "intake").any():  # what lies on the site rests on it
        rows[LOST] = published(LOST, factors)
    for name in sorted({str(n) for n in lines.loc[lines["kind"] == "fuel", "name"]}):
        if fuel := fuel_key(name):
            rows[fuel] = published(fuel, factors)
    for class_ in sorted(set(lines["screening"]) - {""}):
        for set_ in SETS:
            row = factors.screening_row(set_, class_)
            if row is not None:
                key = screening_key(set_, class_)
                rows[key] = FactorRow(
                    key, row.landfilled, row.landfilled, row.landfilled, "kg CO2e per kg",
                    row.printed.citation, row.printed.standing, row.landfilled_as_published,
                )  # fmt: skip
    return Numbers(tuple(rows.values()), tuple(classes), tuple(processes))


def fee_key(landfill: int) -> str:
    """Return the key of the disposal fee of a version of the landfill."""
    return f"fee.landfill-{landfill}"


def screening_key(set_: str, class_: str) -> str:
    """Return the key of a cross-check factor."""
    return f"screening.{set_}.{class_}"


def published(key: str, factors: FactorSet) -> FactorRow:
    """Return a published number as a row."""
    factor = factors.get(key)
    return FactorRow(
        key, factor.value, factor.low, factor.high, factor.unit, factor.source, factor.standing,
        factor.as_published,
    )  # fmt: skip


def _densities(workings: Workings, lines: pd.DataFrame) -> list[FactorRow]:
    met = {*lines["factor"], *lines["teaches"], *lines["bulk"], *lines["bulk_out"]} - {""}
    ranges = {(d.material, d.condition, d.basis): d for d in workings.densities}
    rows = []
    for density in workings.in_use:
        if density.key not in met:
            continue
        met.discard(density.key)
        if density.basis == "published density":
            rows.append(published(density.key, workings.factors))
            continue
        spread = density.spread
        shown = ranges.get((density.material, density.condition, density.basis))
        measured = density.measured is not None
        source = (
            Text(
                N_("this site's own weigh-ins ({count} loads)"), {"count": density.measured.n}
            ).say(workings.site.language)
            if density.measured is not None
            else "site.toml"
        )  # fmt: skip
        rows.append(
            FactorRow(
                density.key,
                spread.typical,
                shown.low if shown else spread.low,
                shown.high if shown else spread.high,
                "kg/m3",
                source,
                "measured" if measured else "stated",
                measured=measured,
            )
        )
    return sorted(rows, key=lambda row: row.key)


def _landfill_class(number: int, landfill: Landfill, decay_class: str) -> LandfillClass:
    name = names(landfill, decay_class)
    stated = gas_is_stated(landfill, decay_class)
    return LandfillClass(
        number, decay_class, name.doc, f"docf_2006.{decay_class}", f"docf_2019.{decay_class}",
        name.mcf, name.methane_share, name.oxidation,
        f"{name.gas_captured}.landfill-{number}" if stated else name.gas_captured,
        name.k, warming_keys(landfill)[0],
    )  # fmt: skip


def _gas(key: str, landfill: Landfill, decay_class: str, factors: FactorSet) -> FactorRow:
    if not gas_is_stated(landfill, decay_class):
        return published(key, factors)
    spread = gas_captured(landfill, decay_class, factors)
    return FactorRow(key, spread.typical, spread.low, spread.high, "share", "site.toml", "stated")
