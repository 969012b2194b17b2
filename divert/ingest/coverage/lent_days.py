"""Loads that only a month dates, beside numbers that may be their days."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from divert.core.words import N_, Text
from divert.ingest.coverage.doubt import Doubt, Seen
from divert.ingest.tables.columns import IGNORE
from divert.ingest.tables.day_numbers import may_be_days


def days_left_aside(seen: Seen) -> Iterator[Doubt]:
    """Doubt loads dated by the month over them while a column may say the day of each."""
    job = seen.job
    across = any(g.label.day or g.label.number or g.label.weekday for g in job.layout.groups)
    if job.context.month is None or job.context.day or across:
        return
    if {"date", "day"} & set(job.layout.shared):
        return
    timed = job.layout.shared.get("time")  # whole numbers there may be hours, or days
    for column in (*job.layout.unread, *([timed] if timed else [])):
        if column.field == IGNORE or not may_be_days(column):
            continue
        yield Doubt(
            np.asarray((column.cells.codes >= 0) & seen.rows.open),
            f"{column.letter} days",
            Text(
                N_("The numbers under “{heading}” may be the days of the month."),
                {"heading": column.head.text},
            ),
            Text(
                N_("If they are, name the column Day or Date; if not, take it for nothing, under "
                   '[[sheet]]: ignore = ["{letter}"].'),
                {"letter": column.letter},
            ),
            column,
        )  # fmt: skip
