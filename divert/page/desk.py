"""The one yard that is open on the page: its last reading, and the next one on its way.

A request never waits for a reading: it shows the last one that was finished, and says how far the
next one is. Readings are values; what shows one goes on showing it while another is being made.
"""

from __future__ import annotations

import contextlib
import datetime as dt
import threading
from collections.abc import Callable
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import TYPE_CHECKING

from divert.core.findings import CannotRun
from divert.core.words import N_, Text
from divert.ingest.cells_held import CellsHeld
from divert.ingest.read import hold
from divert.inventory.file import read_inventory
from divert.inventory.names import names_kept
from divert.page.again import read_again
from divert.page.guess import Guess, guess_yard
from divert.page.watch import Looks, looks

if TYPE_CHECKING:
    from divert.convert import Workings
    from divert.inventory.model import Inventory
    from divert.site.model import Site

BREATH = 1.0  # seconds after a kept reading, unless somebody asks for its cells
LOOKED_AT_EVERY = 0.5  # seconds between two looks at the folder: a save shows within two


@dataclass(frozen=True, slots=True)
class Seen:
    """One finished reading of the folder; ``problem`` says why there is none.

    ``number`` counts the readings of this server, ``today`` is the day it took for one. ``site`` is
    what site.toml says, where it could be read, also where there is no spreadsheet yet; ``guess``
    what the sheets tell of a yard that has no site.toml.
    """

    number: int
    looks: Looks
    when: dt.datetime
    today: dt.date
    workings: Workings | None = None
    site: Site | None = None
    problem: Text | None = None
    guess: Guess | None = None


@dataclass(frozen=True, slots=True)
class Progress:
    """How far a reading is: the file being read, how many are done, of how many."""

    busy: bool
    file: str = ""
    done: int = 0
    of: int = 0


@dataclass
class Desk:
    """A site folder with what was read of it; :meth:`start` begins to look after it.

    ``then``: what the folder held when it was last read before it was opened here.
    """

    folder: Path
    as_of: dt.date | None = None
    after: list[Callable[[Seen], None]] = field(default_factory=list)
    then: Inventory | None = None
    _seen: Seen | None = None
    _busy: bool = False
    _cells: CellsHeld = field(default_factory=lambda: CellsHeld(holds_sheets=True))
    _wake: threading.Event = field(default_factory=threading.Event)
    _done: threading.Condition = field(default_factory=threading.Condition)
    _closed: bool = False

    @property
    def today(self) -> dt.date:
        """Return the day that counts as today."""
        return self.as_of or dt.date.today()

    @property
    def seen(self) -> Seen | None:
        """Return the last finished reading, None before the first."""
        return self._seen

    @property
    def cells(self) -> CellsHeld:
        """Return the cells of every file as they were last opened."""
        return self._cells

    @property
    def progress(self) -> Progress:
        """Return how far the reading on its way is."""
        held = self._cells
        return Progress(self._busy, held.opening, held.opened, held.waiting)

    def is_old(self, seen: Seen | None) -> bool:
        """Return whether a reading no longer shows the folder as it is."""
        now = looks(self.folder)
        return seen is None or (seen.looks.sheets, seen.looks.settings) != (
            now.sheets,
            now.settings,
        )

    def start(self) -> None:
        """Read the folder now and whenever it changes, beside whatever asks."""
        threading.Thread(target=self._look_after, name="reading", daemon=True).start()

    def nudge(self) -> None:
        """Look at the folder at once."""
        self._wake.set()

    def close(self) -> None:
        """Look no more."""
        self._closed = True
        self._wake.set()

    def wait_for(self, number: int, seconds: float) -> Seen | None:
        """Return the reading once it is the ``number``th or later, or the last after ``seconds``."""
        with self._done:
            self._done.wait_for(
                lambda: self._seen is not None and self._seen.number >= number, seconds
            )
        return self._seen

    def _look_after(self) -> None:
        with contextlib.suppress(CannotRun):
            self.then = read_inventory(self.folder)
        while not self._closed:
            now = looks(self.folder)
            last = self._seen
            if last is None or last.looks != now or last.today != self.today:
                self._read(now)
            elif not self._cells.whole and last.workings is not None:
                self._wake.wait(BREATH)  # the first view is not to share its moment
                if looks(self.folder) == last.looks:
                    self._open(last.workings.site)
            elif not self._wake.wait(LOOKED_AT_EVERY) and self._cells.keep_reading:
                keep, self._cells.keep_reading = self._cells.keep_reading, None
                keep()
            self._wake.clear()

    def _open(self, site: Site) -> None:
        """Open the files of a reading that was kept: it says what they hold, but shows no cell."""
        with contextlib.suppress(CannotRun):
            hold(site, self.today, names_kept(site.folder), self._cells)
        self._cells.whole = True

    def _read(self, now: Looks) -> None:
        last = self._seen
        number = 1 if last is None else last.number + 1
        same_day = last is not None and last.today == self.today
        if last is not None and same_day and replace(last.looks, register=now.register) == now:
            self._finished(replace(last, number=number, looks=now))
            return
        self._busy = True
        seen = Seen(number, now, dt.datetime.now(), self.today)
        same_sheets = last is not None and same_day and last.looks.sheets == now.sheets
        try:
            before = last.workings if last is not None and same_sheets else None
            if last is not None and last.looks.settings[1:] != now.settings[1:]:
                before = None  # more than site.toml changed
            if not (self.folder / "site.toml").exists():
                seen = replace(seen, guess=guess_yard(self.folder, self.today, self._cells))
            site, workings = read_again(self.folder, self.today, self._cells, before)
            seen = replace(seen, workings=workings, site=site)
        except CannotRun as stop:
            seen = replace(seen, problem=stop.message, site=_site_of(self.folder))
        except Exception as problem:  # a fault of ours must not end the page: it is shown on it
            said = Text(
                N_("Something went wrong that divert did not foresee: {problem}"),
                {"problem": repr(problem)},
            )
            seen = replace(seen, problem=said, site=_site_of(self.folder))
        finally:
            self._busy = False
        self._finished(replace(seen, when=dt.datetime.now()))

    def _finished(self, seen: Seen) -> None:
        with self._done:
            self._seen = seen
            self._done.notify_all()
        for told in self.after:
            told(seen)


def _site_of(folder: Path) -> Site | None:
    from divert.site.read import read_site

    with contextlib.suppress(CannotRun):
        return read_site(folder)
    return None
