"""A recipe written as a spreadsheet formula over the Ledger and Factors sheets."""

from __future__ import annotations

import datetime as dt
import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from functools import lru_cache

from divert.evidence.book import HORIZON_YEARS
from divert.evidence.factor_rows import fee_key
from divert.evidence.recipe import (
    Avoided,
    Constant,
    Extreme,
    Factor,
    Fee,
    LongestHot,
    MethaneIn,
    Node,
    Other,
    TakingPart,
    Total,
    Where,
)
from divert.evidence.spreading import Pool
from divert.figures.stretches import TRACE


@dataclass(frozen=True)
class Cells:
    """Where things stand: absolute cell addresses, with their sheet.

    ``factor`` by key; ``per_kg`` by (landfill, class, what); ``landfills`` the versions met;
    ``deposits`` the columns year, kg, released and k of a set's deposits, as ranges; ``clashing``
    texts of a column that differ only by case, which sums by text would throw together; ``shares``
    the cell of each share that is worked out, by its pool and keys; ``visits`` the columns of a
    set's month in the table of who brought material, and ``hot_days`` the runs of a set's pile, as ranges.
    """

    factor: Mapping[str, str]
    per_kg: Mapping[tuple[int, str, str], str]
    landfills: tuple[int, ...]
    deposits: Mapping[str, tuple[str, str, str, str]]
    clashing: frozenset[tuple[str, str]] = frozenset()
    shares: Mapping[tuple[Pool, tuple[str, ...]], str] = field(default_factory=dict)
    visits: Mapping[tuple[str, dt.date], Mapping[str, str]] = field(default_factory=dict)
    hot_days: Mapping[tuple[str, str], str] = field(default_factory=dict)


FAR = 1_000_000  # no day and no measurement of a process log is as far from nothing


def name_of(column: str) -> str:
    """Return the name that a column of the Ledger sheet goes by in formulas."""
    return f"ledger_{column}"


@dataclass(frozen=True)
class Writer:
    """Writes the formulas of one set: its name, the cells of its span, and where others stand."""

    cells: Cells
    set: str
    start: str
    end: str
    other: Callable[[str], str]

    def write(self, node: Node) -> str:
        """Return the formula of a tree, without the leading equals sign."""
        if isinstance(node, Total):
            return self.total(node.column, node.where)
        if isinstance(node, Constant):
            return repr(node.value)
        if isinstance(node, Factor):
            return self.cells.factor[node.key]
        if isinstance(node, Other):
            return self.other(node.path)
        if isinstance(node, Avoided):
            return self._avoided(node)
        if isinstance(node, Fee):
            return self._fee()
        if isinstance(node, MethaneIn):
            return self._methane(node.year)
        if isinstance(node, Extreme):
            return self._extreme(node)
        if isinstance(node, TakingPart):
            return self._taking_part(node)
        if isinstance(node, LongestHot):
            runs = self.cells.hot_days.get((self.set, node.pile))
            return f"MAX({runs})" if runs else "0"
        parts = [self.write(part) for part in node.parts]
        if node.sign == "max":
            return f"MAX({','.join(parts)})"
        if node.sign == "/":
            bottom = "*".join(f"({part})" for part in parts[1:])
            return f"IF(ABS({bottom})<{TRACE:G},0,({parts[0]})/({bottom}))"
        return "(" + node.sign.join(parts) + ")"

    def total(self, column: str, where: Where, number: tuple[str, int] | None = None) -> str:
        """Return the sum of a column over the span, where texts (and one number) are just these."""
        name = name_of(column)
        plain = [(c, t) for c, t in where if self._is_plain(c, t)]
        exact = [(c, t) for c, t in where if not self._is_plain(c, t)]
        if exact:
            terms = [f"({name_of('date')}>={self.start})", f"({name_of('date')}<={self.end})"]
            terms += [f"EXACT({name_of(c)},{literal(t)})" for c, t in where]
            if number:
                terms.append(f"({name_of(number[0])}={number[1]})")
            return f"SUMPRODUCT({'*'.join(terms)},{name})"
        parts = [name, name_of("date"), f'">="&{self.start}', name_of("date"), f'"<="&{self.end}']
        for c, t in plain:
            parts += [name_of(c), literal(t)]
        if number:
            parts += [name_of(number[0]), str(number[1])]
        return f"SUMIFS({','.join(parts)})"

    def _extreme(self, node: Extreme) -> str:
        terms = [f"({name_of('date')}>={self.start})", f"({name_of('date')}<={self.end})"]
        terms += [f"EXACT({name_of(c)},{literal(t)})" for c, t in node.where]
        column = name_of(node.column)
        terms.append(f"ISNUMBER({column})")
        lines = "*".join(terms)
        if node.which == "max":  # lifted above nothing, which stands for all other lines
            return f"(SUMPRODUCT(MAX({lines}*({column}+{FAR})))-{FAR})"
        return f"({FAR}-SUMPRODUCT(MAX({lines}*({FAR}-{column}))))"

    def _is_plain(self, column: str, text: str) -> bool:
        """Return whether a sum by text takes just this text: no wildcard, number or date in it."""
        if (column, text) in self.cells.clashing:
            return False
        return _says_itself(text)

    def _taking_part(self, node: TakingPart) -> str:
        columns = self.cells.visits.get((self.set, node.month))
        if columns is None:
            return "0"
        if node.what == "active":
            return f'COUNTIF({columns["loads"]},">0")'
        if node.what == "days_between":
            days, gaps = columns["gap_days"], columns["gaps"]
            return f"IF(SUM({gaps})=0,0,SUM({days})/SUM({gaps}))"
        return f"SUM({columns[node.what]})"

    def _avoided(self, node: Avoided) -> str:
        parts = []
        for (landfill, decay_class, what), cell in self.cells.per_kg.items():
            if what == node.per_kg:
                where = (*node.where, ("before", "landfill"), ("decay_class", decay_class))
                parts.append(f"{self.total('diverted', where, ('landfill', landfill))}*{cell}")
        return "+".join(parts) or "0"

    def _fee(self) -> str:
        parts = [
            f"{self.total('diverted', (), ('landfill', n))}*{self.cells.factor[fee_key(n)]}"
            for n in self.cells.landfills
            if fee_key(n) in self.cells.factor
        ]
        return "+".join(parts) or "0"

    def _methane(self, year: int) -> str:
        if self.set not in self.cells.deposits:
            return "0"
        deposited, kg, released, k = self.cells.deposits[self.set]
        n = f"({year}-{deposited})"
        return (
            f"SUMPRODUCT(({n}>=1)*({n}<={HORIZON_YEARS})*{kg}*{released}"
            f"*(EXP(-{k}*({n}-1))-EXP(-{k}*{n})))"
        )


@lru_cache(maxsize=4096)
def _says_itself(text: str) -> bool:
    """Return whether a program that compares texts has nothing to read into this one."""
    words = re.fullmatch(r"[^\W\d_](?:[^\W\d_]|[ ,&'’-]){0,199}", text)
    return words is not None and text.casefold() not in ("true", "false")


@lru_cache(maxsize=4096)
def literal(text: str) -> str:
    """Return a text as a formula holds it; a program takes no piece of more than 255 characters."""
    pieces = [text[at : at + 255] for at in range(0, len(text), 255)] or [""]
    quoted = ['"' + piece.replace('"', '""') + '"' for piece in pieces]
    return quoted[0] if len(quoted) == 1 else f"({'&'.join(quoted)})"
