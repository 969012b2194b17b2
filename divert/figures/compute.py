"""One period's figures, put together once and handed to every output."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping
from dataclasses import dataclass, replace

from divert.convert.cells import Cells
from divert.convert.columns import of_names
from divert.convert.contamination import check_years
from divert.convert.workings import Workings
from divert.core.findings import Finding
from divert.core.period import Period
from divert.figures import emissions as emit
from divert.figures import extras, product
from divert.figures.absent import absent_from
from divert.figures.climate import Climate, climate_of
from divert.figures.contamination_rate import contamination
from divert.figures.contract import (
    Compared,
    Cumulative,
    DiversionRate,
    Figures,
    Mass,
    PeriodShown,
    Target,
)
from divert.figures.days import days_between
from divert.figures.fates import assumed_fate
from divert.figures.feed_mix import feed_mix, mix_questions
from divert.figures.grounds import Grounds, grounds_of, listed
from divert.figures.masses import (
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
from divert.figures.series import by_month, compared, spans
from divert.figures.sources_used import factors_used
from divert.figures.sponsor import find_sponsor, supplied, supported
from divert.figures.standing import standing_shares
from divert.figures.stock import stock, volume_reduction
from divert.figures.stretches import inside
from divert.figures.timeline import Timeline
from divert.figures.yard import BedLoad, FeedMix, Yield
from divert.site.answers import settle
from divert.site.model import Site


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
    kept: dict[tuple[Period, dt.date], Books] = workings.kept.setdefault(Books, {})
    if len(kept) > MOST_KEPT:
        kept.clear()
    if (period, as_of) not in kept:
        kept[period, as_of] = _worked_out(workings, period, as_of)
    return kept[period, as_of]


def _worked_out(workings: Workings, period: Period, as_of: dt.date) -> Books:
    site, factors, start, end = workings.site, workings.factors, period.start, period.end
    at = grounds_of(workings, period)
    near, cells, here, line, parts = at.near, at.cells, at.here, at.line, at.parts
    mass, air, quarters = balance(parts), climate_of(workings, at), spans(line, near.quarters, 4)
    beside = _beside(workings, at, mass, air)
    basis, used = basis_shares(cells, here), factors_used(workings, cells, start, end)
    figures = Figures(
        site=site.name,
        period=_shown(workings, period),
        as_of=as_of,
        sponsor=None,
        rows=workings.rows(beside.findings),
        mass=mass,
        not_claimed=by_before(parts, cells.befores, claimed=False),
        moved=listed(workings, at, "moved"),
        rejected=listed(workings, at, "rejected"),
        basis=basis,
        by_material=by_level(parts, "material", cells.materials),
        by_source=by_source(cells, here),
        by_month=by_month(line, start, end, site.started),
        emissions=air.emissions,
        emissions_within=air.within,
        methane_by_year=methane_by_year(cells, site, factors, here),
        sensitivity={"landfill_avoided": air.higher_docf},
        screening=air.checks,
        harvest=product.harvest(workings, beside.harvested, start, end),
        harvests_set_aside=product.harvests_set_aside(workings, start, end),
        yield_=beside.yield_,
        beds=beside.beds,
        diversion_rate=beside.rate,
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
        findings=beside.findings,
        factors=used,
        history=by_month(line, near.history_start, end, site.started),
        by_quarter=quarters,
        by_year=spans(line, near.years, 1),
        diverted_by_before=by_before(parts, cells.befores, claimed=True),
        released_share=released_per_kg(site, factors),
        assumed_fate=assumed_fate(workings, start, end),
        standing={"mass": standing_shares(basis, used), "landfill_avoided": air.standing},
        contamination=contamination(cells, near.quarters),
        participation=participation(workings, start, end),
        feed_mix=beside.mix,
        volume_reduction=volume_reduction(workings, product.year_back(end), end),
        stock=stock(workings, product.year_back(end), end),
        process_log=hot_runs(workings, start, end),
        money_by_quarter=extras.money_by_quarter(workings, quarters),
        absent=absent_from(beside.findings, start, end),
    )
    return Books(figures, cells, air.fuel, near.history_start)


@dataclass(frozen=True, slots=True, eq=False)
class _Beside:
    """What stands beside the masses and may raise a question, and all findings with those."""

    harvested: Cells
    yield_: Yield | None
    beds: tuple[BedLoad, ...]
    mix: FeedMix | None
    rate: DiversionRate | None
    findings: tuple[Finding, ...]


def _beside(workings: Workings, at: Grounds, mass: Mass, air: Climate) -> _Beside:
    site, days, start, end = workings.site, at.near.days, at.start, at.end
    harvested = workings.cells(days, ("harvest",))
    the_yield, beds, asked = product.yearly(workings, at.cells, harvested, end)
    asked += check_years(
        received_and_removed(at.cells),
        workings.factors, as_of=end, year_starts=site.year_starts,
    )  # fmt: skip
    avoided = air.emissions.landfill_avoided.central
    asked += emission_questions(workings, air.checks, any_landfilled=bool(avoided))
    mix = feed_mix(workings, at.cells, start, end)
    asked += mix_questions(workings, mix)
    rate = extras.diversion_rate(site, mass, workings.cells(days, ("disposed",)), start, end)
    asked += extras.rate_questions(site, mass, rate)
    findings = (*workings.findings, *settle(asked, site.answers))
    return _Beside(harvested, the_yield, beds, mix, rate, findings)


def _shown(workings: Workings, period: Period) -> PeriodShown:
    last = _last_entry(workings, period.start, period.end)
    return PeriodShown(period.label, period.start, period.end, period.to_date, period.kind, last)


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
