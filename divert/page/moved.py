"""What every issued report said, what it would say now, and why that differs."""

from __future__ import annotations

import threading
from dataclasses import dataclass
from pathlib import Path

from divert.core.findings import CannotRun
from divert.core.words import Text
from divert.figures.figure_path import get
from divert.figures.history import Restatement
from divert.ingest import read_folder
from divert.ingest.cells_held import CellsHeld
from divert.page.desk import Seen
from divert.register import Entry, Register, Withdrawal, restatements
from divert.register.restate import central_values

_MAIN = ("supplied.diverted", "supported.diverted")  # a sponsor's own, the first that there is
_MOVED = 0.5  # kg: less is not told as a move


@dataclass(frozen=True, slots=True)
class SentShown:
    """One issued report with its total then and now (kg); ``withdrawn`` how it was taken back."""

    entry: Entry
    then_kg: float
    now_kg: float | None
    withdrawn: Withdrawal | None

    @property
    def moved(self) -> bool:
        """Return whether its total is another one today."""
        return self.now_kg is not None and abs(self.now_kg - self.then_kg) >= _MOVED


def sent_shown(seen: Seen, register: Register, entry: Entry) -> SentShown:
    """Return one issued report beside what a reading says of it today."""
    set_name, figure = _figure(entry)
    then = float(get(entry.figures[set_name], f"{figure}.central"))
    return SentShown(
        entry, then, _now(seen, entry, set_name, figure), register.withdrawals.get(entry.number)
    )


def _figure(entry: Entry) -> tuple[str, str]:
    """Return the set and the path of the figure that a report is remembered by."""
    set_name = "total" if "total" in entry.figures else "period"
    issued = entry.figures[set_name]
    found = (p for p in _MAIN if get(issued, f"{p}.central") is not None)
    return set_name, next(found, "mass.diverted")


def _now(seen: Seen, entry: Entry, set_name: str, figure: str) -> float | None:
    """Return the same figure as it comes out today; None where it cannot be worked out."""
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
        workings, day = seen.workings, seen.today
        assert workings is not None
        try:
            _worked_out[key] = restatements(
                entry, workings, lambda site: read_folder(site, day, None, None, (), beside)
            )
        except CannotRun as problem:
            _worked_out[key] = problem.message

    threading.Thread(target=work, name="moves", daemon=True).start()
    return None
