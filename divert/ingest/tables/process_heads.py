"""The columns of a process log, where ``[[sheet]]`` says that a sheet holds one."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import replace
from functools import lru_cache

from divert.ingest.lexicon import words
from divert.ingest.tables.columns import IGNORE, Column
from divert.ingest.tables.heading import Heading
from divert.ingest.tables.heading_words import norm
from divert.ingest.tables.table import Head

MEASURES = ("temperature", "moisture", "turned")


@lru_cache
def _words() -> dict[str, str]:
    """Return what each phrase of the word list names."""
    listed = words("process")["field"]
    return {norm(phrase): name for name, phrases in listed.items() for phrase in phrases}


def measure_of(heading: str) -> str:
    """Return "temperature", "moisture", "turned" or "pile" as a heading says, "" where it says none."""
    said = norm(heading)
    if said in _words():
        return _words()[said]
    met = {_words()[token] for token in said.split() if token in _words()}
    found = [name for name in (*MEASURES, "pile") if name in met]
    return found[0] if found else ""


def looks_like_a_process_log(heads: Sequence[Head]) -> bool:
    """Return whether headings name a date and something measured of a pile."""
    fields = {head.heading.field for head in heads}
    return "date" in fields and any(measure_of(head.text) in MEASURES for head in heads)


def with_measures(columns: Sequence[Column], pointed: Collection[int]) -> list[Column]:
    """Return the columns of a process log: what was measured counts, the pile names it.

    ``pointed``: the places of columns whose field the rule itself names.
    """
    named = any(c.index in pointed and c.field == "name" for c in columns)
    out = []
    for column in columns:
        what = measure_of(column.head.text)
        if column.index not in pointed and column.field not in (IGNORE, "date"):
            if what in MEASURES:
                plain = Heading(field="quantity", said=True)
                head = replace(column.head, heading=plain)
                column = replace(column, field="quantity", head=head)
            elif what == "pile" and not named:
                column = replace(column, field="name")
                named = True
        out.append(column)
    return out
