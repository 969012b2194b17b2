"""What is worked out beside the page once a reading stands: all figures, and totals under answers."""

from __future__ import annotations

import threading
import time
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from divert.core.findings import CannotRun, Finding
from divert.page.questions import Question, Signed, questions_of

if TYPE_CHECKING:
    from divert.figures.contract import Figures, Mass
    from divert.page.desk import Seen

_BREATH = 0.4  # seconds
_MOST_QUESTIONS = 12  # whose totals are worked out beforehand; the others when they are looked at


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
    _asked: tuple[tuple[int, bool], tuple[Question, ...]] = ((0, False), ())
    _lock: threading.Lock = field(default_factory=threading.Lock)

    def begin(self, seen: Seen) -> None:
        """Work for this reading from now on, and forget what was worked out for others."""
        if seen.number == self.number or seen.workings is None:
            return
        self.number, self.figures, self.mass, self.totals, self.done = (
            seen.number,
            None,
            None,
            {},
            False,
        )
        threading.Thread(target=self._work, args=(seen,), name="weighing", daemon=True).start()

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

    def _work(self, seen: Seen) -> None:
        from divert.core.period import read_period
        from divert.figures.compute import figures_for
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
