"""What a chart is made of and what it gives back."""

from __future__ import annotations

from dataclasses import dataclass

from divert.core.words import Text
from divert.figures.numbers.printed import Printed, PrintedRange
from divert.figures.numbers.scales import FACTOR


@dataclass(frozen=True, slots=True)
class Amount:
    """A number to draw, in print units, with its printed text and the ends of its range if any."""

    value: float
    text: str
    low: float | None = None
    high: float | None = None

    @property
    def top(self) -> float:
        """Return the highest point that a drawing of it reaches."""
        return self.value if self.high is None else max(self.value, self.high)

    @property
    def bottom(self) -> float:
        """Return the lowest point that a drawing of it reaches."""
        return self.value if self.low is None else min(self.value, self.low)


@dataclass(frozen=True, slots=True)
class Look:
    """How a chart is drawn: the site's colours (``#rrggbb``), the width it prints at, the language.

    ``strong`` stands off white by 4.5:1 at least, ``pale`` is the same colour weakened.
    """

    strong: str = "#2f6b4f"
    pale: str = "#b9cbc1"
    width_mm: float = 174.0
    language: str = "en"


@dataclass(frozen=True, slots=True)
class Chart:
    """A drawn chart: ``title`` states what it shows, ``note`` measure, unit and how to read it.

    ``alt`` tells in words what the drawing shows to the eye.
    """

    svg: str
    title: str
    note: str
    alt: str


def amount(printed: Printed | PrintedRange) -> Amount:
    """Return a printed figure as a number to draw, its range with it."""
    if isinstance(printed, Printed):
        return Amount(_in_unit(printed), printed.text)
    low, high = _in_unit(printed.low), _in_unit(printed.high)
    return Amount(_in_unit(printed.central), printed.central.text, low, high)


def _in_unit(printed: Printed) -> float:
    return printed.value / FACTOR[printed.unit]


def sentences(language: str, *parts: Text | None) -> str:
    """Join sentences in a language, leaving out those that are None."""
    return " ".join(part.say(language) for part in parts if part is not None)


def as_name(text: str) -> str:
    """Return a label with its first letter large, the rest as the user wrote it."""
    clean = " ".join(text.split())
    return clean[:1].upper() + clean[1:]


def in_sentence(text: str) -> str:
    """Return a material's name as a sentence holds it: small at the start, unless in capitals."""
    clean = " ".join(text.split())
    return clean[:1].lower() + clean[1:] if clean[1:2].islower() else clean
