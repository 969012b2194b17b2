"""Amounts on the page: in the site's units, as finely as a person reads them."""

from __future__ import annotations

import math
from dataclasses import dataclass

from divert.core.range import Range
from divert.core.words import N_, Text
from divert.figures.numbers.printed import THIN, PrintedRange, Printer
from divert.figures.numbers.scales import Kind, Scale

_DIGITS = 3  # of an estimate that stands alone: a line's, a question's
_FINEST = 3  # digits after the point
_AS_WRITTEN = 2  # the same, of what somebody wrote down


@dataclass(frozen=True, slots=True)
class Amounts:
    """Writes single amounts (SI) and ranges with their unit.

    A figure that has a range is written as every report prints it (:meth:`central`), an estimate that
    stands alone in three digits, and what somebody weighed or wrote as they wrote it (``exact``).
    """

    printer: Printer

    def one(self, kind: Kind, value: float, of: float | None = None, *, exact: bool = False) -> str:
        """Return an amount in the unit that suits it, or that suits one of the size ``of``."""
        scale = self._scale(kind, value if of is None else of)
        text = self._text(value, scale, exact)
        return f"{text}{THIN}{self.printer.unit(scale.unit, text)}"

    def mass(self, kg: float, *, exact: bool = False) -> str:
        """Return a mass: "31.6 lb"."""
        return self.one("mass", kg, exact=exact)

    def bare(self, kg: float) -> str:
        """Return a mass without its unit."""
        return self._text(kg, self._scale("mass", kg))

    def unit_in_full(self, kg: float) -> str:
        """Return the unit of a mass in full: "short tons (2,000 lb)"."""
        return self.printer.unit_in_full(self._scale("mass", kg).unit, self.bare(kg))

    def in_full(self, kg: float) -> str:
        """Return a mass with its unit in full, so that no ton stands bare."""
        return f"{self.bare(kg)} {self.unit_in_full(kg)}"

    def central(self, kind: Kind, value: Range, of: float | None = None) -> str:
        """Return a figure's central value as every report prints it; in the unit that suits ``of``
        where it stands beside one of that size."""
        scale = self._scale(kind, value.central if of is None else of)
        printed = self.printer.drawn("page", value, scale).central
        return f"{printed.text}{THIN}{self.printer.unit(printed.unit, printed.text)}"

    def central_in_full(self, value: Range) -> str:
        """Return a mass as every report prints it, its unit in full."""
        printed = self._printed("mass", value).central
        return f"{printed.text} {self.printer.unit_in_full(printed.unit, printed.text)}"

    def ends(self, kind: Kind, value: Range) -> str:
        """Return the ends of a figure's range, in the unit of its central value; "" for a point."""
        if value.low == value.high:
            return ""
        printed = self._printed(kind, value)
        return self._span(printed.low.text, printed.high.text, value)

    def ends_of_one(self, value: Range) -> str:
        """Return the ends of a single mass's range, each as :meth:`mass` writes it."""
        scale = self._scale("mass", value.central)
        return self._span(self._text(value.low, scale), self._text(value.high, scale), value)

    def _span(self, low: str, high: str, value: Range) -> str:
        """Return two ends as one span; a dash beside a minus sign could be taken for another."""
        if min(value.low, value.high) < 0:
            said = Text(N_("{low} to {high}"), {"low": low, "high": high})
            return said.say(self.printer.language)
        return f"{low} – {high}"

    def _printed(self, kind: Kind, value: Range) -> PrintedRange:
        return self.printer.drawn("page", value, self._scale(kind, value.central))

    def _scale(self, kind: Kind, size: float) -> Scale:
        return self.printer.scale(kind, size)

    def _text(self, value: float, scale: Scale, exact: bool = False) -> str:
        shown = value / scale.factor
        if exact:
            rounded = round(shown, _AS_WRITTEN)
            places = next(n for n in range(_AS_WRITTEN + 1) if round(rounded, n) == rounded)
            return self.printer.number(rounded, places)
        whole = math.floor(math.log10(abs(shown))) + 1 if shown else 1
        places = min(_DIGITS - whole, _FINEST) if shown else 0
        return self.printer.number(round(shown, places), max(places, 0))
