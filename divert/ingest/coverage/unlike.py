"""Rows unlike the loads around them: larger than any, and without the names that the others bear.

Such a row may carry over what was counted on an earlier sheet, whatever words it uses.
"""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from divert.core.words import N_, Text
from divert.ingest.amounts.column import VALUE
from divert.ingest.amounts.measured import Measured
from divert.ingest.arrays import Bools, Floats
from divert.ingest.coverage.doubt import Doubt, Seen
from divert.ingest.entries.job import row_text
from divert.ingest.sheet import as_text
from divert.ingest.tables.columns import Column
from divert.ingest.tables.crew import names_the_crew

_MOST = 0.75  # of the rows at least bear a known name, else nobody can say what is usual
_LEAST = 4  # loads, of which the others show what is usual
_FAR = 3.0  # times the next largest, wherever it stands
_QUOTED = 60  # characters of a row


def unlike_the_others(seen: Seen) -> Iterator[Doubt]:
    """Doubt the largest load of a table where it lacks a name that the others bear.

    It stands first or last, as a balance does, or is far larger than any other.
    """
    job = seen.job
    if job.kind != "intake" or len(seen.measured) != 1:
        return
    amounts = _amounts(seen.measured[0])
    loads = seen.rows.open & (seen.measured[0].state == VALUE) & ~np.isnan(amounts)
    loads &= ~np.isnat(seen.dated.days)
    rows = np.flatnonzero(loads)
    if len(rows) < _LEAST:
        return
    largest = int(rows[np.argmax(amounts[rows])])
    others = np.delete(amounts[rows], np.argmax(amounts[rows]))
    edge = largest in (rows[0], rows[-1]) and amounts[largest] > others.max()
    if not (edge or amounts[largest] > _FAR * others.max()):
        return
    columns = [c for f in ("source", "material") if (c := _told(seen, f)) is not None]
    told = [t for c in columns for t in (c.cells.codes >= 0, _named(seen, c))]
    lacking = [not t[largest] for t in told if t[rows].mean() >= _MOST]
    if not any(lacking):
        return
    where = np.zeros(len(loads), dtype=bool)
    where[largest] = True
    text = row_text(job, largest)[:_QUOTED]
    yield Doubt(
        where,
        f"unlike {text}",
        Text(
            N_("This is the largest amount of its table, and lacks a name that the others bear: “{text}”. "
               "It may have been counted elsewhere, or be a sum."),
            {"text": text},
        ),
        Text(N_("Delete the row if it is no load; if it is one, write whose it was, and what.")),
    )  # fmt: skip


def _amounts(measured: Measured) -> Floats:
    """Return what each row says, in whichever measure most of them use."""
    told = (measured.mass_kg, measured.gross_kg, measured.volume_m3, measured.count)
    return max(told, key=lambda values: int((~np.isnan(values)).sum()))


def _told(seen: Seen, field: str) -> Column | None:
    column = seen.job.layout.shared.get(field)
    crew = field == "source" and column is not None and names_the_crew(column)
    return None if crew else column


def _named(seen: Seen, column: Column) -> Bools:
    """Return the rows on which a column tells a name that the site knows."""
    known = seen.job.known
    find = known.sources.find if column.field == "source" else known.materials.find
    said = [find(as_text(c)) is not None for c in column.cells.cells]
    return np.array([*said, False], dtype=bool)[column.cells.codes]
