"""What `divert read --why` says of a column or a row: how it was read, each reason with its weight."""

from __future__ import annotations

import re
from collections.abc import Iterator

import pandas as pd

from divert.core.findings import CannotRun, Finding
from divert.core.names import NameBook
from divert.core.reading import Claim, Reading, SheetTaken
from divert.core.words import N_, Text

_CELL = re.compile(r"([A-Za-z]{1,3})?(\d{1,7})?")


def why_lines(reading: Reading, place: str) -> Iterator[Text]:
    """Yield why a place ("log.xlsx!Apr 24!F", "log.xlsx!Apr 24!12") was read as it was.

    Raises CannotRun where the place is written otherwise or is none that was read.
    """
    file, *middle = [part.strip() for part in place.split("!")]
    cell = _CELL.fullmatch(middle.pop()) if middle else None
    if cell is None or not cell[0] or len(middle) > 1:
        raise CannotRun(
            Text(N_("“{place}” is no place. Write FILE!SHEET!COLUMN or FILE!SHEET!ROW, such as "
                    "“log.xlsx!Apr 24!F” or “log.xlsx!Apr 24!12”."), {"place": place})
        )  # fmt: skip
    tables = _tables(reading, file, middle[0] if middle else "")
    column, row = (cell[1] or "").upper(), int(cell[2] or 0)
    for table in tables:
        if column and not row:
            yield from _column(table, column)
    if row:
        yield from _row(reading, tables[0], row, column)


def _tables(reading: Reading, file: str, sheet: str) -> list[SheetTaken]:
    found = [s for s in reading.sheets if s.file == file and sheet in ("", s.sheet)]
    if not found:
        names = {f"{s.file}!{s.sheet}".rstrip("!"): () for s in reading.sheets}
        near = NameBook(names).nearest(f"{file}!{sheet}".rstrip("!"))
        message = N_("No sheet {place} was read. Read were: {names}.")
        if near:
            message = N_("No sheet {place} was read; did you mean “{near}”?")
        said = {
            "place": f"{file}!{sheet}".rstrip("!"),
            "near": near or "",
            "names": ", ".join(names),
        }
        raise CannotRun(Text(message, said))
    return found


def _column(table: SheetTaken, column: str) -> Iterator[Text]:
    """Yield what a column of a table was taken for and why, then what the table holds and why."""
    for letter, heading, taken in table.columns:
        if letter != column and re.sub(r"\d", "", letter) != column:
            continue
        yield Text(
            N_("{place} “{heading}”: {taken}"),
            {"place": f"{_place(table)}, {letter}", "heading": heading, "taken": taken},
        )
        yield from _claims(c for c in table.why if c.column == letter)
        yield Text(N_("The table holds: {holds}"), {"holds": Text(table.holds)})
        yield from _claims(c for c in table.why if not c.column)
        return
    where = {"place": _place(table), "column": column}
    yield Text(N_("{place}: column {column} is in no table that was read."), where)


def _claims(claims: Iterator[Claim]) -> Iterator[Text]:
    for claim in claims:
        yield Text(
            N_("   {weight} {role}: {reason}"),
            {"weight": f"{claim.weight:.2f}", "role": claim.role or "?", "reason": claim.reason},
        )


def _row(reading: Reading, table: SheetTaken, row: int, column: str) -> Iterator[Text]:
    """Yield what became of a row: what counts of it, what was set aside or skipped, and what was asked."""
    place = f"{_place(table)}, {row}"
    used = _of(reading.entries, table, row, column)
    for found, kind in zip(used["found"], used["kind"].astype(str), strict=True):
        said = {"place": place, "found": str(found), "kind": Text(kind)}
        yield Text(N_("{place}: “{found}” counts as {kind}."), said)
    for found, code in _two(_of(reading.set_aside, table, row, column), "code"):
        yield Text(N_("{place}: “{found}” is set aside: {code}."), _said(place, found, code))
    for found, reason in _two(_of(reading.skipped, table, row, column), "reason"):
        message = N_("{place}: “{found}” is skipped: {code}.") if found else N_("{place}: {code}.")
        yield Text(message, _said(place, found, reason))
    for finding in reading.findings:
        if _speaks_of(finding, table, row):
            hint = finding.hint or Text("")
            yield Text("   {message} {hint}", {"message": finding.message, "hint": hint})


def _of(frame: pd.DataFrame, table: SheetTaken, row: int, column: str) -> pd.DataFrame:
    own = frame[
        (frame["file"].astype(str) == table.file) & (frame["sheet"].astype(str) == table.sheet)
    ]
    last = own["row"] + (
        own["rows"] - 1 if "rows" in own else 0
    )  # a long empty stretch is one range
    own = own[(own["row"] <= row) & (row <= last)]
    letters = own["column"].astype(str)
    return own[(letters == column) | (letters == "")] if column and len(own) > 1 else own


def _two(frame: pd.DataFrame, name: str) -> Iterator[tuple[str, str]]:
    yield from zip(frame["found"].astype(str), frame[name].astype(str), strict=True)


def _said(place: str, found: str, code: str) -> dict[str, object]:
    return {"place": place, "found": found, "code": Text(code)}


def _speaks_of(finding: Finding, table: SheetTaken, row: int) -> bool:
    where = finding.where
    return (where.file, where.sheet or "", where.row) == (table.file, table.sheet, row)


def _place(table: SheetTaken) -> str:
    return f"{table.file}, {table.sheet}" if table.sheet else table.file
