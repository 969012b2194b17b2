"""Rows unlike the loads around them, without the names that the others bear, and odd beside that.

Such a row may carry over what was counted on an earlier sheet, whatever words it uses.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np

from divert.core.words import N_
from divert.ingest.amounts.column import VALUE
from divert.ingest.amounts.measured import Measured
from divert.ingest.amounts.sums import LEAST, equals_sum
from divert.ingest.amounts.totals import values_of
from divert.ingest.arrays import Bools, Codes, Floats, no_rows
from divert.ingest.coverage.doubt import Doubt, Seen
from divert.ingest.entries.job import row_text
from divert.ingest.grid import Cell
from divert.ingest.sheet import as_text
from divert.ingest.tables.columns import Column
from divert.ingest.tables.crew import names_the_crew

_MOST = 0.75  # of the rows at least bear a known name, else nobody can say what is usual
_LEAST = 4  # loads, of which the others show what is usual
_HALF = 0.5  # of them, for a first amount that stands so many times above the largest other one:
_ABOVE = 1.5
_FAR = 3.0  # times the next largest, wherever it stands
_QUOTED = 60  # characters of a row


def unlike_the_others(seen: Seen) -> Iterator[Doubt]:
    """Doubt rows that lack a name which the others bear, where something else is odd about them.

    It is the largest load, first or last as a balance is, or far larger than any other; or the one name
    it bears is known to nobody; or words stand on it where the other rows have numbers.
    """
    if seen.job.kind != "intake":
        return
    columns = [c for f in ("source", "material") if (c := _told(seen, f)) is not None]
    told = [t for c in columns for t in (c.cells.codes >= 0, _named(seen, c))]
    meant = [_named(seen, c, near=True) for c in columns]
    strange = _nameless(seen, columns, told) | _words_among_numbers(seen)
    odd = no_rows(len(seen.rows.reason))
    for measured in seen.measured:
        amounts = _amounts(measured)
        loads = seen.rows.open & (measured.state == VALUE) & ~np.isnat(seen.dated.days)
        rows = np.flatnonzero(loads)
        others = len(rows) - 1  # what all but one of them bear is usual, however few they are
        unmeasured = _bare(measured) & np.isnan(amounts)  # where the others have a unit
        odd[rows] |= (strange | unmeasured)[rows] & _lacks(told, rows, others)
        rows = np.flatnonzero(loads & ~np.isnan(amounts))
        odd[rows] |= _largest(amounts[rows]) & _lacks(told, rows, len(rows))
        odd[rows] |= _first_by_far(amounts[rows]) & _lacks(meant, rows, len(rows), _HALF)
    for row in np.flatnonzero(odd).tolist():
        yield _doubt(seen, row, bool(strange[row]))


def sum_under_a_name(seen: Seen) -> Iterator[Doubt]:
    """Doubt a last row that is the sum of all above it, though its name, which nobody knows, says no total.

    One column of two rows may well add up by chance.
    """
    name = _told(seen, "source") or _told(seen, "material")
    values = values_of(seen.measured) if name is not None else []
    if name is None or not values:
        return
    rows = np.flatnonzero(seen.rows.open & np.logical_or.reduce([~np.isnan(v) for v in values]))
    if len(rows) <= LEAST or _named(seen, name)[rows[-1]]:
        return
    last, above = int(rows[-1]), rows[:-1]
    several = sum(not np.isnan(v[last]) for v in values) >= LEAST or len(above) > LEAST
    if several and equals_sum(values, above, last):
        yield _doubt(seen, last, False, N_("“{text}” is the sum of all rows above it."))


def _lacks(told: Sequence[Bools], rows: Codes, least: int, most: float = _MOST) -> Bools:
    """Return which rows lack a name that most of ``least`` rows bear; ``most``: that part of them."""
    usual = [t[rows] for t in told if least and t[rows].sum() >= most * least]
    return ~np.logical_and.reduce(usual) if usual else no_rows(len(rows))


def _nameless(seen: Seen, columns: Sequence[Column], told: Sequence[Bools]) -> Bools:
    """Return the rows of one name where the others have two, and that one known to nobody.

    A row that says nowhere what it was is asked about for that.
    """
    if len(columns) < 2:
        return no_rows(len(seen.rows.reason))
    (source, known_source), (material, known_material) = told[0:2], told[2:4]
    lent = bool(seen.job.context.material) or bool(seen.rows.materials)
    whose = source & ~known_source & ~material if lent else no_rows(len(source))
    return np.asarray(whose | (material & ~known_material & ~source))


def _words_among_numbers(seen: Seen) -> Bools:
    """Return the rows with a word under a heading under which the other rows have numbers."""
    out = no_rows(len(seen.rows.reason))
    for column in seen.job.columns:
        if column.content.numbers < 0.5 or column.field == "note":
            continue
        said = column.cells.rows_of_texts(lambda text: not any(map(str.isdigit, text)))
        out |= said if said.sum() == 1 else False
    return out


def _largest(amounts: Floats) -> Bools:
    """Return which amount is the largest of several and first or last, or far larger than any other."""
    out = no_rows(len(amounts))
    if len(amounts) < _LEAST:
        return out
    place = int(np.argmax(amounts))
    others = np.delete(amounts, place).max()
    edge = place in (0, len(amounts) - 1) and amounts[place] > others
    out[place] = edge or amounts[place] > _FAR * others
    return out


def _first_by_far(amounts: Floats) -> Bools:
    """Return which amount is the first of several and far above all of them, as a balance is."""
    out = no_rows(len(amounts))
    if len(amounts) > _LEAST:
        out[0] = amounts[0] > _ABOVE * amounts[1:].max()
    return out


def _doubt(seen: Seen, row: int, strange: bool, message: str = "") -> Doubt:
    where = no_rows(len(seen.rows.reason))
    where[row] = True
    text = row_text(seen.job, row)[:_QUOTED]
    message = message or (
        N_("This lacks a name that the other rows bear, and says what none of them says: “{text}”. "
           "It may have been counted elsewhere, or be a sum.")
        if strange
        else N_("This is the largest amount of its table, and lacks a name that the others bear: “{text}”. "
                "It may have been counted elsewhere, or be a sum.")
    )  # fmt: skip
    return seen.doubt(
        f"unlike {text}",
        message,
        N_("Delete the row if it is no load; if it is one, write whose it was, and what."),
        rows=where,
        text=text,
    )


def _amounts(measured: Measured) -> Floats:
    """Return what each row says, in whichever measure most of them use."""
    told = (measured.mass_kg, measured.gross_kg, measured.volume_m3, measured.count)
    return max(told, key=lambda values: int((~np.isnan(values)).sum()))


def _bare(measured: Measured) -> Bools:
    """Return the rows that say a number and neither a unit nor a box."""
    sized = [~np.isnan(v) for v in (measured.mass_kg, measured.gross_kg, measured.volume_m3)]
    return np.asarray(~np.logical_or.reduce([*sized, measured.container != ""]))


def _told(seen: Seen, field: str) -> Column | None:
    column = seen.job.layout.shared.get(field)
    crew = field == "source" and column is not None and names_the_crew(column)
    return None if crew else column


def _named(seen: Seen, column: Column, near: bool = False) -> Bools:
    """Return the rows on which a column tells a known name; ``near``: or one spelt much like it."""
    names = seen.job.known.sources if column.field == "source" else seen.job.known.materials

    def tells(cell: Cell) -> bool:
        text = as_text(cell)
        return names.find(text) is not None or (near and names.near(text) is not None)

    return column.cells.rows_where(tells)
