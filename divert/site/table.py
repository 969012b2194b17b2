"""One table of site.toml: typed answers to "what does this key say?", or one clear message."""

from __future__ import annotations

import datetime as dt
import difflib
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from divert.core.findings import CannotRun
from divert.core.unseen import is_unseen
from divert.core.words import N_, Text
from divert.site.lines import Place

TEXT_LIMIT = 500  # characters in one value: far above any name, far below a nuisance


@dataclass(frozen=True, slots=True)
class Document:
    """The file that is being read: its path, its folder and the line of every key."""

    path: Path
    lines: Mapping[Place, int]
    decimal_comma: bool = False  # whether the site's language writes decimals with a comma

    @property
    def folder(self) -> Path:
        """Return the site folder."""
        return self.path.parent


def either(choices: Iterable[str]) -> Text:
    """Return the sentence that lists what would be accepted."""
    listed = ", ".join(f'"{choice}"' for choice in choices)
    return Text(N_("Accepted here: {choices}."), {"choices": listed})


def nearest(text: str, known: Iterable[str]) -> str | None:
    """Return the known word closest to a mistyped one, or None where none is near."""
    by_fold = {word.casefold(): word for word in known}
    close = difflib.get_close_matches(text.casefold(), by_fold, n=1, cutoff=0.6)
    return by_fold[close[0]] if close else None


def shown(value: object) -> str:
    """Return a value as site.toml would write it, cut where it is long."""
    match value:
        case bool():
            text = str(value).lower()
        case str():
            text = f'"{value}"'
        case dt.date() | dt.time():
            text = value.isoformat()
        case dict():
            text = "{ " + ", ".join(f"{key} = {shown(part)}" for key, part in value.items()) + " }"
        case list():
            text = "[" + ", ".join(shown(part) for part in value) + "]"
        case _:
            text = _digits(value)
    printable = "".join(c if c.isprintable() else "?" for c in text)
    return printable if len(printable) <= 80 else printable[:79] + "…"


def _digits(value: object) -> str:
    try:
        return str(value)
    except ValueError:  # a whole number of more digits than Python writes out
        return hex(value) if isinstance(value, int) else "?"


@dataclass(frozen=True, slots=True)
class Table:
    """A table's values with its place; every reader raises CannotRun naming line, key and value."""

    document: Document
    name: str
    which: int | None  # which [[name]] it is, from 0; None for a plain [name]
    values: Mapping[str, Any]

    @property
    def label(self) -> str:
        """Return the heading as the user wrote it, with the entry's name where it has one."""
        if self.which is None:
            return f"[{self.name}]"
        own = self.values.get("name")
        return f"[[{self.name}]] {shown(own)}" if isinstance(own, str) else f"[[{self.name}]]"

    def line(self, key: str = "") -> int:
        """Return the line of a key, else of the heading."""
        which = self.which or 0
        lines = self.document.lines
        return lines.get((self.name, which, key)) or lines.get((self.name, which, ""), 1)

    def wrong(self, key: str, wanted: Text, value: object = None) -> CannotRun:
        """Return the message for a value that cannot be used, with what would be."""
        said = self.values.get(key) if value is None else value
        return CannotRun(
            Text(
                N_("{file}, line {line}, {table}: {key} = {value} cannot be used. {wanted}"),
                {**self._place(key), "key": key, "value": shown(said), "wanted": wanted},
            )
        )

    def says(self, key: str, what: Text) -> CannotRun:
        """Return a message about this table that is not about one value."""
        return CannotRun(
            Text(N_("{file}, line {line}, {table}: {what}"), {**self._place(key), "what": what})
        )

    def _place(self, key: str) -> dict[str, object]:
        line = str(self.line(key))  # a line is a name, not a quantity: no thousands mark
        return {"file": str(self.document.path), "line": line, "table": self.label}

    def check_keys(self, known: Iterable[str], elsewhere: Mapping[str, Iterable[str]]) -> None:
        """Raise for the first unknown key; ``elsewhere`` holds each table's keys."""
        known = tuple(known)
        for key in self.values:
            if key in known:
                continue
            homes = [table for table, keys in elsewhere.items() if key in keys]
            close = nearest(key, known)
            if close is None and homes:
                advice = Text(N_("It belongs in [{table}]."), {"table": homes[0]})
            elif close is not None:
                advice = Text(N_('Did you mean "{near}"?'), {"near": close})
            else:
                advice = either(known)
            what = Text(N_('there is no key "{key}". {advice}'), {"key": key, "advice": advice})
            raise self.says(key, what)

    def has(self, key: str) -> bool:
        """Return whether the key is written."""
        return key in self.values

    def text(self, key: str, default: str = "") -> str:
        """Return a text on one line, trimmed."""
        if key not in self.values:
            return default
        value = self.values[key]
        if not isinstance(value, str):
            raise self.wrong(key, Text(N_("Write a text in quotes.")))
        self._check_text(key, value)
        return value.strip()

    def _check_text(self, key: str, value: str) -> None:
        plain = value.isprintable()  # which no letter is that nobody sees
        if not plain and any(c in "\u2028\u2029" or is_unseen(c) for c in value):
            raise self.wrong(
                key, Text(N_("Write it on one line, without controls and characters nobody sees."))
            )
        if len(value) > TEXT_LIMIT:
            limit = Text(N_("Write at most {limit} characters."), {"limit": TEXT_LIMIT})
            raise self.wrong(key, limit)

    def maybe_text(self, key: str) -> str | None:
        """Return a text, or None where it is missing or empty."""
        return self.text(key) or None

    def required_text(self, key: str, example: str) -> str:
        """Return a text that must be there and not be empty."""
        value = self.text(key)
        if not value:
            what = Text(
                N_("{key} is missing. Write, for example, {key} = {example}"),
                {"key": key, "example": shown(example)},
            )
            raise self.says(key, what)
        return value

    def texts(self, key: str) -> tuple[str, ...]:
        """Return a list of texts without empty ones."""
        value = self.values.get(key, [])
        if not isinstance(value, list) or not all(isinstance(part, str) for part in value):
            raise self.wrong(
                key, Text(N_('Write a list of texts, such as ["bucket", "5 gal pail"].'))
            )
        for part in value:
            self._check_text(key, part)
        return tuple(part.strip() for part in value if part.strip())

    def choice(self, key: str, choices: Iterable[str], default: str) -> str:
        """Return one of the choices, whatever its case; an empty text is the default."""
        choices = tuple(choices)
        if key not in self.values or self.values[key] == "":
            return default
        value = self.values[key]
        if not isinstance(value, str):
            raise self.wrong(key, either(choices))
        said = " ".join(value.casefold().split())
        for choice in choices:
            if choice.casefold() == said:
                return choice
        raise self.wrong(key, _choices_with_nearest(value, choices))

    def flag(self, key: str, default: bool) -> bool:
        """Return true or false."""
        value = self.values.get(key, default)
        if not isinstance(value, bool):
            raise self.wrong(key, Text(N_("Write true or false, without quotes.")))
        return value

    def day(self, key: str) -> dt.date | None:
        """Return a date, or None where the key is missing."""
        if key not in self.values:
            return None
        value = self.values[key]
        if isinstance(value, dt.datetime) or not isinstance(value, dt.date):
            raise self.wrong(
                key, Text(N_("Write a date as year-month-day without quotes: 2024-04-01."))
            )
        if not 1900 <= value.year <= 2200:
            raise self.wrong(key, Text(N_("Write a date between 1900 and 2200.")))
        return value

    def maybe_whole(self, key: str, low: int, high: int) -> int | None:
        """Return a whole number from ``low`` to ``high``, or None where the key is missing."""
        number = self.maybe_number(key, low, high)
        if number is not None and number % 1:
            raise self.wrong(key, Text(N_("Write a whole number, without quotes.")))
        return None if number is None else int(number)

    def flag_or_day(self, key: str) -> dt.date | bool | None:
        """Return true, false or the day from which it is true; None where the key is missing."""
        value = self.values.get(key)
        if value is None or isinstance(value, bool):
            return value
        if not isinstance(value, dt.date) or isinstance(value, dt.datetime):
            raise self.wrong(
                key, Text(N_("Write true, false, or a date without quotes: 2026-01-01."))
            )
        return self.day(key)

    def maybe_number(self, key: str, low: float, high: float) -> float | None:
        """Return a number from ``low`` to ``high``, or None where the key is missing."""
        if key not in self.values:
            return None
        value = self.values[key]
        is_number = isinstance(value, int | float) and not isinstance(value, bool)
        if not is_number or not low <= value <= high:
            between = Text(
                N_("Write a number from {low} to {high}, without quotes."),
                {"low": low, "high": high},
            )
            raise self.wrong(key, between)
        return float(value)


def _choices_with_nearest(value: str, choices: Iterable[str]) -> Text:
    close = nearest(value, choices)
    if close is None:
        return either(choices)
    return Text(
        N_('Did you mean "{near}"? {accepted}'), {"near": close, "accepted": either(choices)}
    )
