"""Findings moved to the cell they are about: the source's or what was removed, not the quantity's."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace

from divert.convert.by_sheet import above, tables_by_sheet
from divert.core.findings import Finding, Where
from divert.core.reading import SheetTaken

_FIELDS = {
    "unknown source": ("source",),
    "unknown material": ("material", "product"),
    "unknown container": ("container", "unit"),
    "source not recorded": ("source",),
    "contamination high": ("removed", "contamination"),
}


def at_their_cells(findings: Iterable[Finding], sheets: Sequence[SheetTaken]) -> list[Finding]:
    """Return the findings, each pointing at the column that it is about."""
    tables = tables_by_sheet(sheets)
    return [_moved(finding, sheets, tables) for finding in findings]


def _moved(
    finding: Finding, sheets: Sequence[SheetTaken], tables: Mapping[tuple[str, str], list[int]]
) -> Finding:
    where = finding.where
    fields = _FIELDS.get(finding.code)
    if fields is None or where.row is None:
        return finding
    of_sheet = tables.get((where.file or "", where.sheet or ""), [])
    cell = f"{where.column}{where.row}"
    beside = next((sheets[p].cells[cell] for p in of_sheet if cell in sheets[p].cells), None)
    if beside is not None:
        return _moved_to_cell(finding, beside, fields)
    table = next(iter(above(where.row, of_sheet, sheets)), None)
    if table is None:
        return finding
    columns = sheets[table].columns
    letters = [at for at, _, taken in columns if taken.split(" (")[0] in fields]
    if len(letters) != 1:
        return finding
    found = str(finding.message.values.get("name", finding.found))
    return replace(
        finding, where=Where(where.file, where.sheet, where.row, letters[0]), found=found
    )


def _moved_to_cell(finding: Finding, beside: Mapping[str, str], fields: Sequence[str]) -> Finding:
    """Return a finding at the cell of its field, where a sheet is no table as it lies."""
    at = next((beside[f] for f in fields if f in beside), None)
    if at is None:
        return finding
    letters = at.rstrip("0123456789")
    where = replace(finding.where, row=int(at[len(letters) :]), column=letters)
    return replace(
        finding, where=where, found=str(finding.message.values.get("name", finding.found))
    )
