"""Contamination over whole years: never any at all, or more than is usual."""

from __future__ import annotations

import datetime as dt

import pandas as pd

from divert.convert.bands import about, ordinary, source
from divert.core.findings import Finding
from divert.core.period import whole_year
from divert.core.words import N_, Text
from divert.factors import Band, FactorSet
from divert.factors.model import EDGE

# Intake in fewer months than this is too thin to say of a year that nothing was ever found.
LEAST_MONTHS = 6


def check_years(
    loads: pd.DataFrame, factors: FactorSet, *, as_of: dt.date, year_starts: int = 1
) -> list[Finding]:
    """Return queries on the removed share of each reporting year that has ended by ``as_of``.

    ``loads``: date, source, mass_kg received and removed_kg, by load or added up within months (a
    row may hold one of the two alone). A year without any removed at all is asked about, and so is a
    source above the ordinary band.
    """
    band = factors.bands["contamination"]
    years = _reporting_year(loads["date"], year_starts).rename("year")
    sums = loads.groupby([years, "source"], observed=True)[["mass_kg", "removed_kg"]].sum()
    share = sums["removed_kg"] / sums["mass_kg"].where(sums["mass_kg"] != 0)
    high = share[share > band.ordinary[1] * (1 + EDGE)]
    removed = loads["removed_kg"].groupby(years).sum()
    logged = loads["mass_kg"] > 0
    months = loads["date"].dt.month[logged].groupby(years[logged]).nunique()
    findings = []
    for year, met in zip(months.index.tolist(), months.tolist(), strict=True):
        if as_of < whole_year(year, year_starts).end:
            continue
        if removed.loc[year] != 0:
            findings += [
                _high(str(key[1]), float(value), year, band)
                for key, value in zip(high.index.tolist(), high.tolist(), strict=True)
                if key[0] == year
            ]
        elif met >= LEAST_MONTHS:
            findings.append(_never_any(year))
    return findings


def _reporting_year(dates: pd.Series[pd.Timestamp], year_starts: int) -> pd.Series[int]:
    """Return the calendar year in which each date's reporting year ends."""
    days = pd.to_datetime(dates).dt  # a frame with no rows carries no dtype
    later = (days.month >= year_starts) & (year_starts > 1)
    return days.year + later.astype(int)


def _high(name: str, share: float, year: int, band: Band) -> Finding:
    message = Text(
        N_(
            "{share} % of what “{source}” sent in {year} was removed as contamination; "
            "{ordinary} is ordinary ({where})."
        ),
        {
            "share": about(share * 100),
            "source": name,
            "year": str(year),
            "ordinary": ordinary(band, "metric"),
            "where": source(band),
        },
    )
    return Finding(
        "query",
        "contamination high",
        message,
        hint=Text(N_("Check the weights removed, or talk with whoever fills the containers.")),
        name=f"{name} {year}",
    )


def _never_any(year: int) -> Finding:
    return Finding(
        "query",
        "contamination exactly zero all year",
        Text(
            N_(
                "No contamination at all is recorded for {year}: was there none, or was it not "
                "logged?"
            ),
            {"year": str(year)},
        ),
        hint=Text(
            N_("Log what is picked out, or answer this in site.toml if there truly was none.")
        ),
        name=str(year),
    )
