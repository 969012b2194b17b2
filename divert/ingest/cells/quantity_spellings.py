"""The many ways to write one quantity, made one: 30ish lb, three (3) pails, 12lb8oz, III totes."""

from __future__ import annotations

import re

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
    r"(?P<net>\d[\d.,]* ?(?:[a-z#]+\.?)?)\s*\((?P<full>\d[\d.,]*)(?: ?[a-z#]+\.?)?\s*"
    r"(?:-|minus|less|moins)\s*(?:(?P<off>\d[\d.,]*)(?: ?[a-z#]+\.?)?(?: tare)?"
    r"|(?:the |la |le )?(?:empty |vide )?(?:tare|tote|bin|pail|bucket|cart|bac|seau|contenant))\)"
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
    r"(\d[\d.,]* ?(?:lbs?|kgs?|kilos?|pounds?|#|oz)(?= ?x)|\d[\d.,]* ?[a-z#]+ (?=(?:ea|each)\b))\.?"
    r"(?:(?:ea|each)\.?)? ?x ?(\d+)$"
)
# "un quart de bac", "3 quarts d'un seau": a quarter of it, not a quart
_QUARTERS = re.compile(r"^(une?|le|les|[1-3]) quarts? (?:de |d')(?:une? )?(?=[a-z\d])")


def plainly(text: str) -> str:
    """Return "30 lb" for "30ish lb", "3 pails" for "three (3) pails", "33 ?" for "33?"."""
    text = re.sub(r"^'(?=\d)", "", text)
    text = re.sub(r"^(?:i{2,4}|\|{2,4})(?=\s|$)", lambda m: str(len(m[0])), text)  # a tally
    text = _worked_out(text)
    text = re.sub(r"(?<=\d)\s?-?ish\b", "", text)
    text = _ABOUT.sub(r"\1", text)
    text = _BAGGED.sub("", text)
    twice = re.match(r"([a-z]+) \((\d+)\)(?=\s)", text)
    if twice and (said := take_number(twice[1])) and said[0] == int(twice[2]):
        text = twice[2] + text[twice.end() :]
    text = re.sub(r"(?<=\d)(lbs?|kg)\.?(?=\d)", r" \1 ", text)  # "12lb8oz"
    text = _FILLED_TO.sub(r"\1 full", text)
    text = re.sub(r"^(\d+) ?kg (\d{3})$", r"\1 kg \2 g", text)  # "12 kg 500"
    text = re.sub(r"^\((\d+)\)\s+(?=\d)", r"\1 x ", text)  # "(2) 5 gal buckets"
    text = re.sub(r"^(\d+/\d+|\d*[.,]\d+) (?:of an?|d'une?) ", r"\1 ", text)
    each = _EACH_TIMES.match(text)
    text = f"{each[2]} x {each[1]}" if each else text
    text = _QUARTERS.sub(lambda m: f"{m[1] if m[1].isdigit() else 1}/4 ", text)
    text = re.sub(r"(?<=\d)\s*(l|k) (b|g)(s?)(?!\w)", r" \1\2\3", text)  # "40 l b"
    text = re.sub(r"^(\d+) ?x$", r"\1", text)
    one = re.match(r"(?:an?|une?) (?=[a-z])", text)  # "a yard"
    if one and take_unit(text, one.end(), _ANY):
        text = "1 " + text[one.end() :]
    return re.sub(r"^(\S*\d)\s*\?$", r"~ \1", text)


def _worked_out(text: str) -> str:
    """Return "43.5 lb" for "43.5 lb (50 - 6.5)" or "43.5 lb (50 minus tare)": the net weight stands."""
    said = _WORKED_OUT.fullmatch(text)
    if said is None:
        return text
    try:
        net, full, off = (take_number(said[name] or "0") for name in ("net", "full", "off"))
    except ValueError:
        return text
    if net is None or full is None or off is None or net[0] >= full[0]:
        return text
    wrong = said["off"] and abs(full[0] - off[0] - net[0]) > 0.01 * full[0]
    return text if wrong else said["net"]
