"""Words that reach a person: a message and its values, kept apart until a language is known.

Every sentence the tool says is an English message id with named places. Languages are ``.po`` files
under ``divert/core/locale/<language>/LC_MESSAGES/divert.po``; a new language is a new file.
"""

from __future__ import annotations

import datetime as dt
import re
import unicodedata
from collections.abc import Mapping
from dataclasses import dataclass, field
from decimal import Decimal
from functools import lru_cache
from gettext import GNUTranslations, NullTranslations
from io import BytesIO
from pathlib import Path

LOCALE_FOLDER = Path(__file__).parent / "locale"


def N_(message: str) -> str:  # noqa: N802 - the customary gettext name, so that extraction finds it
    """Mark a message for the catalogue without translating it yet."""
    return message


@dataclass(frozen=True, slots=True)
class Text:
    """A message id with the values for its named places, e.g. ``Text("no {what}", {"what": "date"})``.

    Values are str, int, float, date or Text; numbers and dates are written by the language's rules.
    """

    message: str
    values: Mapping[str, object] = field(default_factory=dict)

    def say(self, language: str = "en") -> str:
        """Return the sentence in ``language``; English where the catalogue has no translation."""
        template = catalogue(language).gettext(self.message) if self.message else ""
        if not self.values:
            return template
        values = {k: _written(v, language) for k, v in self.values.items()}
        return elided(template, values, language).format(**values)

    def __str__(self) -> str:
        return self.say("en")


def _written(value: object, language: str) -> str:
    if isinstance(value, str):
        return value
    if isinstance(value, Text):
        return value.say(language)
    if isinstance(value, bool):
        return str(value)
    from babel.dates import format_date
    from babel.numbers import format_decimal

    if isinstance(value, float) and not abs(value) < _LARGEST:
        return f"{value:.3g}"
    if isinstance(value, int) and abs(value) >= _LARGEST:
        return f"{Decimal(value).normalize():.3g}"
    if isinstance(value, int | float):
        return str(format_decimal(value, locale=language))
    if isinstance(value, dt.date):
        return first_of_month(str(format_date(value, "long", locale=language)), value, language)
    return str(value)


def first_of_month(text: str, day: dt.date, language: str) -> str:
    """Return a date as it was written, the first of a month as the language says it ("1er avril")."""
    first = catalogue(language).pgettext("day of a month", "1")
    return re.sub(r"(?<!\d)1(?!\d)", first, text, count=1) if day.day == 1 else text


def elided(template: str, values: Mapping[str, str], language: str) -> str:
    """Return a template whose short words lose their vowel before a place filled with one ("d'avril").

    Which words do is told by the catalogue; a language that says nothing of it has none.
    """
    words = _elided_words(language)
    if not words:
        return template

    def shorter(match: re.Match[str]) -> str:
        value = re.sub(r"<[^>]*>", "", str(values.get(match[2], ""))).lstrip()
        first = unicodedata.normalize("NFD", value[:1]).lower()
        return f"{match[1][:-1]}'{{{match[2]}}}" if first[:1] in _VOWELS and first else match[0]

    return re.sub(rf"\b({words})\s\{{(\w+)\}}", shorter, template, flags=re.IGNORECASE)


_VOWELS = "aeiouœæ"
_LARGEST = 1e21  # numbers beyond any that is written out in digits; the rules have no way for some


@lru_cache
def _elided_words(language: str) -> str:
    said = catalogue(language).pgettext("words that lose their vowel before another", "(none)")
    return "" if said == "(none)" else "|".join(re.escape(word) for word in said.split())


def languages() -> tuple[str, ...]:
    """Return English and every language that has a catalogue."""
    have = sorted(path.parents[1].name for path in LOCALE_FOLDER.glob("*/LC_MESSAGES/divert.po"))
    return ("en", *(name for name in have if name != "en"))


@lru_cache
def catalogue(language: str) -> NullTranslations:
    """Return the gettext catalogue of a language; English is the message ids themselves."""
    path = LOCALE_FOLDER / language / "LC_MESSAGES" / "divert.po"
    if not path.exists():
        return NullTranslations()
    from babel.messages.mofile import write_mo
    from babel.messages.pofile import read_po

    with path.open("rb") as file:
        messages = read_po(file, locale=language)
    packed = BytesIO()
    write_mo(packed, messages)
    packed.seek(0)
    return GNUTranslations(packed)
