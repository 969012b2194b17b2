"""Columns that were not read, though what stands in them may belong to the loads."""

from __future__ import annotations

from collections.abc import Iterator

from divert.core.words import N_
from divert.ingest.coverage.doubt import Doubt, Seen
from divert.ingest.tables.columns import Column
from divert.ingest.tables.crew import names_the_crew

_QUIET = ("time", "by", "id", "name", "condition", "destination")  # words of these may be names too
_LONGEST = 40  # characters of a name


def unread_names(seen: Seen) -> Iterator[Doubt]:
    """Doubt the loads of a table that names no source, beside words that may be the names of theirs."""
    job = seen.job
    whose = job.layout.shared.get("source")
    named = bool(job.context.source or seen.rows.sources)
    told = whose is not None and whose.content.filled > 0 and not names_the_crew(whose)
    quiet = [c for f, c in job.layout.shared.items() if f in _QUIET and c.content.sources > 0]
    others = bool(quiet) or any(c.content.sources > 0 for c in job.layout.unread)
    if whose is not None and whose.content.sources == 0:
        told = told and not others
    named = named or told
    across = {g.label.source for g in job.layout.groups} - {""}
    alone = len(job.layout.groups) == 1  # "Pulp (lb)" over the only amounts names nobody
    if others or alone:  # "Bathroom scale" is nobody's where a column names who came
        across = {name for name in across if job.known.sources.find(name)}
    if job.kind != "intake" or named or across:
        return
    for column in (*job.layout.unread, *quiet):
        if column.field in ("", "other", *_QUIET) and _may_name(column):
            rows = (column.cells.codes >= 0) & seen.rows.open
            if rows.sum() <= 0.5 * seen.rows.open.sum():
                continue
            yield seen.doubt(
                f"{column.letter} source",
                N_("The words under “{heading}” may say from whom these loads came."),
                N_("Name the column for what it says, such as Source or Notes, or say it under "
                       "[[sheet]] in site.toml."),
                rows=rows,
                column=column,
            )  # fmt: skip
            return


def _may_name(column: Column) -> bool:
    texts = [c for c in column.cells.cells if isinstance(c, str)]
    content = column.content
    words = content.numbers < 0.3 and content.dates < 0.5 and content.quantities < 0.3
    return bool(words and texts and all(len(t) <= _LONGEST for t in texts))
