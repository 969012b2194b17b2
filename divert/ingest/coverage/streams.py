"""Rubbish weighed beside food: it may have been picked out of it, or thrown away by its side."""

from __future__ import annotations

from collections.abc import Iterator

from divert.core.words import N_
from divert.ingest.coverage.doubt import Doubt, Seen
from divert.ingest.tables.apart import may_be_apart


def parted_streams(seen: Seen) -> Iterator[Doubt]:
    """Doubt the loads from which rubbish would be taken off that may never have been in them."""
    job = seen.job
    if job.kind not in ("intake", "weigh-in"):
        return
    for group, amounts in zip(job.layout.groups, seen.measured, strict=True):
        column = job.layout.column(group, "removed")
        if column is None or not may_be_apart(column, group.label.material, group.first.head.text):
            continue
        rows = seen.rows.open & (amounts.removed_kg > 0)
        yield seen.doubt(
            f"{column.letter} apart",
            N_("“{heading}” may have been picked out of these loads, or thrown away beside them."),
            N_("Say it in the heading: Trash picked out, or Trash of the site itself; or under "
                   "[[sheet]] in site.toml."),
            rows=rows,
            column=column,
            columns=frozenset((group.first.index,)),
        )  # fmt: skip
