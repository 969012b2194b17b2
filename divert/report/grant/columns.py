"""The columns of a grant's tables: previously reported, this period, total, and what lies between."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from divert.core.range import Range
from divert.core.words import N_, Text
from divert.figures.as_json import to_json
from divert.figures.contract import Figures
from divert.figures.figure_path import get
from divert.figures.history import PreviouslyReported
from divert.figures.numbers.printed import Printed, Printer
from divert.figures.numbers.scales import Scale

_DAY = dt.timedelta(days=1)
_SAME = 1e-6  # kg; less than this is float noise, not a restatement


@dataclass(frozen=True, slots=True)
class GrantFigures:
    """The figures of a statement: the period, the grant's total up to its end, and what lay before.

    ``earlier`` runs from the grant's start to the day before the period, None where the period
    opens the grant; the centrals of ``earlier`` and ``period`` add up to ``total``.
    """

    period: Figures
    total: Figures
    earlier: Figures | None = None


@dataclass(frozen=True, slots=True)
class StatementColumn:
    """One column: its heading and where its numbers come from.

    ``plus`` are figure sets that are added and ``minus`` those taken off, each by name with its
    JSON; most columns are one set. A column with no set stands empty.
    """

    head: Text
    plus: tuple[tuple[str, Mapping[str, Any]], ...] = ()
    minus: tuple[tuple[str, Mapping[str, Any]], ...] = ()

    @property
    def empty(self) -> bool:
        """Return whether the column has nothing to show."""
        return not self.plus

    @property
    def ranged(self) -> bool:
        """Return whether the column is one set, so that a range can be given."""
        return len(self.plus) == 1 and not self.minus

    def value(self, path: str) -> float:
        """Return the number at a path; 0 where a set does not have it."""
        added = sum(float(get(figures, path) or 0.0) for _, figures in self.plus)
        return added - sum(float(get(figures, path) or 0.0) for _, figures in self.minus)

    def key(self, path: str) -> str:
        """Return the key of the number at a path: ``"earlier:p+-previous:p"`` for a difference."""
        terms = [f"{name}:{path}" for name, _ in self.plus]
        return "+".join([*terms, *(f"-{name}:{path}" for name, _ in self.minus)])

    def printed(self, path: str, scale: Scale, printer: Printer, *, within: str = "") -> Printed:
        """Print the figure at a range's path: by its range where the column is one set.

        ``within`` is the path of what it is a part of.
        """
        spread = self.range(path)
        if spread is None:
            key = f"{path}.central"
            return printer.one(self.key(key), self.value(key), scale)
        whole = self.range(within) if within else None
        return printer.central(self.key(path), spread, scale, within=whole)

    def range(self, path: str) -> Range | None:
        """Return the range at a path, None where there is none."""
        found = get(self.plus[0][1], path) if self.ranged else None
        return Range(**found) if isinstance(found, Mapping) else None


@dataclass(frozen=True, slots=True)
class Columns:
    """The parts in order of time, then their total."""

    parts: tuple[StatementColumn, ...]
    total: StatementColumn
    note: Text | None

    @property
    def all(self) -> tuple[StatementColumn, ...]:
        """Return the parts and the total."""
        return (*self.parts, self.total)

    @property
    def shown(self) -> tuple[StatementColumn, ...]:
        """Return the columns that have something to show, the total last."""
        return (*self.filled, self.total)

    @property
    def filled(self) -> tuple[StatementColumn, ...]:
        """Return the parts that have something to show."""
        return tuple(c for c in self.parts if not c.empty)


def columns(figures: GrantFigures, previously: PreviouslyReported | None) -> Columns:
    """Return a statement's columns; what was never reported, or has moved since, is told apart."""
    period = StatementColumn(
        Text(N_("This period, to date") if figures.period.period.to_date else N_("This period")),
        (("period", to_json(figures.period)),),
    )
    total = StatementColumn(Text(N_("Total")), (("total", to_json(figures.total)),))
    earlier = None if figures.earlier is None else ("earlier", to_json(figures.earlier))
    if previously is None:
        if earlier is None:
            first = StatementColumn(Text(N_("Previously reported")))
            note = Text(N_("This is the first statement on this grant."))
        else:
            first = StatementColumn(Text(N_("Before this period, not reported yet")), (earlier,))
            note = Text(N_("No earlier statement on this grant has been issued."))
        return Columns((first, period), total, note)
    issued = ("previous", previously.figures)
    reported = StatementColumn(Text(N_("Previously reported")), (issued,))
    said = Text(
        N_("Previously reported: statement {number} of {day}, up to {end}."),
        {"number": previously.number, "day": previously.issued, "end": previously.end},
    )
    moved = StatementColumn(
        Text(_between(figures, previously)), () if earlier is None else (earlier,), (issued,)
    )
    if earlier is None:
        moved = StatementColumn(moved.head, (("total", to_json(figures.total)),),
                       (period.plus[0], issued))  # fmt: skip
    if abs(moved.value("mass.diverted.central")) <= _SAME and abs(
        moved.value("mass.received.central")
    ) <= _SAME:  # fmt: skip
        return Columns((reported, period), total, said)
    return Columns((reported, moved, period), total, said)


def _between(figures: GrantFigures, previously: PreviouslyReported) -> str:
    if previously.end + _DAY == figures.period.period.start:
        return N_("Restated since")
    return N_("Added or restated since")
