"""What stands in a column, as shares of its filled cells."""

from __future__ import annotations

import datetime as dt
import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from divert.core.names import plain
from divert.ingest.arrays import Codes
from divert.ingest.cells import fill, mark, money, quantity, unit
from divert.ingest.cells.date import read_cell as read_date
from divert.ingest.cells.problem import Problem
from divert.ingest.fates import NOT_STATED, fate_of
from divert.ingest.grid import Cell
from divert.ingest.known import Known, row_kinds
from divert.ingest.lexicon import bare
from divert.ingest.sheet import Distinct, as_text, is_number
from divert.ingest.work import spend

_MONEY = re.compile(r"(?i)[$€£]|\b(?:usd|cad|eur|gbp|dollars?|euros?)\b")
_SAMPLE = 80  # distinct cells looked at to say what a column holds
_PER_TEXT = 80  # work to say what one may be


@dataclass(frozen=True)
class Content:
    """Shares (0-1, of the filled cells) of what stands in a column."""

    filled: int = 0
    numbers: float = 0.0
    dates: float = 0.0
    days: float = 0.0
    sources: float = 0.0
    materials: float = 0.0
    containers: float = 0.0
    units: float = 0.0
    quantities: float = 0.0
    kinds: float = 0.0
    befores: float = 0.0
    fills: float = 0.0
    moneys: float = 0.0

    def of(self, field: str) -> float:
        """Return the share of the cells that are what a field asks for: names of sources, units, dates."""
        return float(getattr(self, "quantities" if field == "quantity" else f"{field}s"))


def content_of(cells: Distinct, known: Known) -> Content:
    """Return what stands in a stretch of cells."""
    found = cells.cells[:_SAMPLE]
    if not found:
        return Content()
    weights = cells.counts[:_SAMPLE]
    told: dict[str, float] = {}
    total = 0
    if cells.types <= {int, float, dt.date, dt.datetime}:
        return _of_values(found, weights)
    for cell, weight in zip(found, weights.tolist(), strict=True):
        facts: Iterable[str] = _OF_A_NUMBER
        if isinstance(cell, int | float):
            spend(1)
            facts = _OF_A_DAY if 1 <= cell <= 31 and cell == cell // 1 else facts
        elif isinstance(cell, str):
            if (said := _told_by(cell, known)) is None:
                continue
            spend(_PER_TEXT)
            facts = said
        else:
            spend(1)
            facts = (
                ("dates",) if isinstance(cell, dt.date) else _facts_of_text(as_text(cell), known)
            )
        total += weight
        for what in facts:
            told[what] = told.get(what, 0.0) + weight
    return Content(filled=total, **{k: v / total for k, v in told.items()} if total else {})


def _of_values(found: Sequence[Cell], weights: Codes) -> Content:
    """Return what stands in a stretch of cells without a text among them."""
    spend(len(found))
    total = int(weights.sum())
    if not total:
        return Content()
    said = np.array([c if isinstance(c, int | float) else np.nan for c in found])
    of_month = (said >= 1) & (said <= 31) & (said == np.floor(said))
    number, day = (int(weights[told].sum()) / total for told in (~np.isnan(said), of_month))
    dates = (total - int(weights[~np.isnan(said)].sum())) / total
    return Content(filled=total, numbers=number, quantities=number, days=day, dates=dates)


_OF_A_NUMBER = ("numbers", "quantities")
_OF_A_DAY = (*_OF_A_NUMBER, "days")


@lru_cache(maxsize=16384)
def _told_by(text: str, known: Known) -> tuple[str, ...] | None:
    """Return what a text may be; None where it marks a row, as "closed" and "Total", and names nothing."""
    marks = mark.read_start(text) is not None or mark.is_total_label(text)
    return None if marks and not known.names(text) else _facts_of_text(text, known)


def _facts_of_text(text: str, known: Known) -> tuple[str, ...]:
    facts = []
    if is_number(text):
        facts.append("numbers")
    read = read_date(text)
    if not isinstance(read, Problem):
        facts.append("dates" if read.readings else "days")
    for what, names in (("sources", known.sources), ("materials", known.materials)):
        if names.find(text):
            facts.append(what)
    if fate_of(text, known) not in ("", NOT_STATED):
        facts.append("befores")
    if plain(text) in row_kinds():
        facts.append("kinds")
    taken = known.containers.take(bare(text), 0)
    if known.containers.find(text) or (taken and taken[1] == len(bare(text))):
        facts.append("containers")
    elif unit.read_cell(text, known.trade.meaning):
        facts.append("units")
    if not isinstance(quantity.read_cell(text, known.trade), Problem):
        facts.append("quantities")
    if _MONEY.search(text) and not isinstance(money.read_cell(text), Problem):
        facts.append("moneys")
    if not isinstance(fill.read_cell(text), Problem):
        facts.append("fills")
    return tuple(facts)
