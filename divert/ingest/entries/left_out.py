"""Rows and cells set aside, each with its cause and the cell at fault, and rows skipped."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

import numpy as np

from divert.core.findings import Finding, Where
from divert.core.words import Text
from divert.ingest.amounts.column import PROBLEMS
from divert.ingest.amounts.measured import Measured
from divert.ingest.arrays import NAT, Objects
from divert.ingest.entries.gathered import Gathered
from divert.ingest.entries.job import TableJob, place_in, row_text, text_at
from divert.ingest.entries.say import CODE_OF, refused
from divert.ingest.entries.strange_words import with_word
from divert.ingest.sheet import Sheet, as_text, is_number, letter
from divert.ingest.tables.columns import Column
from divert.ingest.tables.groups import Group

_MANY = 12  # refused rows of one cause and column beyond this are said in one finding
_ALIKE = (
    "unit unknown", "no scale", "no material", "date order ambiguous", "date turned round", "no year",
    "no date", "date before the start", "date in the future",
)  # fmt: skip

_DATES = ("date", "day", "month")


def set_aside(job: TableJob, group: Group, amounts: Measured, code: Objects, out: Gathered) -> None:
    """Set aside a group's rows by their codes, each with the cell at fault and a finding."""
    rows = np.flatnonzero((code != "") & (code != "void"))
    if not len(rows):
        return
    causes: dict[tuple[str, int], list[int]] = {}
    for row in rows:
        said = PROBLEMS[amounts.problem[row]] if code[row] == "problem" else str(code[row])
        column = _cause_column(job, group, amounts, int(row), said)
        if said != "not explained":  # asked once for all that hangs on it
            causes.setdefault((said, column.index), []).append(int(row))
        out.set_aside.append(_aside_row(job, int(row), column, said))
    for (said, index), members in causes.items():
        column = job.by_place[index]
        one_cause = len(members) > _MANY and said in _ALIKE
        one = one_cause or _told_nowhere(job, members, column, said)
        groups = [members] if one else [[m] for m in members]
        for rows_said in groups:
            out.findings.append(_finding(job, rows_said, column, said))


def _told_nowhere(job: TableJob, rows: Sequence[int], column: Column, said: str) -> bool:
    """Return whether a table lacks what its rows lack: a unit of bare numbers, days, or what it was."""
    if said == "unit unknown":
        return all(is_number(text_at(column, row)) for row in rows)
    return said in ("no date", "no material") and column.field not in (
        *_DATES,
        "material",
        "product",
    )


def _aside_row(
    job: TableJob, row: int, column: Column, said: str
) -> tuple[str, str, int, str, str, str]:
    code = CODE_OF.get(said, said)
    return (
        job.sheet.file,
        job.sheet.name,
        row + job.table.first + 1,
        column.letter,
        text_at(column, row),
        code,
    )


def _cause_column(job: TableJob, group: Group, amounts: Measured, row: int, said: str) -> Column:
    shared = job.layout.shared
    if said.startswith(("no date", "no year", "date")) and (
        date := shared.get("date") or shared.get("day") or shared.get("month")
    ):
        return date
    if said == "no material" and (material := shared.get("material") or shared.get("product")):
        return material
    at = int(amounts.where[row])
    return job.by_place.get(at, group.first) if said in PROBLEMS and at else group.first


def _finding(job: TableJob, rows: Sequence[int], column: Column, said: str) -> Finding:
    if said == "no date" and column.field in _DATES and not text_at(column, rows[0]):
        said = "date missing"
    message, hint = refused(said, job.as_of, job.known.site.started)
    if said in ("unit unknown", "quantity unreadable"):
        message, hint = with_word(message, hint, text_at(column, rows[0]), column.field, job.known)
    code = CODE_OF.get(said, said)
    name = f"{job.sheet.file}!{job.sheet.name}!{column.letter}" if len(rows) > 1 else ""
    return Finding(
        "refused",
        code,
        message,
        place_in(job, rows[0], column),
        hint,
        text_at(column, rows[0]),
        len(rows),
        name,
    )


def refuse_row(job: TableJob, row: int, column: Column, said: str, out: Gathered) -> None:
    """Set aside one row, with its finding."""
    if said in (
        "no date",
        "no year",
        "date order ambiguous",
        "date in the future",
        "date before the start",
    ):
        column = job.layout.shared.get("date", column)
    out.set_aside.append(_aside_row(job, row, column, said))
    out.findings.append(_finding(job, [row], column, said))


def skip_gap(job: TableJob, row: int, count: int, out: Gathered) -> None:
    """Skip ``count`` empty rows from one on, as one range."""
    first = row + job.table.first + 1
    out.skipped.append((job.sheet.file, job.sheet.name, first, "", "", "blank", NAT, count))


def skip_row(
    job: TableJob, row: int, column: Column | None, reason: str, day: np.datetime64, out: Gathered
) -> None:
    """Skip one row, or one cell of a wide table, with the reason."""
    text = text_at(column, row) if column is not None else row_text(job, row)
    out.skipped.append((job.sheet.file, job.sheet.name, row + job.table.first + 1,
                        column.letter if column is not None else "", text, reason, day))  # fmt: skip


def skip_rows(
    sheet: Sheet,
    rows: Iterable[int],
    reason: str,
    out: Gathered,
    left: int = 0,
    right: int | None = None,
) -> int:
    """Skip some rows for one reason, blank ones as blank; returns how many."""
    count = 0
    end = None if right is None else right + 1
    for row in rows:
        cells = [c for c in sheet.row(row)[left:end] if c is not None]
        text = " | ".join(as_text(c) for c in cells)[:200]
        said = reason if cells else "blank"
        out.skipped.append((sheet.file, sheet.name, row + 1, "", text, said, NAT))
        count += 1
    return count


def set_cells_aside(
    sheet: Sheet,
    cells: Sequence[tuple[int, int, str]],
    message: Text,
    hint: Text,
    out: Gathered,
    code: str = "quantity unreadable",
) -> None:
    """Set some cells of a sheet aside (row and column from 0, text), with one finding for all."""
    out.set_aside += [(sheet.file, sheet.name, r + 1, letter(c), t, code) for r, c, t in cells]
    row, column, text = cells[0]
    where = Where(sheet.file, sheet.name, row + 1, letter(column))
    out.findings.append(Finding("refused", code, message, where, hint, text, len(cells)))
