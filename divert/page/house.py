"""What one server of the page knows: its keys, the yard that is open, and what is being made."""

from __future__ import annotations

import datetime as dt
import time
from collections.abc import Callable
from dataclasses import dataclass, field
from pathlib import Path

from flask import current_app

from divert.page.desk import Desk, Seen
from divert.page.guard import Keys
from divert.page.making import Making
from divert.page.plans import Plans
from divert.page.weighing import Weighing


@dataclass
class House:
    """The state of the server; everything else lies in the folder."""

    keys: Keys
    as_of: dt.date | None = None
    desk: Desk | None = None
    making: Making = field(default_factory=Making)
    weighing: Weighing = field(default_factory=Weighing)
    plans: Plans = field(default_factory=Plans)
    stop: Callable[[], None] = lambda: None
    clock: Callable[[], float] = time.monotonic
    heard: float = 0.0

    def __post_init__(self) -> None:
        self.hear()

    def hear(self) -> None:
        """Note that a page is open."""
        self.heard = self.clock()

    def weighed(self, desk: Desk, seen: Seen) -> bool:
        """Return whether all that is worked out beside the page is there for a reading."""
        done = self.weighing.number == seen.number and self.weighing.done
        return (done and desk.cells.whole) or seen.workings is None

    def open(self, folder: Path) -> Desk:
        """Open a yard's folder in place of the one that was open."""
        if self.desk is not None:
            if self.desk.folder == folder:
                return self.desk
            self.desk.close()
        desk = self.desk = Desk(folder, self.as_of)
        desk.after.append(lambda seen: self.weighing.begin(seen, desk.then))
        desk.start()
        return desk


def house() -> House:
    """Return the house of the request that is being answered."""
    found = current_app.extensions["divert"]
    assert isinstance(found, House)
    return found
