"""What an entry says, as one line: day, source, material and amount, whatever row it stands in."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping, Sequence
from dataclasses import replace

import numpy as np
import pandas as pd

from divert.core.findings import Finding
from divert.core.marks import mixed

Place = tuple[str, str, int, str]
_NAMES = ("date", "file", "sheet", "column", "source", "material", "name", "found")


def content_of(entries: pd.DataFrame, row: int) -> str:
    """Return what an entry says: "2025-03-04, Alder Street drop-off, kitchen scraps, 12 lb"."""
    return contents_of(entries.iloc[[row]])[0]


def contents_of(entries: pd.DataFrame) -> list[str]:
    """Return what each of some entries says."""
    days = entries["date"].to_numpy().astype("datetime64[D]").tolist()
    said = _texts(entries, "source", "material", "name", "found")
    return [
        ", ".join(" ".join(part.split()) for part in parts if part)
        for day, words in zip(days, said, strict=True)
        for parts in (("" if day is None else day.isoformat(), *words),)
    ]


def _texts(entries: pd.DataFrame, *names: str) -> list[tuple[str, ...]]:
    """Return some columns of entries as texts, row by row, "" where there is none."""
    columns = (map(_text, entries[name].astype(object).tolist()) for name in names)
    return list(zip(*columns, strict=True))


def with_contents(
    findings: Sequence[Finding], entries: pd.DataFrame, set_aside: pd.DataFrame
) -> list[Finding]:
    """Return the findings, each question about one row with what the row says and its day.

    Of several entries that say the same, the second gains "#2" and so on. A row that was set aside
    before it was read whole is told by its file and its amount.
    """
    asked = [
        f for f in findings
        if f.level != "note" and f.where.row is not None and not f.name and not f.content
    ]  # fmt: skip
    if not asked:
        return list(findings)
    wanted = {_place(f) for f in asked}
    told = _entries_at(wanted, entries) | _refused_at(wanted, set_aside)
    return [_told(f, told) for f in findings]


def _told(finding: Finding, told: Mapping[Place, tuple[str, dt.date | None]]) -> Finding:
    if finding.level == "note" or finding.where.row is None or finding.name or finding.content:
        return finding
    content, day = told.get(_place(finding), ("", None))
    days = finding.days
    if days is None and day is not None:
        days = (day, day)
    return replace(finding, content=content, days=days)


def _place(finding: Finding) -> Place:
    where = finding.where
    return where.file or "", where.sheet or "", where.row or 0, where.column or ""


def _entries_at(
    wanted: set[Place], entries: pd.DataFrame
) -> dict[Place, tuple[str, dt.date | None]]:
    numbers, files = entries["row"].to_numpy().astype(np.int64), entries["file"].cat
    code_of = {str(file): code for code, file in enumerate(files.categories)}
    lines = {(code_of[file], row) for file, _, row, _ in wanted if file in code_of}
    most = 1 + int(numbers.max(initial=0))
    line = files.codes.to_numpy().astype(np.int64) * most + numbers
    rows = np.flatnonzero(np.isin(line, [code * most + row for code, row in lines if row < most]))
    if not len(rows):
        return {}
    occurrence = _occurrences(entries, rows)
    some = entries[[*_NAMES]].iloc[rows]  # a column at a time; each cell of a frame costs as much
    places, contents = _texts(some, "file", "sheet", "column"), contents_of(some)
    days = some["date"].to_numpy().astype("datetime64[D]").tolist()
    found: dict[Place, tuple[str, dt.date | None]] = {}
    for row, (file, sheet, column), content, day in zip(
        rows.tolist(), places, contents, days, strict=True
    ):
        place = (file, sheet, int(numbers[row]), column)
        if place in wanted:
            again = f" #{occurrence[row]}" if occurrence[row] > 1 else ""
            found[place] = f"{content}{again}", day
    return found


def _occurrences(entries: pd.DataFrame, rows: np.ndarray) -> dict[int, int]:
    """Return for each of some rows which one it is of the entries that say just the same, from 1."""
    days = entries["date"].to_numpy().view(np.int64)
    names = [entries[name].cat.codes.to_numpy() for name in ("source", "material", "name")]
    marks = days.view(np.uint64)
    for codes in names:
        marks = mixed(marks, codes.astype(np.int64).view(np.uint64))
    alike = np.flatnonzero(np.isin(marks, marks[rows]))  # and few others, of which none is asked
    found = entries["found"].to_numpy()
    met: dict[tuple[object, ...], int] = {}
    out: dict[int, int] = {}
    columns = (one[alike].tolist() for one in (days, found, *names))
    for row, *said in zip(alike.tolist(), *columns, strict=True):
        key = tuple(said)
        out[row] = met[key] = met.get(key, 0) + 1
    return out


def _refused_at(
    wanted: set[Place], set_aside: pd.DataFrame
) -> dict[Place, tuple[str, dt.date | None]]:
    met: dict[tuple[str, str, str], int] = {}
    found: dict[Place, tuple[str, dt.date | None]] = {}
    names = ("file", "sheet", "row", "column", "found", "code")
    for file, sheet, row, column, text, code in zip(*(set_aside[n] for n in names), strict=True):
        said = " ".join(str(text).split())
        if not said:
            continue  # its cell says more than its file alone, which names a class
        key = (str(file), said, str(code))
        met[key] = met.get(key, 0) + 1
        place = (str(file), _text(sheet), int(row), _text(column))
        if place in wanted:
            again = f" #{met[key]}" if met[key] > 1 else ""
            found[place] = f"{', '.join(p for p in (str(file), said) if p)}{again}", None
    return found


def _text(value: object) -> str:
    return value if isinstance(value, str) else ""
