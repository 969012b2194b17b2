"""Amounts on the page: in the site's units, as finely as a person reads them."""

from __future__ import annotations

import math
from dataclasses import dataclass

from divert.core.range import Range
from divert.figures.numbers.printed import THIN, PrintedRange, Printer
from divert.figures.numbers.scales import Kind, Scale

_DIGITS = 3  # of a weight that no report prints: a line's, a question's


@dataclass(frozen=True, slots=True)
class Amounts:
    """Writes single amounts (SI) and ranges with their unit."""

    printer: Printer

    def one(self, kind: Kind, value: float, of: float | None = None) -> str:
        """Return an amount to three digits, in the unit that suits it, or one of the size ``of``."""
        scale = self._scale(kind, value if of is None else of)
        text = self._text(value, scale, value if of is None else of)
        return f"{text}{THIN}{self.printer.unit(scale.unit, text)}"

    def mass(self, kg: float) -> str:
        """Return a mass: "31.6 lb"."""
        return self.one("mass", kg)

    def bare(self, kg: float) -> str:
        """Return a mass without its unit."""
        return self._text(kg, self._scale("mass", kg), kg)

    def unit_in_full(self, kg: float) -> str:
        """Return the unit of a mass in full: "short tons (2,000 lb)"."""
        return self.printer.unit_in_full(self._scale("mass", kg).unit, self.bare(kg))

    def in_full(self, kg: float) -> str:
        """Return a mass with its unit in full, so that no ton stands bare."""
        return f"{self.bare(kg)} {self.unit_in_full(kg)}"

    def central(self, kind: Kind, value: Range) -> str:
        """Return a figure's central value as every report prints it."""
        printed = self._printed(kind, value).central
        return f"{printed.text}{THIN}{self.printer.unit(printed.unit, printed.text)}"

    def central_in_full(self, value: Range) -> str:
        """Return a mass as every report prints it, its unit in full."""
        printed = self._printed("mass", value).central
        return f"{printed.text} {self.printer.unit_in_full(printed.unit, printed.text)}"

    def ends(self, kind: Kind, value: Range) -> str:
        """Return the ends of a figure's range, in the unit of its central value."""
        printed = self._printed(kind, value)
        return f"{printed.low.text} – {printed.high.text}"

    def _printed(self, kind: Kind, value: Range) -> PrintedRange:
        return self.printer.drawn("page", value, self._scale(kind, value.central))

    def _scale(self, kind: Kind, size: float) -> Scale:
        return self.printer.scale(kind, size)

    def _text(self, value: float, scale: Scale, size: float) -> str:
        shown = abs(size) / scale.factor
        whole = math.floor(math.log10(shown)) + 1 if shown > 0 else 1
        return self.printer.number(value / scale.factor, min(max(_DIGITS - whole, 0), 3))
