"""From entries to masses, fates and charges: everything that figures and evidence stand on."""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field, replace
from typing import Any

import numpy as np
import pandas as pd

from divert.convert import draws
from divert.convert.asked import (
    condition_queries,
    density_queries,
    fill_queries,
    state_queries,
    tare_queries,
)
from divert.convert.cells import Cells, make_cells
from divert.convert.charges import charges
from divert.convert.columns import added, of_names
from divert.convert.density import more_to_halve, weigh_ins_by_name
from divert.convert.enormous import CODE as ENORMOUS
from divert.convert.enormous import enormous
from divert.convert.finding_cell import at_their_cells
from divert.convert.idle_answers import idle_answers
from divert.convert.law import law_queries
from divert.convert.mass import DensityInUse, with_mass, with_net
from divert.convert.naming import Meaning, with_meaning
from divert.convert.plausible import heavier_than_water, worth_asking
from divert.convert.shared_draws import density_draws
from divert.convert.told import Density, Rows
from divert.convert.unknown import (
    NOT_RECORDED,
    fate_queries,
    name_books,
    name_queries,
    refusals,
    refused_findings,
)
from divert.convert.volume import with_volume
from divert.convert.what_converts import with_what_converts
from divert.core.checked import checked
from divert.core.findings import Finding
from divert.core.reading import SET_ASIDE_COLUMNS, Reading
from divert.factors import FactorSet
from divert.ingest.checks.contents import with_contents
from divert.site.answers import settle
from divert.site.model import Site


@dataclass(frozen=True, slots=True, eq=False)
class Workings:
    """A site's converted ledger with all that it rests on.

    ``ledger``: every ledger column with volume_m3, mass_kg, removed_kg, basis, before and condition
    resolved, and factor, density_kg_m3, container_m3, fill_used, tare_kg, decay_class beside them
    (plus columns for the draws). ``charges``: removed and residue spread over sources, materials and
    befores. ``set_aside``: as in Reading, with what conversion refused. Masses kg, volumes m³.
    ``kept``: what later stages work out of these workings once and ask for again; a copy with other
    entries begins without it. ``raised``: what conversion asked before any answer settled it, as it
    was found and as it is shown.
    """

    site: Site
    reading: Reading
    factors: FactorSet
    ledger: pd.DataFrame
    charges: pd.DataFrame
    set_aside: pd.DataFrame
    findings: tuple[Finding, ...]
    densities: tuple[Density, ...]
    in_use: tuple[DensityInUse, ...]
    meanings: tuple[Meaning, ...]
    kept: dict[Any, Any] = field(default_factory=dict, init=False, repr=False, compare=False)
    raised: tuple[tuple[Finding, ...], tuple[Finding, ...]] = ((), ())

    def cells(
        self, extra_days: Sequence[dt.date] = (), kinds: Sequence[str] = ("intake",)
    ) -> Cells:
        """Cut the ledger into cells, with stretches that begin at months and at ``extra_days``."""
        spread = self.charges if "intake" in kinds else self.charges.iloc[:0]
        return make_cells(self.ledger, spread, self.in_use, self.site, extra_days, kinds)

    def rows(self, findings: Sequence[Finding]) -> Rows:
        """Return the count of entries, and of the queries among ``findings`` that are still open."""
        used, aside, skipped = len(self.ledger), len(self.set_aside), self.reading.rows_skipped
        queries = sum(f.level == "query" and f.answer is None for f in findings)
        return Rows(used + aside + skipped, used, aside, skipped, queries)


def work_out(
    site: Site,
    reading: Reading,
    factors: FactorSet,
    weigh_ins_from: pd.DataFrame | None = None,
) -> Workings:
    """Convert a reading: volumes, masses, fates, charges, densities and the findings they raise.

    ``weigh_ins_from``: a ledger of entries whose weigh-ins set the measured densities instead of
    the reading's own (to tell apart why a figure moved). A sheet whose entries make it fail is left
    out by name.
    """
    return with_what_converts(
        reading, lambda given: _worked_out(site, given, factors, weigh_ins_from)
    )


def _worked_out(
    site: Site, reading: Reading, factors: FactorSet, weigh_ins_from: pd.DataFrame | None
) -> Workings:
    resolved, flat = _resolved(site, reading.entries, factors)
    teaching = None if weigh_ins_from is None else _resolved(site, weigh_ins_from, factors)[0]
    # Loads that no vehicle brings go first: they must teach no density to the others.
    huge, refused, large = enormous(resolved, site.units)
    ledger, in_use = _with_masses(_without(resolved, huge), flat, factors, teaching)
    reasons = refusals(ledger, site, flat)
    books = name_books(site, factors)
    for code, rows in reasons.items():
        refused += refused_findings(ledger.iloc[rows], code, books)
    unusable = np.zeros(len(ledger), dtype=bool)
    for rows in reasons.values():  # none of them has a net mass to teach with
        unusable[rows] = True
    used = _without(ledger, unusable)
    aside = {code: ledger.index[rows] for code, rows in reasons.items()}
    aside[ENORMOUS] = resolved.index[huge.to_numpy()]
    published = {(d.material, d.condition): d.published for d in in_use if d.published}
    checks: list[tuple[str, Callable[[pd.DataFrame], list[Finding]]]] = [
        ("heavier than water allows", lambda u: heavier_than_water(u, factors, site.units)[1]),
        ("fill not recorded", lambda u: fill_queries(u, site)),
        ("implausible density", lambda u: worth_asking(u, factors, published, site.units)),
        ("unknown source", lambda u: name_queries(u, site, flat, books)),
        ("usual fate not stated", lambda u: fate_queries(u, flat)),
        ("required by law not stated", lambda u: law_queries(u, site)),
        (
            "measured density outside the published range",
            lambda _: density_queries(in_use, site.units),
        ),
        ("condition without a density", lambda u: condition_queries(u, in_use)),
        ("state not recorded", lambda u: state_queries(u, in_use)),
        ("empty weight not known", lambda u: tare_queries(u, reading.entries)),
    ]
    more = [*large, *(f for code, check in checks for f in checked(code, check, used))]
    told = {f.code for f in reading.findings}  # by file, where the reader could say it
    more = [f for f in more if f.code != "source not recorded" or f.code not in told]
    asked = with_contents([*refused, *more], reading.entries, reading.set_aside)
    raised = ((*refused, *more), tuple(at_their_cells(asked, reading.sheets)))
    return Workings(
        site,
        reading,
        factors,
        used,
        charges(used),
        _set_aside(reading, aside),
        _answered(site, reading, raised),
        _densities(used, in_use, site, weigh_ins_from is None),
        tuple(in_use),
        tuple(flat),
        raised=raised,
    )


def asked_again(before: Workings, reading: Reading, site: Site) -> Workings:
    """Return workings under settings that are the same to conversion, with other answers.

    ``reading`` has the entries of ``before`` (see divert.convert.site_converted_by).
    """
    return replace(
        before, site=site, reading=reading,
        findings=_answered(site, reading, before.raised),
    )  # fmt: skip


def _answered(
    site: Site, reading: Reading, raised: tuple[tuple[Finding, ...], tuple[Finding, ...]]
) -> tuple[Finding, ...]:
    found, shown = raised
    idle = idle_answers(site.answers, [*reading.findings, *found, *shown])
    return settle((*reading.findings, *shown, *idle), site.answers)


def _with_masses(
    resolved: pd.DataFrame, flat: list[Meaning], factors: FactorSet, teaching: pd.DataFrame | None
) -> tuple[pd.DataFrame, list[DensityInUse]]:
    ledger, in_use = with_mass(resolved, flat, factors, teaching)
    share, removed = ledger["removed_share"].to_numpy(), ledger["removed_kg"].to_numpy()
    by_share = ~np.isnan(share) & np.isnan(removed)
    if by_share.any():
        removed = np.where(by_share, share * ledger["mass_kg"].to_numpy(), removed)
    return added(ledger, removed_kg=removed, removed_by_share=by_share), in_use


def _without(ledger: pd.DataFrame, refused: pd.Series[bool] | np.ndarray) -> pd.DataFrame:
    mask = np.asarray(refused)
    return ledger.iloc[np.flatnonzero(~mask)] if mask.any() else ledger


def _resolved(
    site: Site, entries: pd.DataFrame, factors: FactorSet
) -> tuple[pd.DataFrame, list[Meaning]]:
    """Return entries with what each says by itself: volume, net mass, condition, fate."""
    source = entries["source"]
    intake = of_names(entries["kind"], ("intake",))
    blank = intake & (source.cat.codes.to_numpy() < 0)
    if blank.any():
        if NOT_RECORDED not in source.cat.categories:
            source = source.cat.add_categories([NOT_RECORDED])
        source = source.mask(blank, NOT_RECORDED)
        entries = added(entries, source=source)
    ledger, flat = with_meaning(with_net(with_volume(entries, site)), site, factors)
    ledger = added(ledger, too_heavy=heavier_than_water(ledger, factors)[0].to_numpy())
    on_site = intake & of_names(ledger["before"], ("moved on site",))
    if on_site.any():
        kind = ledger["kind"]
        if "moved" not in kind.cat.categories:
            kind = kind.cat.add_categories(["moved"])
        ledger = added(ledger, kind=kind.mask(on_site, "moved"))
    return ledger, flat


def _set_aside(reading: Reading, reasons: dict[str, pd.Index[int]]) -> pd.DataFrame:
    """Return what was set aside in reading, then what conversion refused, in the ledger's order."""
    told = [pd.Series(code, index=rows) for code, rows in reasons.items() if len(rows)]
    if not told:
        return reading.set_aside
    codes = pd.concat(told).sort_index()
    places = reading.entries[["file", "sheet", "row", "column", "found"]].loc[codes.index]
    named = places.astype(object).fillna("")  # a text file has no sheets
    rows = named.assign(code=codes.to_list())[list(SET_ASIDE_COLUMNS)]
    return pd.concat([reading.set_aside, rows], ignore_index=True)


def _densities(
    used: pd.DataFrame, in_use: Sequence[DensityInUse], site: Site, taught_here: bool
) -> tuple[Density, ...]:
    met = np.bincount(used["density_number"].to_numpy() + 1, minlength=len(in_use) + 1)[1:]
    counts = (
        {pair: len(rows) for pair, rows in weigh_ins_by_name(used).items()} if taught_here else {}
    )
    scale = np.ones(draws.DRAWS)
    out = []
    for number, density in enumerate(in_use):
        pair = (density.material, density.condition)
        if not density.key or (not met[number] and density.measured is None):
            continue
        spread, measured = density.spread, density.measured
        low, high = spread.low, spread.high
        if measured is not None:
            relative = density_draws(density, site.seed, scale)
            ends = [float(x) * spread.typical for x in np.quantile(relative, [0.05, 0.95])]
            low, high = min(ends[0], spread.typical), max(ends[1], spread.typical)
        out.append(
            Density(
                density.material, density.condition, density.basis, spread.typical, low, high,
                measured.n if measured else counts.get(pair, 0),
                density.published.low if density.published else None,
                density.published.high if density.published else None,
                more_to_halve(measured) if measured else max(0, 3 - counts.get(pair, 0)),
            )
        )  # fmt: skip
    return tuple(out)
