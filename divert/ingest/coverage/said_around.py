"""Amounts that stand in words over a table or between its loads: "Pallet = 40 lb" may change them all."""

from __future__ import annotations

import re
from collections.abc import Iterator

import numpy as np

from divert.core.words import N_, Text
from divert.ingest.cells.mark import is_total_label
from divert.ingest.cells.unit import read_cell
from divert.ingest.coverage.doubt import Doubt, Seen
from divert.ingest.entries.job import row_text
from divert.ingest.known import Known
from divert.ingest.lexicon import bare

_NUMBER_AND_WORD = re.compile(r"(?<![\w.,])\d[\d.,]*\s*([a-z]+)")
_WEIGHTS = ("weight", "gross", "quantity")


def amounts_in_words(seen: Seen) -> Iterator[Doubt]:
    """Doubt the weights of a table beside a line of words with a weight in it that is no total.

    What is weighed with each load, or what was taken off already, is said so; so is a goal. Which of
    them it is no number tells.
    """
    job = seen.job
    if job.kind not in ("intake", "weigh-in"):
        return
    weighed = [g for g in job.layout.groups if any(g.columns.get(f) for f in _WEIGHTS)]
    if not weighed or all(g.columns.get("tare") for g in weighed):
        return
    alone = np.flatnonzero((seen.rows.reason == "note") & (seen.rows.filled == 1)).tolist()
    for text in (*job.table.titles, *(row_text(job, row) for row in alone)):
        if is_total_label(text) or not _tells_a_weight(text, job.known):
            continue
        yield Doubt(
            np.asarray(seen.rows.open),
            text[:60],
            Text(
                N_("“{text}” tells a weight, and I do not know what it says of the loads "
                   "beside it."),
                {"text": text},
            ),
            Text(
                N_("If it is weighed with each load, add a column Tare; if it says nothing of them, "
                   "move it to a sheet of its own."),
            ),
            columns=frozenset().union(*(g.places for g in weighed)),
        )  # fmt: skip
        return


def _tells_a_weight(text: str, known: Known) -> bool:
    """Return whether a number with a unit of mass stands in a text, and words beside it."""
    plain = bare(text)
    for found in _NUMBER_AND_WORD.finditer(plain):
        unit = read_cell(found[1], known.trade.meaning)
        if unit is not None and unit.dimension == "mass":
            return bool(re.search(r"[a-z]{3}", plain.replace(found[0], " ")))
    return False
