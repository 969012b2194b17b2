"""A figure on its way to paper: formatted once, remembered, and the same in every output.

A :class:`Printer` turns a number of the figures into a :class:`Printed` by the rules of rounding
(divert.figures.numbers.rounding), the units of the site and the language's way of writing numbers. It keeps
what it printed, so that the record in a report can list every figure that stands on the page.
"""

from __future__ import annotations

import datetime as dt
import re
from collections.abc import Collection, Iterable, Sequence
from dataclasses import dataclass
from functools import lru_cache

from markupsafe import Markup, escape

from divert.core.range import Range
from divert.core.words import N_, Text, catalogue, elided, first_of_month
from divert.figures.numbers.rounding import steps
from divert.figures.numbers.scales import Kind, Scale, Units, suited
from divert.figures.numbers.unit_words import long_name, short_name
from divert.figures.numbers.written import is_one, locale_of, rounded_text, written_number

THIN = "\u202f"  # narrow no-break space: before a unit or a percent sign
_FIGURE = Markup('<data class="figure" value="{}" data-key="{}">{}</data>')


@dataclass(frozen=True, slots=True)
class Printed:
    """One figure as it stands on the page.

    ``key`` is ``"<set>:<figure path>"``; ``value`` the unrounded number in the figures' own unit
    (kg, kg CO2e, share); ``unit`` a key of scales.FACTOR and ``quantum`` the rounding unit in it;
    ``text`` what is printed, without the unit: ``value`` rounded to the nearest ``quantum``.
    """

    key: str
    value: float
    unit: str
    quantum: float
    text: str

    def __html__(self) -> Markup:
        """Return the figure marked as one, for templates."""
        return _FIGURE.format(f"{self.value:.10g}", self.key, self.text)

    def __str__(self) -> str:
        return self.text


@dataclass(frozen=True, slots=True)
class PrintedRange:
    """A central value and the ends of its 90 % interval, on one scale."""

    central: Printed
    low: Printed
    high: Printed

    def __html__(self) -> Markup:
        """Return the central value marked as a figure, for templates."""
        return self.central.__html__()


_DECIMALS = 3  # at most, of a number in a sentence that is no figure


class Printer:
    """Writes figures, dates and sentences by one language and one system of units.

    ``language`` is a catalogue's name ("en", "fr"); ``country`` settles how dates are ordered.
    ``figures_set`` is the set that keys belong to where none is named ("period"); ``own_names`` are
    the site's own names of materials, which no language changes.
    """

    def __init__(
        self, language: str, units: Units, *, country: str = "US", currency: str = "USD",
        figures_set: str = "period", own_names: Collection[str] = (),
    ) -> None:  # fmt: skip
        self.language = language
        self.units: Units = units
        self.country = country
        self.currency = currency
        self.figures_set = figures_set
        self.own_names = frozenset(own_names)
        self._printed: dict[tuple[str, str, float], Printed] = {}

    @property
    def printed(self) -> tuple[Printed, ...]:
        """Return every figure printed so far, once each, in order of first printing."""
        return tuple(self._printed.values())

    # Scales

    def scale(self, kind: Kind, total: float, *, unit: str | None = None) -> Scale:
        """Return the unit of a table or chart whose largest figure is ``total`` (kg, m³ ...)."""
        return suited(kind, total, self.units, unit=unit)

    # Figures

    def range(
        self, key: str, value: Range, scale: Scale, *, within: Range | None = None,
        central: str = "central",
    ) -> PrintedRange:  # fmt: skip
        """Print a central value and its interval, with as many digits as its own width allows.

        ``within`` is what the value is a part of (received, of what was diverted): where rounding
        would print the part above it, the part takes its digits. ``central`` is what the path calls
        the central value.
        """
        quantum = _quantum(value, scale, within)
        ends = {central: value.central, "low": value.low, "high": value.high}
        return PrintedRange(
            *(self._keep(f"{key}.{end}", one, scale, quantum) for end, one in ends.items())
        )

    def central(
        self, key: str, value: Range, scale: Scale, *, within: Range | None = None
    ) -> Printed:
        """Print a central value alone, as :meth:`range` does; ``key`` is the range's."""
        return self._keep(
            f"{key}.central", value.central, scale, _quantum(value, scale, within)
        )  # fmt: skip

    def one(self, key: str, value: float, scale: Scale) -> Printed:
        """Print one number that has no range: three digits, or as the scale says.

        ``key`` is a figure path, with or without its set before a colon.
        """
        return self._keep(key, value, scale, scale.quantum_of(value))

    def share(self, key: str, value: float) -> Printed:
        """Print one share of a whole in whole percents."""
        return self.one(key, value, Scale("%", 1.0))

    def count(self, key: str, value: float) -> Printed:
        """Print a count."""
        return self.one(key, value, Scale("count", 1.0))

    def drawn(self, key: str, value: Range, scale: Scale) -> PrintedRange:
        """Return a range that a chart draws without writing it: rounded alike, not kept."""
        quantum = _quantum(value, scale, None)
        ends = {"central": value.central, "low": value.low, "high": value.high}
        return PrintedRange(
            *(self._made(f"{key}.{end}", one, scale, quantum) for end, one in ends.items())
        )

    def only_drawn(self, key: str, value: float, scale: Scale) -> Printed:
        """Return a figure without a range that a chart draws without writing it: not kept."""
        return self._made(key, value, scale, scale.quantum_of(value))

    def _keep(self, key: str, value: float, scale: Scale, quantum: float) -> Printed:
        figure = self._made(key, value, scale, quantum)
        return self._printed.setdefault((figure.key, scale.unit, quantum), figure)

    def _made(self, key: str, value: float, scale: Scale, quantum: float) -> Printed:
        text = rounded_text(value / scale.factor, scale.unit, quantum, self.language)
        return Printed(self._full(key), value, scale.unit, quantum, text)

    def _full(self, key: str) -> str:
        return key if ":" in key.split("[", 1)[0] else f"{self.figures_set}:{key}"

    # Words

    def number(self, value: float, decimals: int = 0) -> str:
        """Write a plain number by the language's rules, with a true minus sign."""
        return written_number(value, decimals, self.language)

    def written(self, value: float, scale: Scale, quantum: float, *, signed: bool = False) -> str:
        """Write a value at a rounding unit as figures are; ``signed`` puts a plus before a gain."""
        text = rounded_text(value / scale.factor, scale.unit, quantum, self.language)
        return f"+{text}" if signed and value > 0 and text[:1].isdigit() and text != "0" else text

    def with_unit(self, figure: Printed | PrintedRange) -> Markup:
        """Return a marked figure, a thin no-break space and its unit's short name ("lb", "%")."""
        figure = figure.central if isinstance(figure, PrintedRange) else figure
        if figure.unit == "money":
            before, after = money_signs(self.currency, self.language, self.country)
            return Markup("{}{}{}").format(before, figure, after)
        if figure.unit == "count":
            return Markup("{}").format(figure)
        return Markup("{}{}{}").format(figure, THIN, self.unit(figure.unit, figure.text))

    def unit(self, unit: str, text: str = "2") -> str:
        """Return a unit's short name as it stands after a number written ``text``."""
        return short_name(unit, self._one(text), self.language)

    def unit_in_full(self, unit: str, text: str = "2") -> str:
        """Return a unit's full name: "pounds", "short tons (2,000 lb)"."""
        return long_name(unit, self._one(text), self.language)

    def _one(self, text: str) -> bool:
        return is_one(text, self.language)

    def say(self, text: Text) -> Markup:
        """Return a sentence in the language, its places filled: figures marked, text escaped."""
        template = catalogue(self.language).gettext(text.message) if text.message else ""
        values = {k: self._place(v) for k, v in text.values.items()}
        told = {k: str(v.__html__() if hasattr(v, "__html__") else v) for k, v in values.items()}
        return escape(elided(template, told, self.language)).format(**values)

    def plain(self, text: Text) -> str:
        """Return a sentence as plain text, for titles and alternative texts."""
        return self.plain_text(self.say(text))

    def plain_text(self, said: Markup) -> str:
        """Return a sentence already said as plain text."""
        # Markup.striptags would also turn thin spaces into wide ones.
        return Markup(re.sub(r"<[^>]*>", "", said)).unescape()

    def _place(self, value: object) -> object:
        if isinstance(value, Text):
            return self.say(value)
        if isinstance(value, bool | str | Printed | PrintedRange) or hasattr(value, "__html__"):
            return value
        if isinstance(value, int):
            return self.number(value)
        if isinstance(value, float):
            few = (n for n in range(_DECIMALS) if round(value, n) == value)
            return self.number(value, next(few, _DECIMALS))
        if isinstance(value, dt.date):
            return self.date(value)
        return str(value)

    def date(self, day: dt.date, form: str = "long") -> str:
        """Write a date as the country orders it ("April 3, 2025", "3 April 2025")."""
        from babel.dates import format_date

        locale = locale_of(self.language, self.country)
        return first_of_month(str(format_date(day, form, locale=locale)), day, self.language)

    def phrases(self, items: Iterable[str]) -> str:
        """Join phrases that may hold commas in the language's way: "a, b; c"."""
        return self.plain(Text(N_("; "))).join(items)

    def names(self, items: Sequence[str | Markup]) -> str | Markup:
        """Join names in the language's way: "a, b and c"."""
        from babel.lists import format_list

        places = [f"\ue000{i}\ue001" for i in range(len(items))]
        joined = str(format_list(places, locale=self.language)) if items else ""
        if self.language == "en":
            joined = joined.replace(", and ", " and ")
        out = escape(joined)
        for place, item in zip(places, items, strict=True):
            out = out.replace(place, escape(item))
        return out


def _quantum(value: Range, scale: Scale, within: Range | None) -> float:
    """Return a range's rounding unit; that of what holds it where it would print above it."""
    own = scale.quantum_of(value.central, value)
    if within is None or value.central > within.central:
        return own
    other = scale.quantum_of(within.central, within)
    part, whole = value.central / scale.factor, within.central / scale.factor
    above = steps(part, own) * own > steps(whole, other) * other * (1 + 1e-12)
    return other if above else own


@lru_cache
def money_signs(currency: str, language: str, country: str = "") -> tuple[str, str]:
    """Return what stands before and after an amount: ("$", "") or ("", " $")."""
    from babel.numbers import get_currency_symbol

    locale = locale_of(language, country)
    symbol = str(get_currency_symbol(currency, locale=locale))
    pattern = locale.currency_formats["standard"].pattern
    if pattern.startswith("¤"):
        return (symbol if not symbol[-1].isalpha() else f"{symbol}{THIN}"), ""
    return "", f"{THIN}{symbol}"
