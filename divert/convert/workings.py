"""From entries to masses, fates and charges: everything that figures and evidence stand on."""

from __future__ import annotations

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
import pandas as pd

from divert.convert import draws
from divert.convert.asked import density_queries, tare_queries
from divert.convert.cells import Cells, make_cells
from divert.convert.charges import charges
from divert.convert.density import more_to_halve, weigh_ins
from divert.convert.mass import DensityInUse, with_mass, with_net
from divert.convert.naming import Meaning, with_meaning
from divert.convert.shared_draws import density_draws
from divert.convert.unknown import (
    NOT_RECORDED,
    fate_queries,
    name_books,
    name_queries,
    refusals,
    refused_findings,
)
from divert.convert.volume import with_volume
from divert.factors import FactorSet
from divert.figures import Density
from divert.findings import Finding
from divert.reading import SET_ASIDE_COLUMNS, Reading
from divert.site import Answer, Site

INSIDE = ("fill_group", "meaning", "density_number", "net_kg", "removed_by_share")


@dataclass(frozen=True, slots=True, eq=False)
class Workings:
    """A site's converted ledger with all that it rests on.

    ``ledger``: every ledger column with volume_m3, mass_kg, removed_kg, basis, before and condition
    resolved, and factor, density_kg_m3, container_m3, fill_used, tare_kg, decay_class beside them
    (plus columns for the draws). ``charges``: removed and residue spread over sources, materials and
    befores. ``set_aside``: as in Reading, with what conversion refused. Masses kg, volumes m³.
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

    def cells(
        self, extra_days: Sequence[dt.date] = (), kinds: Sequence[str] = ("intake",)
    ) -> Cells:
        """Cut the ledger into cells, with stretches that begin at months and at ``extra_days``."""
        spread = self.charges if "intake" in kinds else self.charges.iloc[:0]
        return make_cells(self.ledger, spread, self.in_use, self.site, extra_days, kinds)


def work_out(
    site: Site,
    reading: Reading,
    factors: FactorSet,
    weigh_ins_from: pd.DataFrame | None = None,
) -> Workings:
    """Convert a reading: volumes, masses, fates, charges, densities and the findings they raise.

    ``weigh_ins_from``: a ledger of entries whose weigh-ins set the measured densities instead of
    the reading's own (to tell apart why a figure moved).
    """
    converted, flat, in_use, findings = _convert(site, reading.entries, factors, weigh_ins_from)
    books = name_books(site, factors)
    codes = refusals(converted, site, flat)
    refused = refused_findings(converted, codes, books)
    from divert.convert.plausible import check_rows

    kept = converted[codes == ""]
    published = {(d.material, d.condition): d.published for d in in_use if d.published}
    too_heavy, odd = check_rows(kept, factors, published, site.units)
    heavy = too_heavy.to_numpy(dtype=bool)
    refused += [f for f in odd if f.level == "refused"]
    set_aside = pd.concat(
        [
            reading.set_aside,
            _set_aside(converted[codes != ""], codes[codes != ""].tolist()),
            _set_aside(kept[heavy], ["heavier than water allows"] * int(heavy.sum())),
        ],
        ignore_index=True,
    )
    used = kept[~heavy]
    if len(used) < len(converted):  # a refused weigh-in must not teach a density
        entries = reading.entries.loc[used.index]
        used, flat, in_use, findings = _convert(site, entries, factors, weigh_ins_from)
    more = [
        *findings,
        *(f for f in odd if f.level != "refused"),
        *name_queries(used, site, flat, books),
        *fate_queries(used, flat, site),
        *density_queries(in_use, site.units),
        *tare_queries(used.assign(mass_kg=reading.entries["mass_kg"].loc[used.index])),
    ]
    return Workings(
        site,
        reading,
        factors,
        used,
        charges(used),
        set_aside,
        settle((*reading.findings, *refused, *more), site.answers),
        _densities(used, in_use, site, weigh_ins_from),
        tuple(in_use),
        tuple(flat),
    )


def _convert(
    site: Site, entries: pd.DataFrame, factors: FactorSet, teach: pd.DataFrame | None
) -> tuple[pd.DataFrame, list[Meaning], list[DensityInUse], list[Finding]]:
    ledger, flat, findings = _resolved(site, entries, factors)
    teaching = None if teach is None else _resolved(site, teach, factors)[0]
    ledger, in_use = with_mass(ledger, flat, factors, teaching)
    share = ledger["removed_share"].to_numpy()
    removed = ledger["removed_kg"].to_numpy()
    by_share = np.isnan(removed) & ~np.isnan(share)
    ledger = ledger.assign(
        removed_kg=np.where(by_share, share * ledger["mass_kg"].to_numpy(), removed),
        removed_by_share=by_share,
    )
    return ledger, flat, in_use, findings


def _resolved(
    site: Site, entries: pd.DataFrame, factors: FactorSet
) -> tuple[pd.DataFrame, list[Meaning], list[Finding]]:
    source = entries["source"]
    intake = (entries["kind"] == "intake").to_numpy()
    blank = source.isna().to_numpy() & intake
    if blank.any():
        if NOT_RECORDED not in source.cat.categories:
            source = source.cat.add_categories([NOT_RECORDED])
        source = source.mask(blank, NOT_RECORDED)
        entries = entries.assign(source=source)
    ledger, findings = with_volume(entries, site)
    ledger = with_net(ledger)
    ledger, flat = with_meaning(ledger, site, factors)
    on_site = intake & (ledger["before"] == "moved on site").to_numpy()
    if on_site.any():
        kind = ledger["kind"]
        if "moved" not in kind.cat.categories:
            kind = kind.cat.add_categories(["moved"])
        ledger = ledger.assign(kind=kind.mask(on_site, "moved"))
    return ledger, flat, findings


def _set_aside(rows: pd.DataFrame, codes: list[str]) -> pd.DataFrame:
    out = rows[["file", "sheet", "row", "column", "found"]].astype(object)
    return out.assign(code=codes)[list(SET_ASIDE_COLUMNS)]


def settle(findings: Sequence[Finding], answers: Sequence[Answer]) -> tuple[Finding, ...]:
    """Return the findings, queries that an answer in site.toml settles carrying its reason."""
    by_place = {a.about: a for a in answers}
    return tuple(
        replace(
            f, answer=f"{by_place[f.about].reason} ({by_place[f.about].by})".removesuffix(" ()")
        )
        if f.level == "query" and f.answer is None and f.about in by_place
        else f
        for f in findings
    )


def _densities(
    used: pd.DataFrame, in_use: Sequence[DensityInUse], site: Site, teach: pd.DataFrame | None
) -> tuple[Density, ...]:
    met = set(used["density_number"].unique()) - {-1}
    teaching = used if teach is None else None
    counts: dict[tuple[str, str], int] = {}
    if teaching is not None:
        taught = weigh_ins(teaching).groupby(["material", "condition"], observed=True).size()
        pairs = taught.index.tolist()
        counts = {(str(p[0]), str(p[1])): n for p, n in zip(pairs, taught.tolist(), strict=True)}
    scale = np.ones(draws.DRAWS)
    out = []
    for number, density in enumerate(in_use):
        pair = (density.material, density.condition)
        if not density.key or (number not in met and density.measured is None):
            continue
        spread, measured = density.spread, density.measured
        low, high = spread.low, spread.high
        if measured is not None:
            relative = density_draws(density, site.name, scale)
            low, high = (float(x) * spread.typical for x in np.quantile(relative, [0.05, 0.95]))
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
