"""How full: 3/4 · 75% · half full · heaped · aux trois quarts, as a fraction of brim-full.

A bare number up to 1.5 is a fraction, from 5 to 150 a percentage. Spreadsheets turn a typed 3/4
into a date; such a cell is read back as the fraction it was.
"""

from __future__ import annotations

import datetime as dt
import re
from functools import lru_cache

from divert.core.words import N_, Text
from divert.ingest.cells.number import even, take_number
from divert.ingest.cells.problem import Problem
from divert.ingest.lexicon import bare, phrases, words

MOST = 1.5  # a heap may exceed the brim, up to this
_BOTTOMS = (2, 3, 4, 5, 8)


def unreadable() -> Problem:
    """Return the problem of a cell that says no fill."""
    return Problem(
        "quantity unreadable",
        Text(N_("Write how full as 3/4, 75% or full; heaped may exceed full.")),
    )


@lru_cache
def _patterns() -> tuple[re.Pattern[str], dict[str, float], re.Pattern[str], re.Pattern[str]]:
    values = {bare(k): float(v) for k, v in words("fills")["value"].items()}
    after = phrases(words("fills")["after"]["words"])
    percent = r"\s*(?:%|percent|per cent|pour cent|p\.?\s?c\.?)"
    return (
        re.compile(rf"(?:{phrases(values)})(?![\w/])"),
        values,
        re.compile(rf"{percent}(?:[\s-]*(?:{after}))?(?!\w)"),
        re.compile(rf"[\s-]*(?:{after})(?!\w)"),
    )


def take_fill(text: str, at: int = 0, comma: bool = False) -> tuple[float, int] | None:
    """Read a fill that says itself ("3/4 full", "75%", "heaped") at a place in an evened, bare text.

    Returns (fraction, place after it), or None where none stands there.
    """
    pattern, values, percent, full = _patterns()
    try:
        number = take_number(text, at, comma)
    except ValueError:
        number = None
    if number is not None:
        value, end = number
        match = percent.match(text, end)
        if match and 0 <= value <= 100 * MOST:
            return value / 100, match.end()
        match = full.match(text, end)
        if match and (0 < value < 1 or (value == 1 and "/" in text[at:end])):
            return value, match.end()
    match = pattern.match(text, at)
    if match:
        return values[" ".join(match[0].split())], match.end()
    return None


_SAYS_FILL = re.compile(r"(?i)full|plein|rempli|heap|comble")


def read_note(text: str) -> float | None:
    """Return the fill that a whole note says, such as "half full" or "heaped"; None where it says more."""
    if not _SAYS_FILL.search(text):
        return None
    plain = bare(even(text)).strip(" .!()")
    taken = take_fill(plain)
    return taken[0] if taken and taken[1] == len(plain) and 0 < taken[0] <= MOST else None


def read_cell(value: object, comma: bool = False) -> float | Problem:
    """Return the fraction of brim-full that a "how full" cell says."""
    if isinstance(value, dt.datetime | dt.date):
        return from_date(value)
    if isinstance(value, bool):
        return unreadable()
    if isinstance(value, int | float):
        return _from_number(float(value))
    if not isinstance(value, str):
        return unreadable()
    text = re.sub(
        r"^(?:about|around|approx\.?|environ|env\.?|~|almost exactly|only)\s*",
        "",
        bare(even(value)),
    )
    text = re.sub(r"^(?:(?:rempli|plein)(?:e?s?) )?(?:aux?|a|filled to) (?=\d)", "", text)
    taken = take_fill(text, 0, comma)
    if taken is None:
        return _bare_number(text, comma)
    fraction, end = taken
    if text[end:].strip(" .,;!()") or not 0 <= fraction <= MOST:
        return unreadable()
    return fraction


def _bare_number(text: str, comma: bool) -> float | Problem:
    try:
        number = take_number(text, 0, comma)
    except ValueError:
        number = None
    if number is None or text[number[1] :].strip(" ."):
        return _share_of_itself(text)
    return _from_number(number[0])


def _share_of_itself(text: str) -> float | Problem:
    same = re.fullmatch(r"(\d{1,2})\s*/\s*\1", text)  # 4/4
    return 1.0 if same and int(same[1]) else unreadable()


def _from_number(value: float) -> float | Problem:
    if 0 <= value <= MOST:
        return value
    return value / 100 if 5 <= value <= 100 * MOST else unreadable()


def from_date(value: dt.date) -> float | Problem:
    """Return the fraction that a spreadsheet took for a date: 3/4, whichever way round it took it."""
    top, bottom = sorted((value.month, value.day))
    return top / bottom if bottom in _BOTTOMS else unreadable()
