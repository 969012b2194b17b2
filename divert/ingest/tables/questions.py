"""Headings that are questions of a form, too long to be read word by word: how much of what."""

from __future__ import annotations

import re

from divert.ingest.cells.unit import Unit, read_cell
from divert.ingest.known import Known
from divert.ingest.lexicon import bare
from divert.ingest.tables.heading import Heading

LONG = 120  # characters; a longer heading is a question
_LONGEST = 1000  # characters; a longer text is no heading
_WINDOW = 4  # words of a material's name

_END = re.compile(r"[(\[]\s*(?:in\s+|en\s+)?([^()\[\]]{1,20}?)\s*[)\]]\s*[?:.*]*\s*$")
_WITHIN = re.compile(
    r"\b(?:in|how many|number of|total|of|en|combien de)\s+"
    r"(pounds?|lbs?|kilograms?|kilos?|kgs?|ounces|livres|kilogrammes)\b"
)
_LESS = re.compile(
    r"\b(?:net|tak(?:e|ing) off|subtract\w*|less the|minus|deduct\w*|not counting|excluding"
    r"|sans le|moins)\b"
)
# What the question may be about instead of what came: its box, or its rubbish.
_OTHER = re.compile(
    r"\b(?:empty|tare|gross|trash|garbage|landfill|contamin\w*|remov\w*|plastic|recycl\w*|served"
    r"|purchas\w*|vide|brut|dechets?)\b"
)


def read_question(text: str, known: Known) -> Heading:
    """Return the weight or volume that a long question asks for, and the one material it names."""
    plain = bare(text)
    if len(plain) > _LONGEST:
        return Heading(text)
    unit, word = _unit(plain, known)
    if unit is None or (_OTHER.search(plain) and not _LESS.search(plain)):
        return Heading(text)
    field = "weight" if unit.dimension == "mass" else "volume"
    return Heading(text, field, unit, word, label=_material(plain, known))


def _unit(plain: str, known: Known) -> tuple[Unit | None, str]:
    for found in (_END.search(plain), _WITHIN.search(plain)):
        unit = read_cell(found[1], known.trade.meaning) if found else None
        if unit is not None and found is not None:
            return unit, found[1]
    return None, ""


def _material(plain: str, known: Known) -> str:
    """Return the one material that the words name, as the site calls it; "" where they name several."""
    tokens = re.findall(r"[^\W\d_]+", plain)
    found: dict[str, None] = {}
    at = 0
    while at < len(tokens):
        for size in range(min(_WINDOW, len(tokens) - at), 0, -1):
            name = known.materials.find(" ".join(tokens[at : at + size]))
            if name and name not in known.products and (size > 1 or tokens[at] not in _PLAIN):
                found[name] = None
                at += size - 1
                break
        at += 1
    return next(iter(found)) if len(found) == 1 else ""


_PLAIN = frozenset(("food", "organics", "waste", "green", "paper", "wood"))  # said of anything
