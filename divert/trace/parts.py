"""The parts of a trace: an entry with what it adds, and a number with what rests on it."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

import numpy as np
import pandas as pd

from divert.evidence.factor_rows import FactorRow
from divert.evidence.lines import CHARGED


@dataclass(frozen=True, slots=True)
class TraceRow:
    """One entry behind a figure: what it adds (the figure's unit), where it stands, how weighed.

    ``what`` is the entry's kind; a charge of removed or residue names the row it was charged from.
    """

    amount: float
    file: str
    sheet: str
    row: int
    column: str
    date: dt.date | None
    what: str
    source: str
    material: str
    found: str
    mass_kg: float | None
    basis: str
    factor: str
    before: str


@dataclass(frozen=True, slots=True)
class TraceFactor:
    """A number behind a figure; ``amount`` is what rests on it, None where all of it does."""

    key: str
    value: float
    low: float
    high: float
    unit: str
    source: str
    standing: str
    amount: float | None


def rows_of(shares: np.ndarray, derived: pd.DataFrame) -> tuple[TraceRow, ...]:
    """Return the lines that add something to a figure, largest first; ``shares``: what each adds."""
    order = np.argsort(-np.abs(shares), kind="stable")
    order = order[shares[order] != 0]
    picked = derived.iloc[order].to_dict("records")
    return tuple(
        _row(line, float(amount)) for line, amount in zip(picked, shares[order], strict=True)
    )


def _row(line: Mapping[Any, Any], amount: float) -> TraceRow:
    charged = line["kind"] in CHARGED
    return TraceRow(
        amount=amount,
        file=line["file"],
        sheet=line["sheet"],
        row=0 if np.isnan(line["row"]) else int(line["row"]),
        column=line["column"],
        date=line["date"].date() if not pd.isna(line["date"]) else None,
        what=line["kind"],
        source=line["source"],
        material=line["material"],
        found=line["found"],
        mass_kg=None if np.isnan(line["mass_kg"]) else float(line["mass_kg"]),
        basis="" if charged else line["basis"],
        factor=line["factor"],
        before=line["before"],
    )


def factor_of(one: FactorRow, amount: float | None) -> TraceFactor:
    """Return a number of the evidence as one of a trace, with what of the figure rests on it."""
    return TraceFactor(
        one.key, one.value, one.low, one.high, one.unit, one.source, one.standing, amount
    )
