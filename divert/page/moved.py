"""What every issued report said, what it would say now, and why that differs."""

from __future__ import annotations

import threading
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from divert.core.findings import CannotRun
from divert.core.range import Range
from divert.core.words import Text
from divert.ingest import read_folder
from divert.ingest.cells_held import CellsHeld
from divert.page.amounts import Amounts
from divert.page.desk import Seen
from divert.page.figure_names import kind_of, name_of

if TYPE_CHECKING:  # they bring all figures, which the first view does without
    from divert.figures.history import Restatement
    from divert.register import Entry, Register, Withdrawal

_MAIN = ("supplied.diverted", "supported.diverted")  # a sponsor's own, the first that there is


@dataclass(frozen=True, slots=True)
class SentShown:
    """One issued report with its total as it said it and as it would say it today.

    ``now`` is "" where it cannot be worked out; ``withdrawn`` how the report was taken back.
    """

    entry: Entry
    then: str
    now: str
    withdrawn: Withdrawal | None

    @property
    def moved(self) -> bool:
        """Return whether it would print another total today."""
        return self.now not in ("", self.then)


def sent_shown(seen: Seen, register: Register, entry: Entry, amounts: Amounts) -> SentShown:
    """Return one issued report beside what a reading says of it today."""
    from divert.figures.figure_path import get

    set_name, figure = _figure(entry)
    issued = entry.figures[set_name]
    then = Range(*(float(get(issued, f"{figure}.{end}")) for end in ("central", "low", "high")))
    now = _now(seen, entry, set_name, figure)
    return SentShown(
        entry, amounts.central("mass", then),
        "" if now is None else amounts.central("mass", moved_to(then, now)),
        register.withdrawals.get(entry.number),
    )  # fmt: skip


def moved_to(then: Range, now: float) -> Range:
    """Return a range of the same width around today's value, so that it is printed as finely."""
    by = now - then.central
    return Range(now, then.low + by, then.high + by)


@dataclass(frozen=True, slots=True)
class MoveShown:
    """One issued figure that prints differently today: its name, then and now, and the parts of it."""

    figure: str
    name: Text
    then: str
    now: str
    parts: tuple[tuple[str, int | None, str], ...]


def move_shown(one: Restatement, amounts: Amounts) -> MoveShown:
    """Return a restatement as the view writes it."""
    path = one.figure.removesuffix(".central")
    kind = kind_of(path)
    then = one.range_then or Range(one.was, one.was, one.was)
    parts = tuple(
        (part.reason, part.rows, amounts.one(kind, part.amount))
        for part in one.parts
        if part.amount
    )
    return MoveShown(
        path, name_of(path), amounts.central(kind, then),
        amounts.central(kind, moved_to(then, one.now)), parts,
    )  # fmt: skip


def _figure(entry: Entry) -> tuple[str, str]:
    """Return the set and the path of the figure that a report is remembered by."""
    from divert.figures.figure_path import get

    set_name = "total" if "total" in entry.figures else "period"
    issued = entry.figures[set_name]
    found = (p for p in _MAIN if get(issued, f"{p}.central") is not None)
    return set_name, next(found, "mass.diverted")


def _now(seen: Seen, entry: Entry, set_name: str, figure: str) -> float | None:
    """Return the same figure as it comes out today; None where it cannot be worked out."""
    from divert.register.restate import central_values

    assert seen.workings is not None
    issued = entry.figures[set_name]
    try:
        made = central_values(seen.workings, issued, [figure], issued.get("sponsor"))
    except CannotRun:
        return None
    return made.get(figure)


_worked_out: dict[tuple[Path, int, str], tuple[Restatement, ...] | Text | None] = {}
_MOST_WORKED_OUT = 50


def moves(
    folder: Path, seen: Seen, entry: Entry, cells: CellsHeld
) -> tuple[Restatement, ...] | Text | None:
    """Return the issued figures that print differently today, with the parts of each move.

    They are worked out beside the page, for the sheets may have to be read as they were: None until
    they are there, a sentence where they cannot be.
    """
    key = (folder, seen.number, entry.number)
    if key in _worked_out:
        return _worked_out[key]
    while len(_worked_out) > _MOST_WORKED_OUT:
        _worked_out.pop(next(iter(_worked_out)))
    _worked_out[key] = None

    beside = cells.alone()

    def work() -> None:
        from divert.register import restatements

        workings, day = seen.workings, seen.today
        assert workings is not None
        try:
            _worked_out[key] = restatements(
                entry,
                workings,
                lambda site, plans: read_folder(site, day, None, None, (), beside, plans),
                _figure(entry)[0],
            )
        except CannotRun as problem:
            _worked_out[key] = problem.message

    threading.Thread(target=work, name="moves", daemon=True).start()
    return None
