"""The many ways to write one quantity, made one: 30ish lb, three (3) pails, 12lb8oz, III totes."""

from __future__ import annotations

import re
from collections.abc import Callable

from divert.ingest.cells.number import take_number
from divert.ingest.cells.unit import Meaning, take_unit

_ANY = Meaning()

# "rempli à 75 %", "aux 2/3", "filled to 3/4": how full, with the words that say so before it
_FILLED_TO = re.compile(
    r"\b(?:(?:rempli|plein)(?:e?s?) (?:aux?|a|de)|aux?|(?:filled|full) (?:up )?to) "
    r"(\d+/\d+|\d[\d.,]* ?%)(?: (?:plein|rempli)(?:e?s?)| full)?(?![\w/])"
)

# "43.5 lb (50 - 6.5)", "43.5 lb (50 minus tare)": how the net weight was come by
_WORKED_OUT = re.compile(
    r"^(?P<net>\d[\d.,]* ?(?:[a-z#]+\.?)?)\s*\((?P<full>\d[\d.,]*)(?: ?[a-z#]+\.?)?\s*"
    r"(?:-|minus|less|moins)\s*(?:(?P<off>\d[\d.,]*)(?: ?[a-z#]+\.?)?(?: tare)?"
    r"|(?:the |la |le )?(?:empty |vide )?(?:tare|tote|bin|pail|bucket|cart|bac|seau|contenant))\)$"
)


# "23 est.", "40 lb approx": the word behind the amount
_ABOUT = re.compile(
    r"^(~? ?[\d.,/ ]+\d(?: ?[a-z#]+\.?)?|\d)(?:,? |\s?\()"
    r"(?:est|estimated?|estime|approx|approximately|env|environ)\.?\)?$"
)
# "23 - with bag": a bag weighs next to nothing
_BAGGED = re.compile(
    r"(?:(?<=\w)\s*[-,(]?\s*(?<!\w)(?:with|w/|incl\.?|including|in|avec|dans)\s?(?:the |le |les |a )?"
    r"|(?<=lb|kg|oz|bs| #)\s*(?:[+&]|plus|and|et)\s*)(?:bags?|liners?|sacs?)\)?$"
)


# "20 lb ea x 3", "20 lb x 2"
_EACH_TIMES = re.compile(
    r"^(\d[\d.,]* ?(?:lbs?|kgs?|kilos?|pounds?|#|oz)(?= ?x)|\d[\d.,]* ?[a-z#]+ (?=(?:ea|each)\b))\.?"
    r"(?:(?:ea|each)\.?)? ?x ?(\d+)$"
)
# "un quart de bac", "3 quarts d'un seau": a quarter of it, not a quart
_QUARTERS = re.compile(r"^(une?|le|les|[1-3]) quarts? (?:de |d')(?:une? )?(?=[a-z\d])")


# "three (3) pails", "a yard"
_TWICE = re.compile(r"^([a-z]+) \((\d+)\)(?=\s)")
_ONE = re.compile(r"^(?:an?|une?) (?=[a-z])")


def _as_twice(said: re.Match[str]) -> str:
    number = take_number(said[1])
    return said[2] if number and number[0] == int(said[2]) else said[0]


def _as_one(said: re.Match[str]) -> str:
    return "1 " if take_unit(said.string, said.end(), _ANY) else said[0]


def _as_net(said: re.Match[str]) -> str:
    """Return "43.5 lb" for "43.5 lb (50 - 6.5)" or "43.5 lb (50 minus tare)": the net weight stands."""
    try:
        net, full, off = (take_number(said[name] or "0") for name in ("net", "full", "off"))
    except ValueError:
        return said[0]
    if net is None or full is None or off is None or net[0] >= full[0]:
        return said[0]
    wrong = said["off"] and abs(full[0] - off[0] - net[0]) > 0.01 * full[0]
    return said[0] if wrong else said["net"]


# In this order. One is tried only where the text holds what it cannot do without: most texts hold none.
_RULES: tuple[
    tuple[tuple[str, ...], re.Pattern[str], str | Callable[[re.Match[str]], str]], ...
] = (
    (("'",), re.compile(r"^'(?=\d)"), ""),
    (("ii", "||"), re.compile(r"^(?:i{2,4}|\|{2,4})(?=\s|$)"), lambda m: str(len(m[0]))),  # a tally
    (("(",), _WORKED_OUT, _as_net),
    (("ish",), re.compile(r"(?<=\d)\s?-?ish\b"), ""),
    (("est", "approx", "env"), _ABOUT, r"\1"),
    (("bag", "liner", "sac"), _BAGGED, ""),
    (("(",), _TWICE, _as_twice),
    (("lb", "kg"), re.compile(r"(?<=\d)(lbs?|kg)\.?(?=\d)"), r" \1 "),  # "12lb8oz"
    (("/", "%"), _FILLED_TO, r"\1 full"),
    (("kg",), re.compile(r"^(\d+) ?kg (\d{3})$"), r"\1 kg \2 g"),  # "12 kg 500"
    (("(",), re.compile(r"^\((\d+)\)\s+(?=\d)"), r"\1 x "),  # "(2) 5 gal buckets"
    ((" of a", " d'un"), re.compile(r"^(\d+/\d+|\d*[.,]\d+) (?:of an?|d'une?) "), r"\1 "),
    (("x",), _EACH_TIMES, r"\2 x \1"),
    (("quart",), _QUARTERS, lambda m: f"{m[1] if m[1].isdigit() else 1}/4 "),
    (
        ("l b", "l g", "k b", "k g"),
        re.compile(r"(?<=\d)\s*(l|k) (b|g)(s?)(?!\w)"),
        r" \1\2\3",
    ),  # "40 l b"
    (("x",), re.compile(r"^(\d+) ?x$"), r"\1"),
    (("a ", "an ", "un ", "une "), _ONE, _as_one),
    (("?",), re.compile(r"^(\S*\d)\s*\?$"), r"~ \1"),
)


def plainly(text: str) -> str:
    """Return "30 lb" for "30ish lb", "3 pails" for "three (3) pails", "~ 33" for "33?"."""
    for parts, pattern, plain in _RULES:
        for part in parts:
            if part in text:
                text = pattern.sub(plain, text)
                break
    return text
