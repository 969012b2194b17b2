"""Masses of a period: the balance, by material, by source, by month, by fate."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable

import numpy as np

from divert.convert.amounts import What
from divert.convert.cells import Cells
from divert.figures import Mass, Month, Part, Range, Span
from divert.ledger import BASES
from divert.period import Period, quarter_of, read_period, reporting_year
from divert.site import CLAIMED
from divert.tally.stretches import (
    DAY,
    Ints,
    Mask,
    first_of,
    inside,
    matching,
    month_count,
    months,
    ranges,
    total,
)

ZERO = Range(0.0, 0.0, 0.0)


def balance(cells: Cells, mask: Mask) -> Mass:
    """Return received, removed, residue, not claimed, diverted, thrown away of a mask of elements."""
    received, removed, residue, unclaimed, diverted, thrown_away = (
        total(cells, what, mask)
        for what in ("received", "removed", "residue", "not claimed", "diverted", "thrown away")
    )
    return Mass(received, removed, residue, unclaimed, diverted, thrown_away)


def by_level(cells: Cells, codes: Ints, levels: tuple[str, ...], mask: Mask) -> tuple[Part, ...]:
    """Return one part per name met in the mask, the largest received first."""
    met = np.unique(codes[mask])
    place = np.full(len(levels) + 1, -1)
    place[met] = np.arange(len(met))
    group = np.where(mask, place[codes], -1)
    columns = [
        ranges(cells, what, group, len(met))
        for what in ("received", "diverted", "not claimed", "thrown away")
    ]
    parts = [
        Part(levels[code] or "not recorded", *values)
        for code, values in zip(met, zip(*columns, strict=True), strict=True)
    ]
    return tuple(sorted(parts, key=lambda p: (-p.received.central, p.name)))


def by_before(cells: Cells, mask: Mask, what: What, *, claimed: bool) -> dict[str, Range]:
    """Return an amount by where the material would have gone, largest first."""
    out = {}
    for code, name in enumerate(cells.befores):
        here = mask & (cells.before == code)
        if (name in CLAIMED) == claimed and here.any():
            out[name or "not stated"] = total(cells, what, here)
    return dict(sorted(out.items(), key=lambda item: -item[1].central))


def basis_shares(cells: Cells, mask: Mask) -> dict[str, float]:
    """Return the share of received mass that rests on each basis."""
    here = mask & (cells.what == 0)
    sums = np.bincount(cells.basis[here], weights=cells.mass_kg[here], minlength=len(BASES))
    whole = float(sums.sum())
    return {
        name: float(part) / whole if whole else 0.0 for name, part in zip(BASES, sums, strict=False)
    }


def by_month(
    cells: Cells, mask: Mask, start: dt.date, end: dt.date, started: dt.date, cut: dt.date | None
) -> tuple[Month, ...]:
    """Return the months between two days, each beside the same month a year before.

    ``cut``: the day a period "to date" ends on; its month is then compared up to the same day.
    """
    first, last = month_count(start), month_count(end)
    count = last - first + 1
    month = months(cells) - first
    span = mask & inside(cells, start, end)
    received = ranges(cells, "received", np.where(span, month, -1), count)
    diverted = ranges(cells, "diverted", np.where(span, month, -1), count)
    year_ago_start, year_ago_end = _year_before(start, end)
    before = mask & inside(cells, year_ago_start, year_ago_end)
    last_year = ranges(cells, "diverted", np.where(before, month + 12, -1), count)
    out = []
    for n in range(count):
        day = first_of(first + n)
        month_end = first_of(first + n + 1) - DAY
        partial = (n == 0 and start > day) or (n == count - 1 and end < month_end)
        had = first_of(first + n - 11) > started
        out.append(
            Month(f"{day:%Y-%m}", received[n], diverted[n], last_year[n] if had else None, partial)
        )
    return tuple(out)


def _year_before(start: dt.date, end: dt.date) -> tuple[dt.date, dt.date]:
    return _minus_year(start), _minus_year(end + DAY) - DAY


def _minus_year(day: dt.date) -> dt.date:
    last = (first_of(month_count(day) - 11) - DAY).day
    return dt.date(day.year - 1, day.month, min(day.day, last))


def spans(cells: Cells, periods: Iterable[Period]) -> tuple[Span, ...]:
    """Return diverted, received and weighed mass of whole periods, e.g. quarters."""
    chosen = list(periods)
    group = np.full(len(cells.stretch), -1)
    for number, period in enumerate(chosen):
        group[inside(cells, period.start, period.end)] = number
    received = ranges(cells, "received", group, len(chosen))
    diverted = ranges(cells, "diverted", group, len(chosen))
    use = (group >= 0) & (cells.what == 0) & (cells.basis == 0)
    weighed = np.bincount(group[use], weights=cells.mass_kg[use], minlength=len(chosen))
    return tuple(
        Span(p.label, p.start, p.end, r, d, float(w), p.to_date)
        for p, r, d, w in zip(chosen, received, diverted, weighed, strict=True)
    )


def quarters(started: dt.date, end: dt.date, year_starts: int) -> list[Period]:
    """Return the quarters from the start to a day, the last one cut there and marked to date."""
    out = []
    day = started
    while day <= end:
        label = quarter_of(day, year_starts).label
        period = read_period(label, as_of=end, started=started, year_starts=year_starts)
        out.append(period)
        day = quarter_of(day, year_starts).end + DAY
    return _first_partial(out, started)


def years(started: dt.date, end: dt.date, year_starts: int) -> list[Period]:
    """Return the reporting years from the start to a day, the last cut there."""
    names = range(reporting_year(started, year_starts), reporting_year(end, year_starts) + 1)
    found = [
        read_period(str(n), as_of=end, started=started, year_starts=year_starts) for n in names
    ]
    return _first_partial(found, started)


def _first_partial(periods: list[Period], started: dt.date) -> list[Period]:
    if periods and periods[0].start < started:
        from dataclasses import replace

        periods[0] = replace(periods[0], to_date=True)
    return periods


def of_sources(cells: Cells, names: Iterable[str]) -> Mask:
    """Return a mask of elements of some sources."""
    return matching(cells.source, cells.sources, names)
