"""Rows between loads that nobody understood, where what stands over loads is lent to them.

A section's title, a merged heading or a sheet's name lends its source, material or day to the rows
under it. A row of words among them that is none of these may well replace it: nothing is lent across.
"""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from divert.core.words import N_
from divert.ingest.coverage.doubt import Doubt, Seen
from divert.ingest.entries.job import TableJob, text_at
from divert.ingest.tables.crew import names_the_crew
from divert.ingest.tables.labels import like_a_name

_QUIET = ("note", "by", "id", "time", "weekday")
_LONGEST = 60  # characters of a name


def rows_between(seen: Seen) -> Iterator[Doubt]:
    """Doubt the loads under a row of words that may replace what is lent to them."""
    rows = seen.rows
    no_day = rows.open & (seen.dated.problem == "unreadable")  # "Unit 4B", where days stand
    alone = np.flatnonzero(((rows.reason == "note") | no_day) & (rows.filled == 1)).tolist()
    if not alone:
        return
    named = sorted({*rows.sources, *rows.materials, *rows.days, *rows.months, *rows.years})
    heads = [r for r in alone if _over_a_load(seen, r)]
    sectioned = bool(rows.sources or rows.materials) or len(heads) >= 2
    open_name, open_day = _untold(seen.job), _undated(seen.job)
    for place, row in enumerate(alone):
        column = next(c for c in seen.job.columns if c.cells.codes[row] >= 0)
        text = text_at(column, row)
        may = open_name and (sectioned or like_a_name(text))
        may = may or (open_day and any(c.isdigit() for c in text))
        if column.field in _QUIET or not may:
            continue
        following = [r for r in (*named, *alone[place + 1 :]) if r > row]
        under = np.zeros(len(rows.reason), dtype=bool)
        under[row + 1 : min(following, default=len(under))] = True
        yield seen.doubt(
            text[:_LONGEST],
            N_("“{text}” stands alone over these loads: it may say whose they are, or what, or when."),
            N_("If it names a source or a material, add it to site.toml. If it is a remark, write it "
               "beside a load, in a column of notes."),
            rows=under, column=column, at=row, text=text,
        )  # fmt: skip


def _over_a_load(seen: Seen, row: int) -> bool:
    below = row + 1
    return below < len(seen.rows.reason) and bool(seen.rows.open[below])


def _untold(job: TableJob) -> bool:
    """Return whether loads do not say themselves whose they are, or what they were."""
    shared, labels = job.layout.shared, [g.label for g in job.layout.groups]
    whose = shared.get("source")
    told = whose is not None and not names_the_crew(whose)
    source = told or any(one.source for one in labels)
    material = {"material", "product"} & set(shared) or any(one.material for one in labels)
    return not (source and material)


def _undated(job: TableJob) -> bool:
    across = any(g.label.day or g.label.number for g in job.layout.groups)
    return not across and not {"date", "day", "month"} & set(job.layout.shared)
