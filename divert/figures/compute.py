"""One period's figures, put together once and handed to every output."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping
from dataclasses import dataclass, replace

from divert.convert.cells import Cells
from divert.convert.columns import of_names
from divert.convert.contamination import check_years
from divert.convert.workings import Workings
from divert.core.period import Period
from divert.core.range import Range
from divert.figures import emissions as emit
from divert.figures import extras, product
from divert.figures.absent import absent_from
from divert.figures.around import around
from divert.figures.contamination_rate import contamination
from divert.figures.contract import Compared, Cumulative, Figures, PeriodShown, Target
from divert.figures.days import days_between
from divert.figures.fates import assumed_fate
from divert.figures.feed_mix import feed_mix, mix_questions
from divert.figures.masses import (
    ZERO,
    balance,
    basis_shares,
    by_before,
    by_level,
    by_source,
    received_and_removed,
)
from divert.figures.methane import methane_by_year, released_per_kg
from divert.figures.participation import participation
from divert.figures.process_log import hot_runs
from divert.figures.questions import emission_questions
from divert.figures.screening import screening
from divert.figures.series import by_month, compared, spans
from divert.figures.sources_used import factors_used
from divert.figures.sponsor import find_sponsor, supplied, supported
from divert.figures.standing import emission_standing, standing_shares
from divert.figures.stock import stock, volume_reduction
from divert.figures.stretches import inside, total
from divert.figures.timeline import Timeline, timeline
from divert.site.answers import settle
from divert.site.model import Site

SETS = ("us-2026", "uk-2024")


def figures_for(
    workings: Workings, period: Period, as_of: dt.date, sponsor: str | None = None
) -> Figures:
    """Return every figure of a period (masses kg, emissions kg CO2e), and a sponsor's where named.

    Raises CannotRun for a sponsor that site.toml does not have.
    """
    books = _books(workings, period, as_of)
    if sponsor is None:
        return books.figures
    name = find_sponsor(workings.site, sponsor)
    return replace(
        books.figures,
        sponsor=name,
        supplied=supplied(
            workings,
            books.cells,
            name,
            period,
            books.fuel,
            books.history_start,
            books.figures.mass,
        ),
        supported=supported(workings, books.cells, name, period, books.fuel, books.figures.mass),
    )


@dataclass(frozen=True, slots=True, eq=False)
class Books:
    """The site's figures of a period with what a sponsor's share is worked out from."""

    figures: Figures
    cells: Cells
    fuel: emit.Drawn
    history_start: dt.date


MOST_KEPT = 16  # the reports of a run ask for the same few periods again and again


def _books(workings: Workings, period: Period, as_of: dt.date) -> Books:
    kept: dict[tuple[Period, dt.date], Books] = workings.kept
    if len(kept) > MOST_KEPT:
        kept.clear()
    if (period, as_of) not in kept:
        kept[period, as_of] = _worked_out(workings, period, as_of)
    return kept[period, as_of]


def _worked_out(workings: Workings, period: Period, as_of: dt.date) -> Books:
    site, factors = workings.site, workings.factors
    start, end = period.start, period.end
    near = around(workings, period)
    history_start, days = near.history_start, near.days
    cells = workings.cells(days)
    harvested = workings.cells(days, ("harvest",))
    here = inside(cells, start, end)
    line = timeline(cells)
    parts = emit.fates(cells, site, here)
    mass = balance(parts)
    bound = emit.landfilled(parts, cells, site)
    landfill = emit.landfill_avoided(bound, site, factors)
    composting = emit.process(parts, cells, site, factors)
    fuels = emit.fuel(workings.ledger, factors, start, end)
    emissions = emit.summed(landfill, composting, fuels)
    twenty = emit.landfill_avoided(bound, site, factors, horizon=20)
    checks = screening(parts, cells, site, factors, SETS)
    the_yield, beds, asked = product.yearly(workings, cells, harvested, end)
    asked += check_years(
        received_and_removed(cells), factors, as_of=end, year_starts=site.year_starts
    )
    asked += emission_questions(workings, checks, bool(landfill.central))
    mix = feed_mix(workings, cells, start, end)
    asked += mix_questions(workings, mix)
    disposed = workings.cells(days, ("disposed",))
    rate = extras.diversion_rate(site, mass, disposed, start, end)
    asked += extras.rate_questions(site, mass, rate)
    used = factors_used(workings, cells, start, end)
    by_quarter = spans(line, near.quarters, 4)
    basis = basis_shares(cells, here)
    findings = (*workings.findings, *settle(asked, site.answers))
    figures = Figures(
        site=site.name,
        period=PeriodShown(
            period.label, start, end, period.to_date, period.kind, _last_entry(workings, start, end)
        ),
        as_of=as_of,
        sponsor=None,
        rows=workings.rows(findings),
        mass=mass,
        not_claimed=by_before(parts, cells.befores, claimed=False),
        moved=_listed(workings, days, "moved", start, end),
        rejected=_listed(workings, days, "rejected", start, end),
        basis=basis,
        by_material=by_level(parts, "material", cells.materials),
        by_source=by_source(cells, here),
        by_month=by_month(line, start, end, site.started),
        emissions=emissions,
        emissions_within={"20": twenty.range(), "100": emissions.landfill_avoided},
        methane_by_year=methane_by_year(cells, site, factors, here),
        sensitivity={"landfill_avoided": emit.higher_docf(bound, factors)},
        screening=checks,
        harvest=product.harvest(workings, harvested, start, end),
        harvests_set_aside=product.harvests_set_aside(workings, start, end),
        yield_=the_yield,
        beds=beds,
        diversion_rate=rate,
        activities=extras.activities(workings, start, end),
        money=extras.money(workings, cells, mass, start, end),
        supplied=None,
        supported=None,
        previous=_neighbour(workings, cells, line, period, near.before),
        same_period_last_year=_neighbour(workings, cells, line, period, near.year_ago),
        cumulative=Cumulative(site.started, line.total("diverted", site.started, end)),
        targets=_targets(site, line, near.target_years),
        weeks=extras.weeks(workings, start, end),
        densities=workings.densities,
        findings=findings,
        factors=used,
        history=by_month(line, history_start, end, site.started),
        by_quarter=by_quarter,
        by_year=spans(line, near.years, 1),
        diverted_by_before=by_before(parts, cells.befores, claimed=True),
        released_share=released_per_kg(site, factors),
        assumed_fate=assumed_fate(workings, start, end),
        standing={
            "mass": standing_shares(basis, used),
            "landfill_avoided": emission_standing(bound, factors),
        },
        contamination=contamination(cells, near.quarters),
        participation=participation(workings, start, end),
        feed_mix=mix,
        volume_reduction=volume_reduction(workings, product.year_back(end), end),
        stock=stock(workings, product.year_back(end), end),
        process_log=hot_runs(workings, start, end),
        money_by_quarter=extras.money_by_quarter(workings, by_quarter),
        absent=absent_from(findings, start, end),
    )
    return Books(figures, cells, fuels, history_start)


def _listed(
    workings: Workings, days: list[dt.date], kind: str, start: dt.date, end: dt.date
) -> Range:
    if not of_names(workings.ledger["kind"], (kind,)).any():
        return ZERO
    cells = workings.cells(days, (kind,))
    return total(cells, "received", inside(cells, start, end))


def _neighbour(
    workings: Workings, cells: Cells, line: Timeline, now: Period, then: Period | None
) -> Compared | None:
    if then is None or then.end < workings.site.started:
        return None
    found = compared(line, now, then, workings.site.started)
    return replace(
        found,
        by_source=by_source(cells, inside(cells, then.start, then.end)),
        weeks=extras.weeks(workings, then.start, then.end),
    )


def _targets(site: Site, line: Timeline, begun: Mapping[int, Period]) -> tuple[Target, ...]:
    return tuple(
        Target(year, kg, line.total("diverted", begun[year].start, begun[year].end))
        for year, kg in site.targets_kg
        if year in begun
    )


def _last_entry(workings: Workings, start: dt.date, end: dt.date) -> dt.date | None:
    ledger = workings.ledger
    here = days_between(ledger, start, end) & of_names(ledger["kind"], ("intake",))
    dates = ledger["date"].to_numpy()[here]
    return dates.max().astype("datetime64[D]").item() if len(dates) else None
