"""A sponsor's two claims, never added: what its own sources supplied, what its money supported."""

from __future__ import annotations

import datetime as dt

import numpy as np

from divert.convert.cells import Cells
from divert.convert.columns import of_names
from divert.convert.parts import Parts
from divert.convert.workings import Workings
from divert.core.findings import CannotRun
from divert.core.names import NameBook
from divert.core.period import Period, same_period_last_year
from divert.core.range import Range
from divert.core.words import N_, Text
from divert.figures import emissions as emit
from divert.figures.contract import Compared, Cumulative, Mass, Supplied, Supported
from divert.figures.fates import assumed_fate
from divert.figures.masses import balance, basis_shares, by_before, by_level, by_source, of_sources
from divert.figures.series import by_month, compared, quarters, spans
from divert.figures.stretches import Floats, Mask, inside
from divert.figures.timeline import Timeline, timeline
from divert.site.model import Site, Sponsor
from divert.site.model import names as distinct


def find_sponsor(site: Site, name: str) -> str:
    """Return a sponsor's name as site.toml has it. Raises CannotRun with the nearest one."""
    if name in distinct(site.sponsors):
        return name  # of two that differ only by an accent, the one that is meant
    book = NameBook(dict.fromkeys(distinct(site.sponsors), ()))
    found = book.find(name)
    if found is not None:
        return found
    known = ", ".join(distinct(site.sponsors)) or "-"
    raise CannotRun(
        Text(N_("There is no sponsor “{name}” in site.toml. The sponsors are: {known}."),
             {"name": name, "known": known})
    )  # fmt: skip


def sponsor_versions(site: Site, name: str) -> list[Sponsor]:
    """Return the dated versions of a sponsor, oldest first."""
    found = [s for s in site.sponsors if s.name == name]
    return sorted(found, key=lambda s: s.since or dt.date.min)


def _number(cells: Cells, found: list[Sponsor]) -> np.ndarray:
    """Return which version is in force at each element, -1 before a sponsor's first day."""
    first_days = np.array([s.since or dt.date.min for s in found], dtype="datetime64[D]")
    return np.searchsorted(first_days, cells.starts[cells.stretch], side="right") - 1


def supplied_mask(cells: Cells, site: Site, name: str) -> Mask:
    """Return a mask of the elements that came from the sponsor's own sources at the time."""
    found = sponsor_versions(site, name)
    number = _number(cells, found)
    mask = np.zeros(len(cells.stretch), dtype=bool)
    for place, sponsor in enumerate(found):
        mask |= of_sources(cells, sponsor.supplies) & (number == place)
    return mask


def funded_weight(cells: Cells, site: Site, name: str) -> Floats:
    """Return the share of the program the sponsor paid for at each element's time, 0-1."""
    found = sponsor_versions(site, name)
    shares = np.array([*(s.funds or 0.0 for s in found), 0.0])
    return np.asarray(shares[_number(cells, found)], dtype=float)


def supplied(
    workings: Workings, cells: Cells, name: str, period: Period, fuel: emit.Drawn,
    history_start: dt.date, whole: Mass,
) -> Supplied | None:  # fmt: skip
    """Return what the sponsor's sources brought, of the site's whole; None where it supplies nothing."""
    site = workings.site
    if not any(s.supplies for s in sponsor_versions(site, name)):
        return None
    own = supplied_mask(cells, site, name)
    here = inside(cells, period.start, period.end)
    mine = own & here
    parts = emit.fates(cells, site, mine)
    mass = balance(parts)
    received_by_all = whole.received.central
    share = mass.received.central / received_by_all if received_by_all else 0.0
    line = timeline(cells, own)
    return Supplied(
        share, mass.received, mass.diverted, _net(workings, cells, parts, fuel.times(share)), mass,
        by_level(parts, "material", cells.materials),
        by_source(cells, mine),
        by_month(line, period.start, period.end, site.started),
        by_before(parts, cells.befores, claimed=False),
        basis_shares(cells, mine),
        by_month(line, history_start, period.end, site.started),
        by_before(parts, cells.befores, claimed=True),
        _a_year_before(line, period, site),
        _since(line, _first_load(cells, own, site), period),
        spans(line, quarters(site.started, period.end, site.year_starts), 4),
        assumed_fate(workings, period.start, period.end, _own_rows(workings, name)),
    )  # fmt: skip


def _own_rows(workings: Workings, name: str) -> Mask:
    """Return a mask of the ledger's rows that came from the sponsor's own sources at the time."""
    ledger, found = workings.ledger, sponsor_versions(workings.site, name)
    first_days = np.array([s.since or dt.date.min for s in found], dtype="datetime64[D]")
    number = np.searchsorted(first_days, ledger["date"].to_numpy(), side="right") - 1
    mask = np.zeros(len(ledger), dtype=bool)
    for place, sponsor in enumerate(found):
        mask |= of_names(ledger["source"], sponsor.supplies) & (number == place)
    return mask


def supported(
    workings: Workings, cells: Cells, name: str, period: Period, fuel: emit.Drawn, whole: Mass
) -> Supported | None:
    """Return the funded share of what the site diverted, or None where the sponsor funds nothing."""
    site = workings.site
    if not any(s.funds for s in sponsor_versions(site, name)):
        return None
    weight = funded_weight(cells, site, name)
    parts = emit.fates(cells, site, inside(cells, period.start, period.end), weight)
    diverted = balance(parts).diverted
    if abs(whole.diverted.central) > 0:
        share = diverted.central / whole.diverted.central
    else:
        share = next((s.funds or 0.0 for s in reversed(sponsor_versions(site, name))), 0.0)
    line = timeline(cells, weight=weight)
    return Supported(
        share, diverted, _net(workings, cells, parts, fuel.times(max(0.0, share))),
        _since(line, _first_paid(site, name), period),
        spans(line, quarters(site.started, period.end, site.year_starts), 4),
    )  # fmt: skip


def _a_year_before(line: Timeline, period: Period, site: Site) -> Compared | None:
    then = same_period_last_year(period)
    return (
        None
        if then is None or then.end < site.started
        else compared(line, period, then, site.started)
    )


def _since(line: Timeline, first: dt.date | None, period: Period) -> Cumulative | None:
    """Return what was diverted from the stretch of a first day on, None where there is none yet."""
    if first is None or first > period.end:
        return None
    opened = line.opening(first)
    return Cumulative(opened, line.total("diverted", opened, period.end))


def _first_load(cells: Cells, own: Mask, site: Site) -> dt.date | None:
    brought = own & (cells.what == 0) & (cells.mass_kg > 0)
    if not brought.any():
        return None
    first: dt.date = cells.starts[cells.stretch[brought].min()].astype("datetime64[D]").item()
    return max(first, site.started)


def _first_paid(site: Site, name: str) -> dt.date | None:
    paid = [s.since or site.started for s in sponsor_versions(site, name) if s.funds]
    return max(min(paid), site.started) if paid else None


def _net(workings: Workings, cells: Cells, parts: Parts, fuels: emit.Drawn) -> Range:
    """Return what parts avoided less their composting and what they bear of the fuel, kg CO2e."""
    site, factors = workings.site, workings.factors
    landfill = emit.landfill_avoided(emit.landfilled(parts, cells, site), site, factors)
    return emit.net_avoided(landfill, emit.process(parts, cells, site, factors), fuels).range(
        signed=True
    )
