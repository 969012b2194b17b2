"""The labels of forms: "Date:", "From: Hotel", "Weight (lb)", and the columns in which they stand."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from divert.ingest.arrays import Codes
from divert.ingest.grid import Cell
from divert.ingest.known import Known
from divert.ingest.sheet import Distinct, Sheet
from divert.ingest.tables.heading_words import norm
from divert.ingest.turned.forms import DATED, head_of
from divert.ingest.work import spend

_TOP = 60  # rows in which the first form must begin
_MOST_COLUMNS = 2  # of labels in one form
_SHARE = 0.4  # of what stands in a column of labels must be labels
_LABELS = 100  # different labels without a colon that a column of forms may have
_PER_TEXT = 150  # work to say whether it is a label
_DISTINCT = 2000  # different words down such a column


@dataclass(frozen=True)
class Said:
    """What a cell says as a label: its text and field, what stands behind its colon, if it has one."""

    text: str
    field: str
    rest: str
    colon: bool


Labels = Mapping[int, Mapping[int, tuple[Said, ...]]]  # by column and row
_INLINE = re.compile(r"([^:]{1,40}?)\s*:\s*(.*)")


@lru_cache(maxsize=2)  # asked for as slips, and again as forms that no slips can be made of
def label_columns(sheet: Sheet, known: Known) -> Labels:
    """Return the columns of a sheet of forms with their labels; none where it holds no forms."""
    if any(map(_is_of_words, sheet.columns)):
        return {}  # a log: no pile of forms has as many different words
    whole = _within(sheet, known, range(sheet.height), DATED)  # each form says its own day
    top = range(min(sheet.height, _TOP))  # of which only one column need be read
    return whole if whole and _within(sheet, known, top) else {}


def _is_of_words(column: Distinct) -> bool:
    held = column.codes[column.filled]
    return len(column.cells) > _DISTINCT and len(np.unique(held)) > _DISTINCT


def said_of(cell: Cell, known: Known) -> tuple[Said, ...]:
    """Return what a cell says as labels: one, or several each with its value; none where it is no label."""
    if not isinstance(cell, str):
        return ()
    spend(5 if cell[0].isdigit() else _PER_TEXT)
    return _said_of_text(cell, known)


@lru_cache(maxsize=16384)
def _said_of_text(cell: str, known: Known) -> tuple[Said, ...]:
    inline = _INLINE.fullmatch(cell)
    text, rest = (inline[1], inline[2]) if inline else (cell, "")
    heading = head_of(text, known)
    field = heading.field or ("quantity" if inline and known.materials.find(text) else "")
    if not field and not (inline and not rest and any(c.isalpha() for c in text)):
        return ()
    value, more = _parted(rest, known)
    return (Said(text.strip(), field, value, inline is not None), *more)


def _parted(rest: str, known: Known) -> tuple[str, tuple[Said, ...]]:
    """Part what stands behind a label where another one follows: "3 March  From: Hotel"."""
    for colon in (m.start() for m in re.finditer(":", rest)):
        before = rest[:colon].split()
        for size in range(min(len(before) - 1, 3), 0, -1):
            words = " ".join(before[-size:])
            head = head_of(words, known)
            if head.known and not head.label and not any(c.isdigit() for c in words):
                label = " ".join([*before[-size:], rest[colon:]])
                return " ".join(before[:-size]).rstrip(" ,;|-–"), said_of(label, known)
    return rest, ()


def _within(
    sheet: Sheet, known: Known, rows: range, needed: Collection[str] = ()
) -> dict[int, dict[int, tuple[Said, ...]]]:
    """Return the columns in which labels of different fields stand one under another, with these.

    None where no label is of a field that is ``needed``.
    """
    least = [_SHARE * len(c.filled_in(rows.start, rows.stop)) for c in sheet.columns]
    read = {
        i: said
        for i, column in enumerate(sheet.columns)
        if (said := _read_in(column, rows, known, least[i]))
    }
    if needed and not any(_fields(said.values()) & set(needed) for said in read.values()):
        return {}
    placed = {i: _placed(sheet, i, rows, said) for i, said in read.items()}
    return {
        i: found
        for i, found in placed.items()
        if len(found) >= least[i] and len(_fields(found.values())) >= 2
    }


def _fields(said: Iterable[tuple[Said, ...]]) -> set[str]:
    return {one.field for several in said for one in several if one.field}


def _read_in(
    column: Distinct, rows: range, known: Known, least: float
) -> dict[int, tuple[Said, ...]]:
    """Return the labels of a column by code.

    None where they cannot fill ``least`` rows, or are all of one field: what cannot matter is not read.
    """
    if column.counts[column.texts].sum() < least:
        return {}
    here = _worth_reading(column, column.codes[column.filled_in(rows.start, rows.stop)])
    may = sum(here.values())
    read = {}
    for code, count in here.items():
        if may < least:
            return {}
        if said := said_of(column.cells[code], known):
            read[code] = said
        else:
            may -= count
    return read if len(_fields(read.values())) >= 2 else {}


def _placed(
    sheet: Sheet, index: int, rows: range, read: Mapping[int, tuple[Said, ...]]
) -> dict[int, tuple[Said, ...]]:
    """Return the labels of a column by row: those with a colon, where most have one."""
    column = sheet.columns[index]
    inside = column.filled_in(rows.start, rows.stop)
    codes = column.codes[inside]
    labelled = np.isin(codes, list(read))
    at = zip(inside[labelled].tolist(), codes[labelled].tolist(), strict=True)
    found = {row: read[code] for row, code in at}
    colons = sum(said[0].colon for said in found.values())
    if 2 * colons >= len(found):
        return {r: said for r, said in found.items() if said[0].colon}
    if index + 1 >= len(sheet.columns):
        return {}
    beside = sheet.columns[index + 1]
    filled = {said[0].text for r, said in found.items() if beside.at(r) is not None}
    return {r: said for r, said in found.items() if said[0].text in filled}


def _worth_reading(column: Distinct, codes: Codes) -> dict[int, int]:
    """Return the cells of a column that may be labels, and how often each stands in it.

    Those with a colon, and the commonest others: forms have few labels and print them again and again;
    a log of remarks has none twice.
    """
    counts = np.bincount(codes, minlength=len(column.cells))
    if len(column.texts) <= _LABELS:
        return {code: int(counts[code]) for code in column.texts if counts[code]}
    texts = set(column.texts)
    order = np.argsort(-counts, kind="stable").tolist()
    met = [code for code in order if code in texts and counts[code]]
    read = {code for code in met if ":" in str(column.cells[code])}
    read.update([code for code in met if code not in read][:_LABELS])
    return {code: int(counts[code]) for code in met if code in read}


def lanes_of(columns: Labels) -> list[list[int]]:
    """Part the columns of labels into slips side by side: a label that comes again begins another."""
    lanes: list[list[int]] = []
    seen: set[str] = set()
    for index, found in columns.items():
        own = {norm(one.text) for said in found.values() for one in said}
        if lanes and not own & seen and len(lanes[-1]) < _MOST_COLUMNS:
            lanes[-1].append(index)
            seen |= own
        else:
            lanes.append([index])
            seen = own
    return lanes
