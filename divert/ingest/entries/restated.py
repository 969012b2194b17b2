"""Tables that only sum loads logged elsewhere: by month beside the log, by source under it.

Their rows have no day of their own. Where nearly all of them are sums of loads with a day, none is a
load: each is skipped as a total, and one that ought to be a sum and is not is set aside. So are whole
months in which such loads are also logged by the day: nobody can tell what of them is counted already.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from divert.core.findings import Finding
from divert.core.words import N_, Text
from divert.ingest.amounts.column import VALUE
from divert.ingest.amounts.measured import Measured
from divert.ingest.amounts.sums import LEAST
from divert.ingest.arrays import Bools, Days, Floats, Objects, no_rows
from divert.ingest.cells.date import ORDERS
from divert.ingest.cells.problem import Problem
from divert.ingest.coded import Coded, Part, constant
from divert.ingest.days.column import Parsed
from divert.ingest.days.dated_rows import When
from divert.ingest.entries.gathered import Gathered
from divert.ingest.entries.group_days import days_of_group
from divert.ingest.entries.job import TableJob, place_in, text_at
from divert.ingest.entries.row_facts import RowFacts
from divert.ingest.tables.kind_words import kind_said
from divert.ingest.tables.overrides import kind_of as rule_kind
from divert.ingest.tables.overrides import rule_for
from divert.ingest.tables.rows import Rows

_AMOUNTS = ("mass_kg", "gross_kg", "volume_m3", "count")
_LONGEST = 3000  # rows: a longer table is no summary
_MOST = 0.8  # of a table's rows must be sums
_ROUNDED = 0.005  # a sum may have been rounded when it was typed
_Cell = tuple[
    int, np.datetime64, str, str, str, float
]  # row, month, source, material, which, how much


@dataclass(frozen=True)
class Loads:
    """The loads read from tables with a day on each row, as columns."""

    months: Days
    sheets: Objects
    sources: Objects
    materials: Objects
    amounts: dict[str, Floats]

    __hash__ = object.__hash__


def may_restate(job: TableJob) -> bool:
    """Return whether a table has no day on any row, so that it may only sum loads of others."""
    shared = job.layout.shared
    if not _may_sum_loads(job) or "day" in shared or job.context.day is not None:
        return False
    ruled = rule_kind(rule_for(job.known.site, job.sheet.file, job.sheet.name)) != ""
    if ruled or job.table.end - job.table.first > _LONGEST:
        return False
    labels = [g.label for g in job.layout.groups]
    if any(one.weekday is not None or (one.day and one.day.day) or one.number for one in labels):
        return False
    return job.parsed is None or not _has_days(job.parsed)


def _may_sum_loads(job: TableJob) -> bool:
    """Return whether a table may hold loads: it says so, or only its file's name says "trash"."""
    around = (job.sheet.name, *job.table.titles)
    told = any(kind_said(text, job.known) == job.kind for text in around)
    return job.kind == "intake" or (job.kind == "disposed" and not told)


def _has_days(parsed: Parsed) -> bool:
    """Return whether a column tells days; the first of a month may stand for the month itself."""
    for order in ORDERS:
        days = parsed.by_order[order]
        days = days[~np.isnat(days)]
        if (days != days.astype("datetime64[M]")).any():
            return True
    return any(not isinstance(r, Problem) and r.day_alone is not None for r in parsed.reads)


def loads_of(parts: Sequence[Part]) -> Loads:
    """Return the loads that some parts of the ledger hold."""

    def texts(name: str) -> Objects:
        every = [p.texts.get(name, constant("", p.size)).texts() for p in parts]
        return np.concatenate([np.array([], dtype=object), *every])

    def numbers(name: str) -> Floats:
        every = [p.numbers.get(name, np.full(p.size, np.nan)) for p in parts]
        return np.concatenate([np.array([]), *every])

    days = [p.days.astype("datetime64[M]") for p in parts]
    place = [f"{f}\n{s}" for f, s in zip(texts("file"), texts("sheet"), strict=True)]
    return Loads(
        np.concatenate([np.array([], dtype="datetime64[M]"), *days]),
        np.array(place, dtype=object),
        texts("source"),
        texts("material"),
        {name: numbers(name) for name in _AMOUNTS},
    )


@dataclass(frozen=True)
class Restated:
    """Rows of a table that sum loads; that ought to and do not; months that may for all one can tell."""

    sums: Bools
    doubtful: Bools
    beside: Bools

    __hash__ = object.__hash__


def restated(
    job: TableJob, rows: Rows, dated: When, shared: RowFacts, measured: Sequence[Measured], loads: Loads
) -> Restated:  # fmt: skip
    """Return which rows of a table only sum loads.

    The loads of the same sheet are tried first, then those of its file, then all.
    """
    none = no_rows(len(rows.reason))
    cells = list(_cells(job, rows, dated, shared, measured))
    asked = none.copy()
    asked[[row for row, *_ in cells]] = True
    own = f"{job.sheet.file}\n{job.sheet.name}"
    of_file = np.array([s.startswith(f"{job.sheet.file}\n") for s in loads.sheets], dtype=bool)
    overlap = none
    every = ~no_rows(len(loads.sheets)) if job.kind == "intake" else of_file
    for scope in (loads.sheets == own, of_file, every):
        good, overlap, several = _held_against(cells, asked, loads, scope)
        if several and good.sum() >= _MOST * asked.sum():
            return Restated(good, overlap & ~good, none)
    months = {month for _, month, *_ in cells if not np.isnat(month)}
    by_month = "month" in job.layout.shared or len(months) > 1
    return Restated(none, none, overlap & ~np.isnat(dated.days) if by_month else none)


def _held_against(
    cells: Sequence[_Cell], asked: Bools, loads: Loads, scope: Bools
) -> tuple[Bools, Bools, bool]:
    """Return the rows that sum loads in every cell, those that loads stand beside, and if any sums two."""
    good, beside, several = asked.copy(), no_rows(len(asked)), False
    for row, month, source, material, name, value in cells:
        found = scope & ~np.isnan(loads.amounts[name])
        if not np.isnat(month):
            found = found & (loads.months == month)
        if source:
            found = found & (loads.sources == source)
        if material:
            found = found & (loads.materials == material)
        total = loads.amounts[name][found].sum()
        beside[row] |= found.any()
        if not found.any() or abs(total - value) > _ROUNDED * abs(value):
            good[row] = False
        else:
            several |= bool(found.sum() >= LEAST)
    return good, beside, several


def say_restated(job: TableJob, found: Restated, out: Gathered) -> None:
    """Say that a table is taken for sums of loads."""
    column = job.layout.groups[0].first
    settle = Text(N_("If that is wrong, say what this sheet holds under [[sheet]] in site.toml."))
    if found.sums.any():
        first = int(np.flatnonzero(found.sums)[0])
        message = Text(N_("These rows are sums of loads logged by the day, and not counted again."))
        out.findings.append(Finding(
            "note", "total or subtotal", message, place_in(job, first, column), settle,
            text_at(column, first), int(found.sums.sum()),
        ))  # fmt: skip


def _cells(
    job: TableJob, rows: Rows, dated: When, shared: RowFacts, measured: Sequence[Measured]
) -> Iterator[_Cell]:
    """Yield each amount of a table, with what is said of it."""
    size = len(rows.reason)
    for group, amounts in zip(job.layout.groups, measured, strict=True):
        source = _named(group.label.source, shared.source, size)
        material = _named(group.label.material, shared.material, size)
        months = days_of_group(group, dated, job, rows).astype("datetime64[M]")
        for name in _AMOUNTS:
            values: Floats = getattr(amounts, name)
            usable = rows.open & (amounts.state == VALUE) & ~np.isnan(values) & (values != 0)
            for row in np.flatnonzero(usable).tolist():
                yield row, months[row], source[row], material[row], name, float(values[row])


def _named(label: str, column: Coded, size: int) -> Objects:
    return constant(label, size).filled(column).texts()
