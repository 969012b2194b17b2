"""What is worked out beside the page once a reading stands: all figures, and totals under answers."""

from __future__ import annotations

import datetime as dt
import threading
import time
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from divert.core.findings import CannotRun, Finding
from divert.page.questions import Question, Signed, questions_of

if TYPE_CHECKING:
    from divert.figures.contract import Figures, Mass
    from divert.inventory.changes import Changed
    from divert.inventory.model import Inventory
    from divert.page.desk import Seen

_BREATH = 0.4  # seconds
_MOST_QUESTIONS = 12  # whose totals are worked out beforehand; the others when they are looked at


@dataclass(frozen=True, slots=True)
class Since:
    """What is new since the day that the folder was last read, before it was opened here."""

    day: dt.date
    files: tuple[Changed, ...]


@dataclass
class Weighing:
    """Results for the reading of a number; what is asked for another reading is not there yet.

    ``figures`` over all time bring the questions that only figures can raise. ``totals`` holds, by
    question and answer, the balance that the answer would lead to (None where it cannot be told).
    """

    number: int = 0
    figures: Figures | None = None
    mass: Mass | None = None
    totals: dict[tuple[str, str], Mass | None] = field(default_factory=dict)
    done: bool = False
    _since: Since | None = None
    _asked: tuple[tuple[int, bool], tuple[Question, ...]] = ((0, False), ())
    _lock: threading.Lock = field(default_factory=threading.Lock)

    def begin(self, seen: Seen, then: Inventory | None = None) -> None:
        """Work for this reading from now on, and forget what was worked out for others.

        ``then``: what the folder held the last time, to say what is new since.
        """
        if seen.number == self.number or seen.workings is None:
            return
        self.figures = self.mass = self._since = None
        self.number, self.totals, self.done = seen.number, {}, False
        threading.Thread(target=self._work, args=(seen, then), name="weighing", daemon=True).start()

    def findings(self, seen: Seen) -> tuple[Finding, ...]:
        """Return the findings of a reading, with those of its figures as soon as they are known."""
        assert seen.workings is not None
        if self.figures is not None and self.number == seen.number:
            return self.figures.findings
        return seen.workings.findings

    def questions(self, seen: Seen) -> tuple[Question, ...]:
        """Return the open questions of a reading."""
        if seen.workings is None:
            return ()
        state = (seen.number, self.figures is not None and self.number == seen.number)
        if self._asked[0] != state:
            self._asked = (state, questions_of(seen.workings, self.findings(seen)))
        return self._asked[1]

    def of(self, seen: Seen, question: Question) -> Mapping[str, Mass | None]:
        """Return the balances known so far under the answers to a question."""
        if self.number != seen.number:
            return {}
        return {c: mass for (q, c), mass in list(self.totals.items()) if q == question.key}

    def since(self, seen: Seen) -> Since | None:
        """Return what is new since the last time, None where it is not known yet."""
        return self._since if self.number == seen.number else None

    def _work(self, seen: Seen, then: Inventory | None) -> None:
        from divert.core.period import read_period
        from divert.figures.compute import figures_for
        from divert.inventory.changes import changes
        from divert.page.questions.totals import mass_of, mass_under

        time.sleep(_BREATH)  # whoever waits for the new reading sees it first
        with self._lock:
            workings = seen.workings
            if workings is None or self.number != seen.number:
                return
            site = workings.site
            mass = mass_of(workings)
            figures = None
            if mass is not None:
                period = read_period("all", as_of=seen.today, started=site.started,
                                     year_starts=site.year_starts)  # fmt: skip
                figures = figures_for(workings, period, seen.today)
            if self.number != seen.number:
                return
            self.mass, self.figures = mass, figures
            if then is not None:
                self._since = Since(then.as_of, changes(workings, then, seen.today))
            for question in self.questions(seen)[:_MOST_QUESTIONS]:
                for choice in question.choices:
                    if self.number != seen.number:
                        return
                    if choice.makes is None or (choice.needs and choice.needs[0].required):
                        continue
                    try:
                        edits = choice.makes({}, Signed("", seen.today))
                        total = mass_under(workings, edits)
                    except CannotRun:
                        total = None
                    if self.number == seen.number:
                        self.totals[question.key, choice.key] = total
            self.done = True
