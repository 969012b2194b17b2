"""Who writes a made-up sheet: the choices of one crew, and the words it has."""

from __future__ import annotations

import datetime as dt
from random import Random
from types import ModuleType

from .words import english, french


class Pen(Random):
    """Random choices from one seed, with the words of the crew that makes them."""

    def __init__(self, seed: int) -> None:
        super().__init__(seed)
        self.words: ModuleType = french if self.random() < 0.25 else english
        self.otherwise = self.random() < 0.5  # its notes are put as no list of phrases has them

    @property
    def french(self) -> bool:
        """Say whether the crew writes French, and its numbers and days as French crews do."""
        return self.words is french

    def month(self, day: dt.date) -> str:
        """Return the crew's name of a day's month."""
        return str(self.words.MONTHS[day.month - 1])

    def said(self, usual: str) -> str:
        """Return one of the crew's phrases of a kind, the usual ones or others."""
        rest = f"{usual}_OTHERWISE"
        return str(self.choice(getattr(self.words, rest if self.otherwise else usual)))
