"""Names nobody knows that name no source: an amount carried over from another sheet was counted there."""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import lru_cache, partial

import numpy as np

from divert.core.words import N_
from divert.ingest.coverage.doubt import Doubt, Seen
from divert.ingest.coverage.everyday import is_a_remark, is_of_state
from divert.ingest.entries.job import text_at
from divert.ingest.known import Known
from divert.ingest.lexicon import bare, phrases, words
from divert.ingest.tables.crew import names_the_crew
from divert.ingest.tables.heading_words import listed, norm
from divert.ingest.tables.labels import like_a_name

_NAMED = ("source", "material", "date", "day", "weekday", "month")
_NUMBERED = ("id", "other", "")  # where the others are the numbers of tickets and runs


@lru_cache
def _carried() -> re.Pattern[str]:
    return re.compile(rf"(?<!\w)(?:{phrases(words('carried')['words'])})(?!\w)")


def _speaks(cell: str, known: Known, people: bool) -> bool:
    """Return whether a cell speaks of an amount carried over; initials such as BF are a person's."""
    if known.names(cell) or (people and " " not in cell):
        return False
    return _carried().search(bare(cell)) is not None


def names_of_no_source(seen: Seen) -> Iterator[Doubt]:
    """Doubt the rows whose name for a source, a material or a day speaks of an amount carried over.

    So do words where the other rows bear numbers, as of tickets: "Opening balance" under "Run".
    """
    known, layout = seen.job.known, seen.job.layout
    named = [layout.shared[f] for f in _NAMED if f in layout.shared]
    numbers = [c for c in layout.columns if c.field in _NUMBERED and c.content.numbers > 0.5]
    crew = [layout.shared["by"]] if "by" in layout.shared else []
    for column in (*named, *numbers, *crew):
        speaks = partial(_speaks, known=known, people=column in crew)
        rows = column.cells.rows_of_texts(speaks) & seen.rows.open
        if column in crew and rows.sum() > 1:
            continue  # somebody of that name
        if rows.any():
            first = int(np.flatnonzero(rows)[0])
            yield seen.doubt(
                f"carried {column.field if column in (*named, *crew) else column.letter}",
                N_("“{text}” may be an amount that was counted elsewhere."),
                N_("Delete the row if it was; if it is a load, write from whom it came."),
                rows=rows,
                column=column,
                text=text_at(column, first),
            )


@lru_cache(maxsize=16384)
def _may_name(text: str, known: Known) -> bool:
    """Return whether a text holds a known name, or is made as names are: "Big kitchen", "Fresh Market".

    Some word of it is one for givers of all kinds, or each begins with a capital; the last says no state.
    """
    words = len(re.findall(r"\w+", text))
    less = known.materials.without(known.sources.without(text))
    if known.names(text) or len(less.split()) < words:
        return True
    tokens = re.findall(r"[^\W\d_]+", text)
    giver = {*map(norm, tokens)} & listed("headings", "field", "source")
    return bool(giver) or (like_a_name(text) and not is_of_state(tokens[-1]))


def remarks_for_names(seen: Seen) -> Iterator[Doubt]:
    """Doubt the loads of which a column for sources or materials names none, and says how they were."""
    known = seen.job.known
    finds = {"source": known.sources.find, "material": known.materials.find}
    for field, find in finds.items():
        column = seen.job.layout.shared.get(field)
        if column is None or seen.job.kind != "intake" or names_the_crew(column):
            continue
        texts = [c for c in column.cells.cells if isinstance(c, str)]
        remarks = [c for c in texts if not _may_name(c, known) and is_a_remark(c, known)]
        if not remarks or any(map(find, texts)) or 2 * len(remarks) < len(texts):
            continue
        yield seen.doubt(
            f"{column.letter} remarks",
            N_("The words under “{heading}” say how loads were, and not from whom or what they were."),
            N_("Name the column for what it says, such as Source or Notes, or say it under "
                   "[[sheet]] in site.toml."),
            rows=seen.rows.open,
            column=column,
        )  # fmt: skip
