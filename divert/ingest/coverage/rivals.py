"""Two columns that tell the same of a load and disagree: another day, another source, another material."""

from __future__ import annotations

from collections.abc import Callable, Iterator

import numpy as np

from divert.core.words import N_
from divert.ingest.arrays import Bools
from divert.ingest.coded import of_cells
from divert.ingest.coverage.doubt import Doubt, Seen
from divert.ingest.days.order import resolve
from divert.ingest.days.when import parsed_dates
from divert.ingest.sheet import as_text
from divert.ingest.tables.columns import Column
from divert.ingest.tables.heading_words import listed, norm

_MOST = 0.8  # of a column's cells must tell it
_OPEN = ("", "other", "container", "type")  # fields of columns that nothing else explains
_QUESTIONS = {
    "date": N_(
        "“{first}” and “{second}” name days of different months, and nothing says which counts."
    ),
    "source": N_("“{first}” and “{second}” name different sources, and nothing says which counts."),
    "material": N_(
        "“{first}” and “{second}” name different materials, and nothing says which counts."
    ),
}
_HINT = N_('Take the one that does not count for nothing, under [[sheet]]: ignore = ["{letter}"].')


def rivals(seen: Seen) -> Iterator[Doubt]:
    """Doubt the rows on which a column left aside tells another month, source or material.

    When a record was typed is no rival of the day it tells of.
    """
    for field, question in _QUESTIONS.items():
        holder = seen.job.layout.shared.get(field)
        if holder is None:
            continue
        for column in seen.job.columns:
            if column.field not in _OPEN or not _tells(column, field):
                continue
            apart = (
                _other_months(seen, column) if field == "date" else _others(seen, holder, column)
            )
            rows = np.asarray(apart & seen.rows.open)
            if rows.any():
                yield seen.doubt(
                    f"{column.letter} {field}",
                    question,
                    _HINT,
                    rows=rows,
                    column=column,
                    first=holder.head.text,
                    second=column.head.text,
                )


def names_against_the_lent(seen: Seen) -> Iterator[Doubt]:
    """Doubt the loads beside which a column left aside names others than the names around the table.

    "From the school" over a column that names the hotel: the rest of its words may be names as well. So
    do loads of which no name in a column is known, as of "Stuff" in a file named for leaves.
    """
    job = seen.job
    shared, labels = job.layout.shared, [g.label for g in job.layout.groups]
    for field, find in (("source", job.known.sources.find), ("material", job.known.materials.find)):
        lent = getattr(job.context, field)
        if not lent or any(getattr(one, field) for one in labels):
            continue
        if (holder := shared.get(field)) is not None:
            if holder.content.filled and holder.content.of(field) == 0:
                yield _against(seen, holder, lent)
            continue
        for column in (*job.layout.unread, *job.layout.notes):
            others = [find(as_text(c)) not in (None, lent) for c in column.cells.cells]
            if any(others) and column in job.layout.notes:  # each note is one load's own
                rows = column.cells.rows_of([code for code, other in enumerate(others) if other])
                yield _against(seen, column, lent, rows)
            elif any(others):
                yield _against(seen, column, lent)


def _against(seen: Seen, column: Column, lent: str, rows: Bools | None = None) -> Doubt:
    return seen.doubt(
        f"{column.letter} lent",
        N_("The names around this table say {name}, and “{heading}” names others."),
        N_("Name the column for what it says, such as Source or Notes, or say it under "
               "[[sheet]] in site.toml."),
        rows=column.cells.codes >= 0 if rows is None else rows,
        column=column,
        name=lent,
    )  # fmt: skip


def _tells(column: Column, field: str) -> bool:
    content = column.content
    share = {"date": content.dates, "source": content.sources, "material": content.materials}[field]
    typed = norm(column.head.text) in listed("headings", "recorded", "words")
    counted = field == "date" and content.numbers >= _MOST  # 44365 on an odometer is no day
    return share >= _MOST and not typed and not counted


def _other_months(seen: Seen, column: Column) -> Bools:
    job = seen.job
    parsed = parsed_dates(column, job.context, job.known, job.as_of)
    if parsed is None:
        return np.zeros(len(seen.rows.reason), dtype=bool)
    site = job.known.site
    days = resolve(parsed, site, job.as_of, job.context, job.order, job.dates).days
    told = ~np.isnat(days) & ~np.isnat(seen.dated.days)
    months = [d.astype("datetime64[M]") for d in (days, seen.dated.days)]
    return np.asarray(told & (months[0] != months[1]))


def _others(seen: Seen, holder: Column, column: Column) -> Bools:
    known = seen.job.known
    find: Callable[[str], str | None] = (
        known.sources.find if holder.field == "source" else known.materials.find
    )
    first, second = (
        of_cells(c.cells, lambda cell: find(as_text(cell)) or "") for c in (holder, column)
    )
    told = (first.codes >= 0) & (second.codes >= 0)
    return np.asarray(told & (first.texts() != second.texts()))
