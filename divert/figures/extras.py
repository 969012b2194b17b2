"""What a funder counts beside mass: rate, activities, money, weeks with entries."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable

import numpy as np
import pandas as pd

from divert.convert.cells import Cells
from divert.convert.columns import of_names
from divert.convert.workings import Workings
from divert.core.findings import Finding
from divert.core.range import Range
from divert.core.words import N_, Text
from divert.figures.contract import (
    Activity,
    DiversionRate,
    Mass,
    Money,
    QuarterMoney,
    Span,
    Weeks,
)
from divert.figures.days import between, of_kind
from divert.figures.emissions import version_of, versions
from divert.figures.stretches import inside, total
from divert.site.model import Site

SPENT = ("spent", "spending", "money spent", "cost", "costs", "dépenses", "depenses")
WEEK = dt.timedelta(days=7)


def diversion_rate(
    site: Site, mass: Mass, waste_cells: Cells, start: dt.date, end: dt.date
) -> DiversionRate | None:
    """Return diverted over diverted, removed, residue and disposed, where disposal is logged.

    Where the site says that what was picked out went into the same dumpster, it is counted once.
    """
    mask = inside(waste_cells, start, end)
    if not mask.any():
        return None
    disposed = total(waste_cells, "received", mask)
    once, picked_out = (
        bool(site.disposed_holds_removed),
        mass.removed.central + mass.residue.central,
    )
    thrown = max(disposed.central, picked_out) if once else disposed.central + picked_out
    whole = mass.diverted.central + thrown
    rate = mass.diverted.central / whole if whole else 0.0
    return DiversionRate(mass.diverted, disposed, rate, once)


def rate_questions(site: Site, mass: Mass, rate: DiversionRate | None) -> list[Finding]:
    """Return the query whether contamination and residue lie in the rubbish logged as disposed."""
    picked_out = mass.removed.central + mass.residue.central
    if rate is None or site.disposed_holds_removed is not None or picked_out <= 0:
        return []
    return [
        Finding(
            "query",
            "disposed may hold what was removed",
            Text(
                N_("Rubbish hauled away is logged, and contamination or residue too. If both went into "
                   "one dumpster, it is counted twice in the diversion rate.")
            ),
            hint=Text(
                N_("Write disposed_holds_removed = true under [site] if they did, false if not.")
            ),
            name="site",
            mass_kg=picked_out,
        )
    ]  # fmt: skip


def activities(workings: Workings, start: dt.date, end: dt.date) -> tuple[Activity, ...]:
    """Return amounts of everything else that is counted, by name and unit; money spent apart."""
    rows = of_kind(workings.ledger, "activity", start, end)
    rows = rows[~rows["name"].astype(str).str.casefold().isin(SPENT)]
    if rows.empty:
        return ()
    unit = rows["unit"].astype(object).where(rows["unit"].notna(), "")
    sums = rows.groupby([rows["name"].astype(str), unit])["amount"].sum()
    wanted = [name.casefold() for name in workings.site.report.activities]

    def order(item: Activity) -> tuple[int, str]:
        name = item.name.casefold()
        return (wanted.index(name) if name in wanted else len(wanted), name)

    pairs = zip(sums.index.tolist(), sums.tolist(), strict=True)
    found = [Activity(str(pair[0]), float(amount), str(pair[1])) for pair, amount in pairs]
    return tuple(sorted(found, key=order))


def money(workings: Workings, cells: Cells, mass: Mass, start: dt.date, end: dt.date) -> Money:
    """Return what was earned, saved and spent, in the site's currency; None where not recorded."""
    ledger = workings.ledger
    rows = between(
        ledger.iloc[np.flatnonzero(of_names(ledger["kind"], ("sale", "activity")))], start, end
    )
    currency = workings.site.currency
    own = rows["currency"].isna() | (rows["currency"] == currency)
    sales = rows[(rows["kind"] == "sale") & own]
    spent = _spent(workings, start, end)
    per_tonne = _per_tonne(spent, mass.diverted.central)
    earned = float(sales["amount"].sum()) if sales["amount"].notna().any() else None
    bags = float(sales["count"].sum()) if sales["count"].notna().any() else None
    return Money(currency, _fee(workings, cells, start, end), earned, bags, spent, per_tonne)


def money_by_quarter(workings: Workings, quarters: Iterable[Span]) -> tuple[QuarterMoney, ...]:
    """Return what was spent in each quarter, and for each tonne diverted in it."""
    out = []
    for one in quarters:
        spent = _spent(workings, one.start, one.end)
        per_tonne = _per_tonne(spent, one.diverted.central)
        out.append(QuarterMoney(one.label, one.start, one.end, spent, per_tonne))
    return tuple(out)


def _spent(workings: Workings, start: dt.date, end: dt.date) -> float | None:
    """Return what was spent in the site's own currency; None where nothing is recorded."""
    told = workings.ledger[["kind", "date", "currency", "name", "amount"]]
    rows = of_kind(told, "activity", start, end)
    own = rows["currency"].isna() | (rows["currency"] == workings.site.currency)
    found = rows[rows["name"].astype(str).str.casefold().isin(SPENT) & own]
    return float(found["amount"].sum()) if len(found) else None


def _per_tonne(spent: float | None, diverted_kg: float) -> float | None:
    return spent / (diverted_kg / 1000) if spent is not None and diverted_kg > 0 else None


def _fee(workings: Workings, cells: Cells, start: dt.date, end: dt.date) -> Range | None:
    fees = [v.fee_per_kg for v in versions(workings.site)]
    if all(fee is None for fee in fees):
        return None
    weight = np.array([fee or 0.0 for fee in fees])[version_of(cells, workings.site)]
    return total(cells, "diverted", inside(cells, start, end), weight)


def weeks(workings: Workings, start: dt.date, end: dt.date) -> Weeks:
    """Return the weeks, Monday to Sunday, most of whose days lie in the period, and their state.

    Logged: an intake entry, a load turned away or a "nothing delivered" line; closed: in site.toml
    or a line that says so; missing: the rest. The first week is the site's first.
    """
    first = max(start, workings.site.started)
    monday = first - dt.timedelta(days=first.weekday())
    mondays = []
    while monday + dt.timedelta(days=3) <= end:
        if monday + dt.timedelta(days=3) >= first:
            mondays.append(monday)
        monday += WEEK
    brought = of_names(workings.ledger["kind"], ("intake", "rejected", "moved"))
    logged = _mondays(workings.ledger["date"][brought])
    skipped = workings.reading.skipped
    shut = set()
    if len(skipped):
        shut = _mondays(skipped.loc[skipped["reason"] == "closed", "date"])
        logged |= _mondays(skipped.loc[skipped["reason"] == "nothing delivered", "date"])
    for since, until in workings.site.closed:
        shut |= {m for m in mondays if m <= until and m + dt.timedelta(days=6) >= since}
    missing = tuple(m for m in mondays if m not in logged and m not in shut)
    was_logged = sum(m in logged for m in mondays)
    return Weeks(
        len(mondays), was_logged, len(mondays) - was_logged - len(missing), len(missing), missing
    )


def _mondays(dates: pd.Series) -> set[dt.date]:
    known = pd.to_datetime(dates).dropna()
    if known.empty:
        return set()
    days = known.to_numpy().astype("datetime64[D]").astype(np.int64)
    first = int(days.min())
    met = np.flatnonzero(np.bincount(days - first)) + first
    # 1970-01-01 was a Thursday: three days after a Monday.
    mondays = (met - (met + 3) % 7).astype("datetime64[D]")
    return set(mondays.astype(object).tolist())
