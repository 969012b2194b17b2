"""Negative amounts: each cancels the entry it corrects, or is set aside with the reason."""

from __future__ import annotations

import datetime as dt
from typing import Any

import numpy as np
import numpy.typing as npt
import pandas as pd

from divert.core.findings import Finding, Where
from divert.core.words import N_, Text
from divert.ingest.arrays import Bools
from divert.ingest.entries.say import refused

AsideRow = tuple[str, str, int, str, str, str]
SkippedRow = tuple[str, str, int, str, str, str, np.datetime64]
AMOUNTS = ("mass_kg", "gross_kg", "volume_m3", "count", "amount")
_SAME = ("kind", "source", "material", "container", "name")


def where_of(entries: pd.DataFrame, row: int) -> Where:
    """Return the place of an entry."""
    column = entries["column"].iat[row]
    return Where(
        str(entries["file"].iat[row]),
        text_of(entries["sheet"].iat[row]),
        int(entries["row"].to_numpy()[row]),
        column if isinstance(column, str) else None,
    )


def text_of(value: object) -> str:
    """Return a text, "" where it is missing."""
    return value if isinstance(value, str) else ""


Corrected = tuple[pd.DataFrame, list[SkippedRow], list[AsideRow], list[Finding]]


def uncorrected(entries: pd.DataFrame) -> Corrected:
    """Return the entries without their negative amounts, all of which are set aside."""
    negative = np.zeros(len(entries), dtype=bool)
    for name in AMOUNTS:
        negative |= entries[name].to_numpy() < 0
    aside: list[AsideRow] = []
    for row in np.flatnonzero(negative).tolist():
        where = where_of(entries, row)
        place = (where.file or "", where.sheet or "", where.row or 0, where.column or "")
        aside.append((*place, str(entries["found"].iat[row]), "correction matches no entry"))
    return entries[~negative].reset_index(drop=True), [], aside, []


def corrections(
    entries: pd.DataFrame,
) -> Corrected:
    """Return the entries left, the skipped pairs, the negatives that match nothing, and findings.

    A negative amount cancels the latest earlier entry (the same day included) of the same kind with
    the same amounts, whose source, material and container it repeats or leaves blank.
    """
    values = {name: entries[name].to_numpy() for name in AMOUNTS}
    negative = np.zeros(len(entries), dtype=bool)
    for value in values.values():
        negative |= value < 0
    if not negative.any():
        return entries, [], [], []
    free = ~negative
    gone = np.zeros(len(entries), dtype=bool)
    skipped: list[SkippedRow] = []
    aside: list[AsideRow] = []
    findings: list[Finding] = []
    codes = {name: entries[name].cat.codes.to_numpy() for name in _SAME}
    days = entries["date"].to_numpy()
    for row in np.flatnonzero(negative).tolist():
        match = _match(int(row), values, codes, days, entries, free)
        gone[row] = True
        where, found = where_of(entries, int(row)), str(entries["found"].iat[row])
        place = (where.file or "", where.sheet or "", where.row or 0, where.column or "", found)
        if match is None:
            message, hint = refused("correction matches no entry", dt.date.max, dt.date.min)
            aside.append((*place, "correction matches no entry"))
            findings.append(
                Finding("refused", "correction matches no entry", message, where, hint, found)
            )
            continue
        free[match], gone[match] = False, True
        other = where_of(entries, match)
        message = Text(
            N_("This negative amount cancels the entry at {place}; neither is counted."),
            {"place": str(other)},
        )
        findings.append(Finding("note", "correction", message, where, found=found, rows=2))
        skipped.append((*place, "correction", days[row]))
        skipped.append((other.file or "", other.sheet or "", other.row or 0, other.column or "",
                        str(entries["found"].iat[match]), "correction", days[match]))  # fmt: skip
    return entries[~gone].reset_index(drop=True), skipped, aside, findings


def _match(row: int, values: dict[str, npt.NDArray[np.float64]], codes: dict[str, npt.NDArray[Any]],
           days: npt.NDArray[np.datetime64], entries: pd.DataFrame, free: Bools) -> int | None:  # fmt: skip
    fits = free & (days <= days[row])
    stated = False
    for value in values.values():
        wanted = -value[row]
        if np.isnan(wanted):
            continue
        stated = True
        with np.errstate(invalid="ignore"):
            fits &= np.abs(value - wanted) <= 1e-9 * max(1.0, abs(wanted))
    for code in codes.values():
        if code[row] >= 0:
            fits &= code == code[row]
    places = np.flatnonzero(fits)
    if not stated or not len(places):
        return None
    same_file = (
        entries["file"].cat.codes.to_numpy()[places] == entries["file"].cat.codes.to_numpy()[row]
    )
    near = -np.abs(places - row)
    best = max(
        range(len(places)), key=lambda i: (days[places[i]], bool(same_file[i]), int(near[i]))
    )
    return int(places[best])
