"""Words that reach a person: a message and its values, kept apart until a language is known.

Every sentence the tool says is an English message id with named places. Languages are ``.po`` files
under ``divert/locale/<language>/LC_MESSAGES/divert.po``; a new language is a new file.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping
from dataclasses import dataclass, field
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
        return template.format(**{k: _written(v, language) for k, v in self.values.items()})

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

    if isinstance(value, int | float):
        return str(format_decimal(value, locale=language))
    if isinstance(value, dt.date):
        return str(format_date(value, "long", locale=language))
    return str(value)


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
