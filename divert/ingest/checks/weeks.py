"""Weeks in which nothing came, asked about only where a manager would ask.

A source has a weekly habit when it came in nearly all of its weeks; single weeks it missed are asked
about, a longer gap is a season, such as a school's summer, and is not. Weeks in which nothing came
from anyone are asked about once, for the whole site.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable

import numpy as np
import numpy.typing as npt
import pandas as pd

from divert.core.findings import Finding, Where
from divert.core.words import N_, Text
from divert.ingest.checks.corrections import where_of
from divert.site.model import Site

Weeks = npt.NDArray[np.int64]
_REGULAR = 0.9  # came in this share of its weeks, seasons aside: a habit
_SITE_REGULAR = 0.8
_SEASON = 3  # weeks in a row; a longer gap is a season or a holiday, no slip
_LEAST_WEEKS = 8
_SHOWN = 4


def weeks_missed(entries: pd.DataFrame, skipped: pd.DataFrame, site: Site) -> list[Finding]:
    """Return a query for the weeks without any entry, and one for each regular source that missed some."""
    known = entries["source"].cat.codes.to_numpy() >= 0
    rows = np.flatnonzero((entries["kind"] == "intake").to_numpy() & known)
    if not len(rows):
        return []
    week = _week(entries["date"].to_numpy()[rows])
    source = entries["source"].cat.codes.to_numpy()[rows].astype(np.int64)
    closed = _closed(skipped, site)
    silent = _missed(np.unique(week), closed, _SITE_REGULAR, season=None)
    findings = [_said(entries, int(rows[0]), silent, whole_site=True)] if len(silent) else []
    for code in np.unique(source):
        mine = np.flatnonzero(source == code)
        missed = _missed(np.unique(week[mine]), {*closed, *silent.tolist()}, _REGULAR, _SEASON)
        if len(missed):
            findings.append(_said(entries, int(rows[mine[0]]), missed, whole_site=False))
    return findings


def _closed(skipped: pd.DataFrame, site: Site) -> set[int]:
    """Return the weeks that the sheets or site.toml say were closed, or had nothing delivered."""
    told = skipped[
        skipped["reason"].isin(["closed", "nothing delivered"]) & skipped["date"].notna()
    ]
    closed = set(_week(told["date"].to_numpy()).tolist())
    for start, end in site.closed:
        first, last = _week(np.array([start, end], dtype="datetime64[D]"))
        closed |= set(range(int(first), int(last) + 1))
    return closed


def _missed(came: Weeks, closed: Iterable[int], regular: float, season: int | None) -> Weeks:
    """Return the weeks missed between the first and the last, or none where there is no habit."""
    span = np.arange(came[0], came[-1] + 1)
    open_weeks = span[~np.isin(span, list(closed)) | np.isin(span, came)]
    there = np.isin(open_weeks, came)
    run = np.cumsum(there)  # the weeks after one that came, up to the next that did
    length = np.bincount(run[~there], minlength=int(run[-1]) + 1)
    weeks = open_weeks[~there & (length[run] <= (season or len(span)))]
    counted = len(came) + len(weeks)
    habit = counted >= _LEAST_WEEKS and len(came) >= regular * counted
    return weeks if habit else np.zeros(0, dtype=np.int64)


def _week(days: npt.NDArray[np.datetime64]) -> Weeks:
    """Return the number of each day's week, Monday to Sunday."""
    return (days.astype("datetime64[D]").astype(np.int64) + 3) // 7


def _said(entries: pd.DataFrame, row: int, missed: Weeks, *, whole_site: bool) -> Finding:
    source = str(entries["source"].iat[row])
    mondays = [dt.date(1970, 1, 1) + dt.timedelta(days=int(w) * 7 - 3) for w in missed]
    shown = ", ".join(d.isoformat() for d in mondays[:_SHOWN])
    shown += " ..." if len(mondays) > _SHOWN else ""
    if whole_site:
        message = Text(
            N_("Nothing is logged, from anyone, in the weeks of {shown} (weeks: {weeks})."),
            {"shown": shown, "weeks": len(mondays)},
        )
        hint = Text(N_("If the site was closed then, list the weeks under [closed] in site.toml."))
    else:
        message = Text(
            N_(
                "“{source}” comes nearly every week, but not in the weeks of {shown} (weeks: {weeks})."
            ),
            {"source": source, "shown": shown, "weeks": len(mondays)},
        )
        hint = Text(N_("Log what came, or list the weeks under [closed] in site.toml."))
    where = where_of(entries, row)
    place = Where(where.file) if whole_site else Where(where.file, where.sheet)
    name = "all sources" if whole_site else source
    return Finding(
        "query", "weekly habit broken", message, place, hint, rows=len(mondays), name=name
    )
