"""Words around loads that may make their weights others: "Pallet = 40 lb" over them, "with the tote"."""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import lru_cache

import numpy as np

from divert.core.words import N_
from divert.ingest.arrays import no_rows
from divert.ingest.cells.mark import is_total_label
from divert.ingest.cells.unit import read_cell
from divert.ingest.coverage.doubt import Doubt, Seen
from divert.ingest.coverage.everyday import is_small
from divert.ingest.entries.job import row_text
from divert.ingest.known import Known
from divert.ingest.lexicon import LETTERS, bare, words
from divert.ingest.sheet import as_text

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
        if is_total_label(text) or not tells_a_weight(text, job.known):
            continue
        yield seen.doubt(
            text[:60],
            N_("“{text}” tells a weight, and I do not know what it says of the loads "
                   "beside it."),
            N_("If it is weighed with each load, add a column Tare; if it says nothing of them, "
                   "move it to a sheet of its own."),
            columns=frozenset().union(*(g.places for g in weighed)),
            text=text,
        )  # fmt: skip
        return


def weighed_with_its_box(seen: Seen) -> Iterator[Doubt]:
    """Doubt the weights beside which a note says nothing but how they were weighed: "bucket is 2 lb"."""
    job = seen.job
    if job.kind not in ("intake", "weigh-in"):
        return
    weighed = [
        (g, m)
        for g, m in zip(job.layout.groups, seen.measured, strict=True)
        if not (g.columns.get("tare") or g.columns.get("gross"))
    ]
    loads = np.logical_or.reduce(
        [no_rows(len(seen.rows.reason)), *(~np.isnan(m.mass_kg) for _, m in weighed)]
    )
    if not loads.any():
        return
    for column in (*job.layout.notes, *job.layout.unread):
        said = [isinstance(c, str) and tells_its_box(c, job.known) for c in column.cells.cells]
        for code in np.flatnonzero(said).tolist():
            note = as_text(column.cells.cells[code])
            yield seen.doubt(
                f"{note[:60]} weighed",
                N_("“{note}” may say that the weight is not that of the load alone."),
                N_("Write what the load alone weighed, without the note; or add a column Tare."),
                rows=(column.cells.codes == code) & seen.rows.open & loads,
                column=column,
                columns=frozenset().union(*(g.places for g, _ in weighed)),
                note=note,
            )  # fmt: skip


@lru_cache(maxsize=8192)
def tells_its_box(text: str, known: Known) -> bool:
    """Return whether a text is about weighing alone, and says that a box, or gross, was weighed."""
    tokens = LETTERS.findall(bare(text))
    of_weighing = _of_weighing()
    held_with = not of_weighing["with"].isdisjoint(tokens) or tells_a_weight(text, known)
    gross = not of_weighing["gross"].isdisjoint(tokens)
    if len(tokens) > _MOST or not (held_with or gross) or {"net", "nette"} & set(tokens):
        return False
    boxes = {t for t in tokens if t in of_weighing["held"] or known.containers.take(t, 0)}
    return (gross or bool(boxes)) and all(
        t in boxes
        or any(t in listed for listed in of_weighing.values())
        or is_small(t)
        or read_cell(t, known.trade.meaning)
        for t in tokens
    )


@lru_cache
def _of_weighing() -> dict[str, frozenset[str]]:
    lists = words("weighings")
    names = ("held", "full", "empty", "net", "filler", "with", "gross")
    return {name: frozenset(lists[name]) for name in names}


_MOST = 12  # words of such a note


def tells_a_weight(text: str, known: Known) -> bool:
    """Return whether a number with a unit of mass stands in a text, and words beside it."""
    if not any(map(str.isdigit, text)):
        return False
    plain = bare(text)
    for found in _NUMBER_AND_WORD.finditer(plain):
        unit = read_cell(found[1], known.trade.meaning)
        if unit is not None and unit.dimension == "mass":
            return bool(re.search(r"[a-z]{3}", plain.replace(found[0], " ")))
    return False
