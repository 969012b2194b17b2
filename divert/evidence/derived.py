"""From the inputs of evidence lines to masses, balance and emissions, a column at a time.

The columns are those that the workbook writes as formulas (divert.evidence.columns), worked out for
whoever checks a workbook without a spreadsheet program; inputs only are read, never a cached result.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from functools import partial
from typing import Any

import numpy as np
import numpy.typing as npt
import pandas as pd

from divert.evidence.columns import MADE, MADE_FOR_SPONSOR, LedgerColumn
from divert.evidence.expression import Leaf, value
from divert.evidence.line_leaves import PROCESS, FactorOf, Of, OfLandfill, OfOrigin
from divert.evidence.lines import CHARGED, REMOVED
from divert.evidence.per_kg import LandfillClass, PerKg, Process, per_kg, process_per_kg
from divert.evidence.spreading import MONTH, OWN_MONTH, YEAR, shared_out

Floats = npt.NDArray[np.float64]
Cases = npt.NDArray[np.int64]
_OF_LOADS = ("volume_m3", "net_kg", "density", "mass_kg", "removed", "own_net")
_ALL = {column.key: column for column in (*MADE, *MADE_FOR_SPONSOR)}
_IN_ORDER = tuple(_ALL[key] for key in dict.fromkeys((*_OF_LOADS, *_ALL)))


@dataclass
class Ledger:
    """Lines with the columns made so far, and which case each line fell under (-1: none)."""

    lines: pd.DataFrame
    values: Mapping[str, float]
    per_kg: Mapping[tuple[int, str], PerKg] = field(default_factory=dict)
    process: Mapping[int, float] = field(default_factory=dict)
    columns: dict[str, Floats] = field(default_factory=dict)
    cases: dict[str, Cases] = field(default_factory=dict)

    def texts(self, column: str) -> npt.NDArray[np.object_]:
        """Return a column of texts."""
        return np.asarray(self.lines[column].to_numpy(), dtype=object)

    def numbers(self, column: str) -> Floats:
        """Return a column of numbers, made or given."""
        made = self.columns.get(column)
        return self.lines[column].to_numpy(dtype=float) if made is None else made

    def given(self, column: str) -> npt.NDArray[np.bool_]:
        """Return where a column that is made has a case that applies."""
        return self.cases[column] >= 0

    def in_a_class(self) -> npt.NDArray[np.bool_]:
        """Return where a line has a decay class at its landfill."""
        return ~np.isnan(self._of_landfill("rate"))

    def settle(self, column: LedgerColumn) -> Cases:
        """Return which case of a column each line falls under, the first that applies (-1: none)."""
        case = np.full(len(self.lines), -1)
        for number, one in enumerate(column.cases):
            case[(case < 0) & one.when.holds(self)] = number
        self.cases[column.key] = case
        return case

    def make(self, column: LedgerColumn) -> None:
        """Work out one column."""
        case = self.settle(column)
        out = self.columns[column.key] = np.full(len(self.lines), column.otherwise)
        for number, one in enumerate(column.cases):
            rows = np.flatnonzero(case == number)
            # A charge takes the mass of a load, which is in place by now: its case is the last.
            out[rows] = value(one.gives, partial(self._leaf, rows))

    def _leaf(self, rows: npt.NDArray[np.int64], leaf: Leaf) -> Floats:
        return self._everywhere(leaf)[rows]

    def _everywhere(self, leaf: Leaf) -> Floats:
        match leaf:
            case Of(column):
                return self.numbers(column)
            case OfOrigin(column):
                return self.numbers(column)[origins(self.lines)]
            case FactorOf(column):
                texts = self.texts(column)
                of = {text: self.values.get(leaf.key(text), np.nan) for text in set(texts)}
                return np.array([of[text] for text in texts], dtype=float)
            case OfLandfill(what):
                return self._of_landfill(what)
        raise TypeError(f"no leaf of a line: {leaf!r}")

    def _of_landfill(self, what: str) -> Floats:
        landfill = self.lines["landfill"].to_numpy()
        out = np.full(len(self.lines), np.nan)
        if what == PROCESS:
            for number, each in self.process.items():
                out[landfill == number] = each
            return out
        classes = self.texts("decay_class")
        for (number, decay_class), results in self.per_kg.items():
            out[(landfill == number) & (classes == decay_class)] = getattr(results, what)
        return out


def origins(lines: pd.DataFrame) -> npt.NDArray[np.int64]:
    """Return the place of the line that each charge comes from (of other lines: the first)."""
    charged = np.isin(lines["kind"].to_numpy(), CHARGED)
    return np.where(charged, lines["from_line"], 1).astype(int) - 1


def measured_values(lines: pd.DataFrame, keys: Sequence[str]) -> dict[str, float]:
    """Return each measured density (kg/m³): net mass over volume of the lines that teach it."""
    ledger = Ledger(lines, {})
    ledger.make(_ALL["volume_m3"])
    ledger.make(_ALL["net_kg"])
    volume, net = ledger.columns["volume_m3"], ledger.columns["net_kg"]
    out = {}
    for key in keys:
        taught = (lines["teaches"] == key).to_numpy()
        out[key] = float(net[taught].sum() / volume[taught].sum())
    return out


def derive(
    lines: pd.DataFrame,
    values: Mapping[str, float],
    classes: Sequence[LandfillClass],
    processes: Sequence[Process],
) -> pd.DataFrame:
    """Return the lines with the columns MADE and MADE_FOR_SPONSOR added (m³, kg, kg CO2e)."""
    ledger = Ledger(
        lines,
        values,
        {(one.landfill, one.decay_class): per_kg(one, values) for one in classes},
        {one.landfill: process_per_kg(one, values) for one in processes},
    )
    for key in _OF_LOADS:  # what the charges are shared out over
        ledger.make(_ALL[key])
    ledger.columns["share"] = _shares(ledger)
    for column in _IN_ORDER:
        ledger.make(column)
    columns: dict[str, Any] = dict(ledger.columns)
    return lines.assign(**columns)


def cases_of(derived: pd.DataFrame, classes: Sequence[LandfillClass]) -> Mapping[str, Cases]:
    """Return by made column the case that each line fell under (-1: none)."""
    nothing = PerKg(0.0, 0.0, 0.0, 0.0, 0.0)
    ledger = Ledger(derived, {}, {(one.landfill, one.decay_class): nothing for one in classes})
    return {column.key: ledger.settle(column) for column in _IN_ORDER}


def _shares(ledger: Ledger) -> Floats:
    """Return each charge's share of the line it comes from.

    Removed first: what is left after it bears the residue.
    """
    lines, mass, own_net = ledger.lines, ledger.columns["mass_kg"], ledger.columns["own_net"]
    share = lines["share"].to_numpy()
    by_formula = (lines["spread"] != "").to_numpy()
    of_month = shared_out(lines, own_net, OWN_MONTH, MONTH).share
    share = np.where(by_formula, np.nan_to_num(of_month), share)
    charged = (lines["kind"] == REMOVED).to_numpy()
    removed = np.where(charged, share * mass[origins(lines)], 0.0)
    of_year = shared_out(lines, own_net - removed, YEAR).share
    return np.asarray(np.where(np.isnan(of_year), share, of_year), dtype=float)
