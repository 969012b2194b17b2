"""Containers counted twice on one row, and weights beside a count that nothing takes in."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from divert.core.words import N_, Text
from divert.ingest.coverage.doubt import Doubt, Seen
from divert.ingest.tables.columns import IGNORE
from divert.ingest.tables.groups import Group

_KINDS = ("intake", "weigh-in")
_MEASURES = ("weight", "gross", "quantity", "volume")


def boxes_counted_twice(seen: Seen) -> Iterator[Doubt]:
    """Doubt loads that two columns count in the same container, under heads in strange words.

    "With pail" and "Pail alone" may be two weights; "Full pails" and "Half pails" are two counts.
    """
    job = seen.job
    if job.kind not in _KINDS:
        return
    alike: dict[tuple[object, ...], list[Group]] = {}
    for group in job.layout.groups:
        label = group.label
        counts = group.columns.get("count", [])
        if not counts or any(group.columns.get(f) for f in _MEASURES):
            continue
        heading = counts[0].heading
        named = label.source, label.material, label.day, label.weekday, label.number, label.year
        if label.container and heading.label and heading.fill is None and not any(named):
            alike.setdefault((label.container, label.size_m3), []).append(group)
    for groups in alike.values():
        if len(groups) < 2:
            continue
        first, second = (g.columns["count"][0] for g in groups[:2])
        filled = np.logical_or.reduce([g.first.cells.codes >= 0 for g in groups])
        yield Doubt(
            np.asarray(filled & seen.rows.open),
            f"{first.letter} twice",
            Text(
                N_("“{first}” and “{second}” may count containers, or weigh them full and empty."),
                {"first": first.head.text, "second": second.head.text},
            ),
            Text(N_("Say it in the headings: Number of pails, or Gross (lb) and Tare (lb).")),
            first,
            columns=frozenset(g.first.index for g in groups),
        )  # fmt: skip


def weights_left_aside(seen: Seen) -> Iterator[Doubt]:
    """Doubt counts of containers beside a weight that is not read: it may say what they hold."""
    job = seen.job
    if job.kind not in _KINDS or len(job.layout.groups) != 1:
        return
    group, amounts = job.layout.groups[0], seen.measured[0]
    if not group.columns.get("count") or any(group.columns.get(f) for f in _MEASURES):
        return
    own = {c.index for cs in group.columns.values() for c in cs if c.field not in ("each", "tare")}
    for column in job.layout.columns:
        unit = column.heading.unit
        plain = unit is not None and unit.dimension == "mass" and not column.heading.label
        weighs = column.field == "each" or plain
        aside = column in job.layout.unread or column.field == "each"
        if not (weighs and aside) or column.index in own or column.field in (IGNORE, "price"):
            continue
        lost = (column.cells.codes >= 0) & np.isnan(amounts.mass_kg) & np.isnan(amounts.gross_kg)
        if column.content.numbers > 0.5:
            yield Doubt(
                np.asarray(lost & seen.rows.open),
                f"{column.letter} weighs",
                Text(
                    N_("“{heading}” may say what these containers weighed, and I do not know how."),
                    {"heading": column.head.text},
                ),
                Text(N_("Name it Weight (lb), Gross (lb) or lb per tote, or say it under [[sheet]].")),
                column,
            )  # fmt: skip
            return
