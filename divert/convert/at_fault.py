"""Findings moved to the cell they are about: the source's or what was removed, not the quantity's."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace

from divert.findings import Finding, Where
from divert.reading import SheetTaken

_FIELDS = {
    "unknown source": ("source",),
    "unknown material": ("material", "product"),
    "unknown container": ("container", "unit"),
    "source not recorded": ("source",),
    "contamination high": ("removed", "contamination"),
}


def at_their_cells(findings: Iterable[Finding], sheets: Sequence[SheetTaken]) -> list[Finding]:
    """Return the findings, each pointing at the column that it is about."""
    return [_moved(finding, sheets) for finding in findings]


def _moved(finding: Finding, sheets: Sequence[SheetTaken]) -> Finding:
    where = finding.where
    fields = _FIELDS.get(finding.code)
    if fields is None or where.row is None:
        return finding
    tables = [
        s for s in sheets
        if (s.file, s.sheet) == (where.file, where.sheet or "") and (s.heading_row or 0) < where.row
    ]  # fmt: skip
    if not tables:
        return finding
    table = max(tables, key=lambda s: s.heading_row or 0)
    letters = [at for at, _, taken in table.columns if taken.split(" (")[0] in fields]
    if len(letters) != 1:
        return finding
    found = str(finding.message.values.get("name", finding.found))
    return replace(
        finding, where=Where(where.file, where.sheet, where.row, letters[0]), found=found
    )
