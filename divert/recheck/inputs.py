"""Evidence cells back to inputs: what was entered, never what a formula is said to give."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, fields
from typing import Any

import numpy as np
import pandas as pd

from divert.evidence.book import Book
from divert.evidence.derived import derive, measured_values
from divert.evidence.lines import NUMBER, TEXT
from divert.evidence.per_kg import LandfillClass, Process
from divert.workbook.cells import EVERY_FIGURE, FACTORS, LEDGER
from divert.workbook.factors_sheet import CLASSES, NUMBERS, PROCESSES
from divert.workbook.ledger_sheet import FIRST_ROW, KEY_ROW

Rows = Sequence[Sequence[Any]]
_MEASURED = "measured."


@dataclass(frozen=True, slots=True)
class Standing:
    """A figure as the sheet of every figure has it: value, low and high (None where it has none)."""

    value: float | None
    low: float | None
    high: float | None


@dataclass(frozen=True)
class Inputs:
    """Evidence ready to be worked out again: lines, numbers by key, and what every figure is said to be.

    ``lacks``: columns of inputs that the Ledger sheet has not, for a version before them made it.
    """

    book: Book
    numbers: Mapping[str, float]
    standing: Mapping[tuple[str, str], Standing]
    shown_otherwise: tuple[str, ...] = ()
    lacks: frozenset[str] = frozenset()


class NoInputs(Exception):  # noqa: N818 - reads as what it is
    """The cells do not make evidence: a sheet, a table or a column is missing or out of place."""


def inputs_of(cells: Mapping[str, Rows]) -> Inputs:
    """Return the inputs of an evidence workbook; raises NoInputs where they cannot be made out."""
    try:
        lines = _lines(cells[LEDGER])
        tables = _tables(cells[FACTORS])
        numbers = {
            str(row["key"]): _float(row["value"]) for row in tables[NUMBERS] if row["key"] != ""
        }
        classes = [_made(LandfillClass, row) for row in tables[CLASSES]]
        processes = [_made(Process, row) for row in tables[PROCESSES]]
        measured = [key for key in numbers if key.startswith(_MEASURED)]
        values = numbers | measured_values(lines, measured)
        derived = derive(lines, values, classes, processes)
        book = Book(derived, values, classes, processes)
        shown = _shown_otherwise(cells[LEDGER], derived)
        lacks = {*TEXT, *NUMBER} - {str(key) for key in cells[LEDGER][KEY_ROW]}
        return Inputs(book, numbers, _standing(cells[EVERY_FIGURE]), shown, frozenset(lacks))
    except NoInputs:
        raise
    except (ArithmeticError, LookupError, TypeError, ValueError) as error:
        raise NoInputs from error


def _shown_otherwise(rows: Rows, derived: pd.DataFrame) -> tuple[str, ...]:
    """Return the columns of the ledger sheet whose cells show another result than their formulas give.

    A program that does not calculate shows what was stored.
    """
    keys = [str(key) for key in rows[KEY_ROW]]
    body = [row for row in rows[FIRST_ROW:] if any(cell != "" for cell in row)]
    wrong = []
    for place, key in enumerate(keys):
        if key in NUMBER or key in TEXT or key not in derived or key == "date":
            continue
        shown = np.array([_float(row[place]) if place < len(row) else np.nan for row in body])
        made = pd.to_numeric(derived[key], errors="coerce").to_numpy(dtype=float)
        there = ~np.isnan(shown)
        if not np.allclose(shown[there], np.nan_to_num(made[there]), rtol=1e-6, atol=1e-6):
            wrong.append(key)
    return tuple(wrong)


def _lines(rows: Rows) -> pd.DataFrame:
    keys = [str(key) for key in rows[KEY_ROW]]
    if "kind" not in keys or "date" not in keys:
        raise NoInputs
    body = [row for row in rows[FIRST_ROW:] if any(cell != "" for cell in row)]
    columns = {key: [row[place] if place < len(row) else "" for row in body]
               for place, key in enumerate(keys)}  # fmt: skip
    days = np.array([_day(cell) for cell in columns["date"]], dtype="datetime64[s]")
    out: dict[str, Any] = {"date": days}
    for name in TEXT:
        out[name] = [str(cell) for cell in columns.get(name, [""] * len(body))]
    for name in NUMBER:
        out[name] = [_float(cell) for cell in columns.get(name, [""] * len(body))]
    lines = pd.DataFrame(out)
    # A charge is worked out from the line it names, by the line's number.
    if list(lines["line"]) != [float(n) for n in range(1, len(lines) + 1)]:
        raise NoInputs
    return lines


def _day(cell: object) -> np.datetime64:
    try:
        return np.datetime64(dt.datetime.fromisoformat(str(cell)))
    except ValueError:
        return np.datetime64("NaT")


def _float(cell: object) -> float:
    return float(cell) if isinstance(cell, int | float) else np.nan


def _tables(rows: Rows) -> dict[str, list[dict[str, Any]]]:
    """Return the tables of the Factors sheet by their marker, each row by column key."""
    found: dict[str, list[dict[str, Any]]] = {}
    for start, row in enumerate(rows):
        marker = str(row[0]) if row else ""
        if marker.startswith("[") and marker.endswith("]"):
            keys = [str(cell) for cell in rows[start + 2]]
            found[marker] = [
                dict(zip(keys, cells, strict=False)) for cells in _until_blank(rows, start + 3)
            ]
    return found


def _until_blank(rows: Rows, start: int) -> Iterator[Sequence[Any]]:
    for row in rows[start:]:
        if not row or all(cell == "" for cell in row):
            return
        yield row


def _made(kind: type[Any], row: Mapping[str, Any]) -> Any:
    values = {f.name: row[f.name] for f in fields(kind)}
    return kind(**{k: int(v) if k == "landfill" else str(v) for k, v in values.items()})


def _standing(rows: Rows) -> dict[tuple[str, str], Standing]:
    """Return the values of the sheet of every figure by set and figure path."""
    found: dict[tuple[str, str], Standing] = {}
    keys: list[str] | None = None
    for row in rows:
        texts = [str(cell) for cell in row]
        if keys is None:
            if {"set", "key", "value"} <= set(texts):
                keys = texts
            continue
        cells = dict(zip(keys, row, strict=False))
        found[str(cells["set"]), str(cells["key"])] = Standing(
            *(c if isinstance(c, int | float) else None
              for c in (cells["value"], cells["low"], cells["high"]))
        )  # fmt: skip
    return found
