"""What was read in a turned sheet, told of the places in the user's own."""

from __future__ import annotations

from dataclasses import replace
from typing import TypeVar

import numpy as np

from divert.findings import Finding, Where
from divert.ingest.coded import Part, of_texts
from divert.ingest.entries.gathered import Gathered
from divert.ingest.sheet import Origin, Sheet, as_text, column_of, letter

_K = TypeVar("_K")
_LONGEST = 200  # characters of a row that is listed


def put_back(found: Gathered, turned: Sheet, out: Gathered) -> None:
    """Add what was gathered from a turned sheet to ``out``, each place that of the user's cell."""
    origin = turned.origin
    if origin is None:
        raise ValueError(turned.name)
    out.parts += [_part(p, origin) for p in found.parts]
    for file, sheet, row, column, text, code in found.set_aside:
        r, c = _home(origin, row, column)
        out.set_aside.append((file, sheet, r + 1, letter(c), _text(origin, r, c) or text, code))
    for file, sheet, row, column, text, reason, day in found.skipped:
        r, c = _home(origin, row, column)
        if column:
            said = _text(origin, r, c) or text
            out.skipped.append((file, sheet, r + 1, letter(c), said, reason, day))
            continue
        places = _places(turned, origin, row - 1)
        if not places or (reason == "heading" and not origin.headed):
            continue  # a line between two tables, or a heading that is no row of the user's
        said = " | ".join(_text(origin, *place) for place in places)[:_LONGEST]
        whole = len(places) == sum(cell is not None for cell in origin.sheet.row(r))
        out.skipped.append((file, sheet, r + 1, "" if whole else letter(c), said, reason, day))
    out.findings += [_finding(f, origin) for f in found.findings]
    out.by_site_dates += [(n, _where(w, origin), text) for n, w, text in found.by_site_dates]
    for word, (count, where, text) in found.asked.items():
        so_far, place, first = out.asked.get(word, (0, _where(where, origin), text))
        out.asked[word] = (so_far + count, place, first)
    _counted(found.sourceless, out.sourceless, origin)
    for name in ("fates", "statuses", "much"):
        _counted(getattr(found, name), getattr(out, name), origin)


def _counted(
    found: dict[_K, tuple[int, Where]], out: dict[_K, tuple[int, Where]], origin: Origin
) -> None:
    for key, (count, where) in found.items():
        so_far, place = out.get(key, (0, _where(where, origin)))
        out[key] = (so_far + count, place)


def _home(origin: Origin, row: int, column: str | None) -> tuple[int, int]:
    """Return the place (from 0) of a turned cell: its row from 1, its letter or none for the row's."""
    c = min(column_of(column), origin.rows.shape[1] - 1) if column else 0
    return int(origin.rows[row - 1, c]), int(origin.columns[row - 1, c])


def _text(origin: Origin, row: int, column: int) -> str:
    return as_text(origin.sheet.columns[column].at(row))


def _places(turned: Sheet, origin: Origin, row: int) -> list[tuple[int, int]]:
    """Return where in the user's sheet the cells of one turned line stand."""
    return list(dict.fromkeys(
        (int(origin.rows[row, c]), int(origin.columns[row, c]))
        for c, column in enumerate(turned.columns) if column.at(row) is not None
    ))  # fmt: skip


def _where(where: Where, origin: Origin) -> Where:
    if where.row is None or not 1 <= where.row <= len(origin.rows):
        return where
    row, column = _home(origin, where.row, where.column)
    return replace(where, row=row + 1, column=letter(column))


def _finding(finding: Finding, origin: Origin) -> Finding:
    where = _where(finding.where, origin)
    if where is finding.where:
        return finding
    whole_column = f"{where.file}!{where.sheet}!{finding.where.column}"
    row, column = (where.row or 1) - 1, column_of(where.column or "A")
    return replace(
        finding,
        where=where,
        found=(_text(origin, row, column) or finding.found) if finding.found else "",
        name=str(where) if finding.name == whole_column else finding.name,
    )


def _part(part: Part, origin: Origin) -> Part:
    letters = part.texts["column"].texts()
    places = [_home(origin, int(r), str(c)) for r, c in zip(part.rows, letters, strict=True)]
    rows = np.array([r + 1 for r, _ in places], dtype=np.int64)
    columns = np.array([letter(c) for _, c in places], dtype=object)
    return replace(part, rows=rows, texts=part.texts | {"column": of_texts(columns)})
