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
from typing import TYPE_CHECKING

from markupsafe import Markup, escape

from divert.core.range import Range
from divert.core.words import N_, Text, catalogue, elided, first_of_month
from divert.figures.numbers.rounding import add_up, steps
from divert.figures.numbers.scales import Kind, Scale, Units, suited, weighed
from divert.figures.numbers.unit_words import long_name, short_name

if TYPE_CHECKING:
    from babel import Locale

THIN = "\u202f"  # narrow no-break space: before a unit or a percent sign
MINUS = "\u2212"
_FIGURE = Markup('<data class="figure" value="{}" data-key="{}">{}</data>')


@dataclass(frozen=True, slots=True)
class Printed:
    """One figure as it stands on the page.

    ``key`` is ``"<set>:<figure path>"``; ``value`` the unrounded number in the figures' own unit
    (kg, kg CO2e, share); ``unit`` a key of scales.FACTOR and ``quantum`` the rounding unit in it;
    ``text`` what is printed, without the unit. Figures of one ``group`` were rounded together so
    that the parts add to their total: each may stand one rounding unit from its own nearest.
    """

    key: str
    value: float
    unit: str
    quantum: float
    text: str
    group: str = ""

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

    def scale(
        self, kind: Kind, total: float, *, unit: str | None = None, all_weighed: bool = False
    ) -> Scale:
        """Return the unit and rounding unit of a table or chart with this total (kg, m³ ...)."""
        found = suited(kind, total, self.units, unit=unit)
        return weighed(found) if all_weighed else found

    # Figures

    def one(self, key: str, value: float, scale: Scale, group: str = "") -> Printed:
        """Print one number; ``key`` is a figure path, with or without its set before a colon."""
        return self._keep(key, value, steps(value / scale.factor, scale.quantum), scale, group)

    def range(self, key: str, value: Range, scale: Scale, group: str = "") -> PrintedRange:
        """Print a central value and its interval, all on one scale."""
        return PrintedRange(
            *(
                self.one(f"{key}.{end}", getattr(value, end), scale, group)
                for end in ("central", "low", "high")
            )
        )

    def parts(
        self, keys: Sequence[str], values: Sequence[float], scale: Scale, total: float, group: str
    ) -> tuple[Printed, ...]:
        """Print the parts of a total so that they add to it as it is printed.

        Print the parts of a table before anything else says one of them, so that each figure has
        one text throughout. Parts that do not come to the total before rounding are each rounded by
        themselves.
        """
        whole = steps(total / scale.factor, scale.quantum)
        scaled = [value / scale.factor for value in values]
        try:
            counted = add_up(scaled, whole, scale.quantum)
        except ValueError:
            counted, group = [steps(value, scale.quantum) for value in scaled], ""
        return tuple(
            self._keep(key, value, count, scale, group)
            for key, value, count in zip(keys, values, counted, strict=True)
        )

    def settled(self, key: str, value: float, count: int, scale: Scale, group: str = "") -> Printed:
        """Print a number at ``count`` rounding units, settled with the rest of its table."""
        return self._keep(key, value, count, scale, group)

    def shares(
        self, keys: Sequence[str], values: Sequence[float], group: str
    ) -> tuple[Printed, ...]:
        """Print shares of one whole in whole percents that add to 100."""
        return self.parts(keys, values, Scale("%", 1.0), 1.0, group)

    def share(self, key: str, value: float) -> Printed:
        """Print one share of a whole in whole percents."""
        return self.one(key, value, Scale("%", 1.0))

    def count(self, key: str, value: float) -> Printed:
        """Print a count."""
        return self.one(key, value, Scale("count", 1.0))

    def only_drawn(self, key: str, value: float, scale: Scale) -> Printed:
        """Return a figure that a chart draws without writing it: rounded alike, not kept."""
        count = steps(value / scale.factor, scale.quantum)
        return self._made(self._full(key), value, count, scale, "")

    def _keep(self, key: str, value: float, count: int, scale: Scale, group: str) -> Printed:
        figure = self._made(self._full(key), value, count, scale, group)
        # A figure printed before, perhaps as a part of a sum, keeps the text it was given then.
        return self._printed.setdefault((figure.key, scale.unit, scale.quantum), figure)

    def _made(self, key: str, value: float, count: int, scale: Scale, group: str) -> Printed:
        text = self.counted(count, scale)
        return Printed(key, value, scale.unit, scale.quantum, text, group)

    def _full(self, key: str) -> str:
        return key if ":" in key.split("[", 1)[0] else f"{self.figures_set}:{key}"

    # Words

    def number(self, value: float, decimals: int = 0) -> str:
        """Write a plain number by the language's rules, with a true minus sign."""
        return written_number(value, decimals, self.language)

    def counted(self, count: int, scale: Scale, *, signed: bool = False) -> str:
        """Write a count of rounding units; ``signed`` puts a plus before what is more."""
        text = self.number(count * scale.quantum, scale.decimals)
        return f"+{text}" if signed and count > 0 else text

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


@lru_cache
def locale_of(language: str, country: str = "") -> Locale:
    """Return babel's locale of a language in a country; the language alone where unknown."""
    from babel import Locale, UnknownLocaleError

    try:
        return Locale.parse(f"{language}_{country}" if country else language)
    except (UnknownLocaleError, ValueError):
        return Locale.parse(language)


@lru_cache(maxsize=8192)
def written_number(value: float, decimals: int, language: str) -> str:
    """Write a number with a fixed count of decimals: "1,330", "1 330,5", "−12"."""
    from babel.numbers import format_decimal

    pattern = "#,##0" + ("." + "0" * decimals if decimals else "")
    text = str(format_decimal(abs(value), pattern, locale=language))
    return f"{MINUS}{text}" if value < 0 and any(c in "123456789" for c in text) else text


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


@lru_cache(maxsize=4096)
def is_one(text: str, language: str) -> bool:
    """Return whether the language puts a noun after this number in the singular."""
    from babel.numbers import parse_decimal

    try:
        number = parse_decimal(text.replace(MINUS, "-").strip(), locale=language)
    except ValueError:
        return False
    return str(locale_of(language).plural_form(abs(number))) == "one"
