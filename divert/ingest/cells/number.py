"""Numbers as crews type them: 1,250 · 1 250,5 · ½ · 2 1/2 · 1-1/2 · two · deux et demi · 1.5E+03.

A comma before exactly three digits parts thousands, as English writes it, unless ``comma`` says
that this column or site writes decimals with it; any other single comma is a decimal comma.
"""

from __future__ import annotations

import math
import re
from functools import lru_cache

from divert.core.words import N_, Text
from divert.ingest.cells.problem import Problem
from divert.ingest.lexicon import bare, phrases, words

VULGAR = {
    "½": "1/2", "¼": "1/4", "¾": "3/4", "⅓": "1/3", "⅔": "2/3", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8",
    "⅞": "7/8", "⅕": "1/5", "⅖": "2/5", "⅗": "3/5", "⅘": "4/5", "⅙": "1/6", "⅚": "5/6",
}  # fmt: skip
_ALIKE = str.maketrans(
    dict.fromkeys("\xa0\u202f\u2009\u2007\u2002\u2003\u3000\t\n\r", " ")
    | {
        "−": "-",
        "‐": "-",
        "‑": "-",
        "–": "-",
        "—": "-",
        "⁄": "/",
        "’": "'",
        "‘": "'",
        "×": "x",
        "✕": "x",
    }
    | {"\u200b": "", "\ufeff": "", "\u200e": "", "\u200f": ""}
    | {chr(0xFF10 + digit): str(digit) for digit in range(10)}
)
_DENOMINATORS = (2, 3, 4, 5, 6, 8, 10, 12, 16)


@lru_cache(maxsize=65536)
def even(text: str) -> str:
    """Return a text with one kind of space, dash and fraction, so that the rules need only one."""
    for sign, written in VULGAR.items():
        if sign in text:
            text = re.sub(rf"(?<=\d)\s*{sign}", f" {written}", text).replace(sign, written)
    return " ".join(text.translate(_ALIKE).split())


_SPACED = r"\d{1,3}(?:[ ']\d{3})+(?![\d])(?:[.,]\d+)?"
_COMMAS = r"\d{1,3}(?:,\d{3})+(?![\d,])(?:\.\d+)?"
_DOTS = r"\d{1,3}(?:\.\d{3})+(?![\d.])(?:,\d+)?"
_PLAIN = r"\d+(?:[.,]\d+)?(?:e[+-]?\d{1,3}(?![\d]))?|[.,]\d+"
_FRACTION = r"(?P<top>\d{1,2})\s?/\s?(?P<bottom>\d{1,2})(?![\d/.,])"
_MIXED = rf"(?P<whole>\d{{1,4}})(?:\s*-\s*|\s+(?:and|et|&)\s+|\s+){_FRACTION}"


@lru_cache
def _word_patterns() -> tuple[re.Pattern[str], dict[str, float], re.Pattern[str], dict[str, float]]:
    said = spoken()
    values = {_key(k): float(v) for k, v in said.items()}
    more = {_key(k): float(v) for k, v in words("numbers")["more"].items()}
    return (
        re.compile(rf"(?:{phrases(said)})(?![\w/])"), values,
        re.compile(rf"\s*(?:{phrases(words('numbers')['more'])})(?![\w/])"), more,
    )  # fmt: skip


def spoken() -> dict[str, float]:
    """Return the numbers that are written as words."""
    return {**words("numbers")["value"], **_compounds()}


def _compounds() -> dict[str, int]:
    """Return twenty-five, vingt-deux and the like: each ten with each one, a hyphen or a space between."""
    out: dict[str, int] = {}
    for language in words("numbers")["compound"].values():
        for ten, tens in language["tens"].items():
            for one, ones in language["ones"].items():
                out |= {f"{ten}{gap}{one}": tens + ones for gap in language["gaps"]}
    return out


def _key(phrase: str) -> str:
    return re.sub(r"\s+", "", bare(phrase))


_MIXED_AT = re.compile(_MIXED, re.A)
_FRACTION_AT = re.compile(_FRACTION, re.A)
_DIGITS_AT = re.compile(rf"{_SPACED}|{_COMMAS}|{_DOTS}|{_PLAIN}", re.A)
_DIGITS_FIRST = re.compile(r"[\d.,]", re.A)


def take_number(text: str, at: int = 0, comma: bool = False) -> tuple[float, int] | None:
    """Read the unsigned number that stands at a place in an evened, bare text.

    Returns (value, place after it), or None where none stands there. ``comma`` says that a comma
    before three digits is a decimal comma here. Raises ValueError for a number that cannot be
    meant, such as 11/2 or 1,2,3.
    """
    if not _DIGITS_FIRST.match(text, at):
        return _take_word(text, at)
    for pattern in (_MIXED_AT, _FRACTION_AT):
        match = pattern.match(text, at)
        if match is None:
            continue
        top, bottom = int(match["top"]), int(match["bottom"])
        if top >= 2 * bottom or bottom not in _DENOMINATORS:
            raise ValueError(match[0])
        if pattern is _MIXED_AT and top >= bottom:
            raise ValueError(match[0])
        whole = int(match["whole"]) if pattern is _MIXED_AT else 0
        return whole + top / bottom, match.end()
    match = _DIGITS_AT.match(text, at)
    if match is None:
        return None
    end = match.end()
    value = _value(match[0], comma)
    if re.match(r"[.,]?\d|,,", text[end:]) or not math.isfinite(value):
        raise ValueError(text[at:])
    more = take_more(text, end) if value == int(value) else None
    return (value + more[0], more[1]) if more else (value, end)


def take_more(text: str, at: int) -> tuple[float, int] | None:
    """Read "and a half" or "et demi" after a whole number: (fraction, place after it) or None."""
    pattern, values = _word_patterns()[2:]
    match = pattern.match(text, at)
    return (values[_key(match[0])], match.end()) if match else None


def _value(digits: str, comma: bool) -> float:
    digits = digits.replace(" ", "").replace("'", "")
    groups_by_comma = re.fullmatch(r"[1-9]\d{0,2}(?:,\d{3})+(?:\.\d+)?", digits)
    if groups_by_comma and not (comma and digits.count(",") == 1 and "." not in digits):
        return float(digits.replace(",", ""))
    groups_by_dot = re.fullmatch(r"[1-9]\d{0,2}(?:\.\d{3})+(?:,\d+)?", digits)
    if groups_by_dot and (comma or "," in digits or digits.count(".") > 1):
        return float(digits.replace(".", "").replace(",", "."))
    return float(digits.replace(",", "."))


def _take_word(text: str, at: int) -> tuple[float, int] | None:
    pattern, values = _word_patterns()[:2]
    match = pattern.match(text, at)
    if match is None:
        return None
    value, end = values[_key(match[0])], match.end()
    more = take_more(text, end) if value >= 1 else None
    return (value + more[0], more[1]) if more else (value, end)


_SIGNED = re.compile(r"(?P<sign>[-+]?)\s*")


def not_a_number() -> Problem:
    """Return the problem of a cell that should hold a number and does not."""
    return Problem(
        "quantity unreadable",
        Text(N_("Write one plain number, such as 40 or 2.5.")),
    )


def read_cell(value: object, comma: bool = False) -> float | Problem:
    """Return a cell that should hold one number and nothing else, sign included."""
    if isinstance(value, bool):
        return not_a_number()
    if isinstance(value, int | float):
        return float(value) if math.isfinite(value) else not_a_number()
    if not isinstance(value, str):
        return not_a_number()
    text = bare(even(value))
    sign = _SIGNED.match(text)
    start = sign.end() if sign else 0
    try:
        taken = take_number(text, start, comma)
    except ValueError:
        return not_a_number()
    if taken is None or text[taken[1] :].strip():
        return not_a_number()
    return -taken[0] if sign and sign["sign"] == "-" else taken[0]


def shows_decimal_comma(text: str) -> bool:
    """Return whether a text can only be meant with a decimal comma, such as 12,5 or 1 250,75."""
    return bool(
        re.search(r"(?<![\d,.])(?:\d{1,3}(?:[ .]\d{3})+|\d+),\d(?:\d|\d{3,})?(?![\d,])", even(text))
    )


def shows_decimal_point(text: str) -> bool:
    """Return whether a text can only be meant with a decimal point, such as 12.5 or 1,250.75."""
    return bool(
        re.search(
            r"(?<![\d,.])(?:\d{1,3}(?:[ ,]\d{3})+|\d+)\.\d(?:\d|\d{3,})?(?![\d.])", even(text)
        )
    )
