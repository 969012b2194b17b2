"""The unit, the money or the percent sign of a heading, parted from its other words."""

from __future__ import annotations

import re
from dataclasses import replace

from divert.ingest.cells.unit import Meaning, Unit, is_unsized, read_typed
from divert.ingest.lexicon import bare
from divert.ingest.tables.heading import Heading

MONEY = {"$": "", "€": "EUR", "£": "GBP", "usd": "USD", "cad": "CAD", "eur": "EUR", "gbp": "GBP"}


_SIGNS = [
    (re.compile(rf"(?<![^\W\d_]){re.escape(sign)}(?![^\W\d_])"), currency)
    for sign, currency in MONEY.items()
]


def money(text: str) -> str | None:
    """Return the currency that a heading names, "" where a sign leaves it open, None for no money."""
    plain = bare(text)
    return next((currency for sign, currency in _SIGNS if sign.search(plain)), None)


_REMARKED = re.compile(
    r"(?i)[(\[](?:if|when|where|or|optional|required|approx\w*|est\w*|please|only|best|si|ou|facultatif|requis|env\w*)\b[^)\]\d]*[)\]]"
)

_BRACKETS = re.compile(r"[(\[{]([^)\]}]*)[)\]}]")


def without_unit(text: str, meaning: Meaning) -> tuple[Heading, str]:
    """Part a heading into its unit (in brackets, last, first, or after "in") and the rest."""
    heading = Heading(text, money=money(text))
    rest = text.replace("_", " ")
    for match in _BRACKETS.finditer(rest):
        if re.match(r"\s*\d", match[1]):
            continue  # the size of a container: "Pails (5 gal)"
        inner = re.sub(r"^(?:in|en)\s+", "", match[1].strip(), flags=re.I)
        unit = _unit_of(inner, meaning)
        if _either_unit(inner, meaning):
            heading = replace(heading, unsized=True, unit_text=inner)
        elif unit is not None:
            heading = replace(heading, unit=unit, unit_text=inner)
        elif bare(inner) in MONEY:
            heading = replace(heading, money=MONEY[bare(inner)])
        elif is_unsized(bare(inner), 0):
            heading = replace(heading, unsized=True, unit_text=inner)
        elif "%" in inner or re.fullmatch(r"(?i)percent|pct|pour ?cent|fraction|share", inner):
            heading = replace(heading, percent="fraction" not in inner.lower())
        else:
            continue
        rest = rest.replace(match[0], " ")
    if re.search(r"%|\bpercent\b|\bpct\b|\bpour ?cent\b", rest, re.I):
        heading = replace(heading, percent=True)
        rest = re.sub(r"%", " ", rest)
    if heading.money is not None:
        rest = re.sub(r"(?i)[$€£]|\b(?:usd|cad|eur|gbp)\b", " ", rest)
    if heading.unit is not None or heading.percent or heading.unsized:
        return heading, tidy(rest)
    remarked = _REMARKED.sub(" ", rest)  # "Weight in pounds (if weighed)"
    return _unit_at_an_end(heading, remarked, meaning) or (heading, tidy(rest))


def _either_unit(text: str, meaning: Meaning) -> bool:
    """Return whether a heading leaves open which of two units its numbers are in: "lb/kg", "lb or kg"."""
    parts = re.split(r"\s*(?:/|\bor\b|\bou\b)\s*", text)
    units = [_unit_of(p, meaning) for p in parts]
    return (
        len({u.dimension if u else "" for u in units}) == 1
        and len(units) == 2
        and None not in units
    )


def _unit_at_an_end(heading: Heading, rest: str, meaning: Meaning) -> tuple[Heading, str] | None:
    """Return a heading with the unit that its words end or begin with, and the other words."""
    tokens = re.sub(r"[-–—,:;/|()\[\]?!]+", " ", rest).split()
    for size in (3, 2, 1):
        if len(tokens) < size:
            continue
        for at in (len(tokens) - size, 0):
            word = " ".join(tokens[at : at + size])
            if len(word) == 1 and len(tokens) > 1 and word not in ("L", "#"):
                continue
            named = at == 0 and bare(word) in (
                "#",
                "st",
                "st.",
            )  # "St Quill's pails" weighs no stone
            unit = None if named and len(tokens) > size else _unit_of(word, meaning)
            if unit is not None:
                left = tokens[:at] + tokens[at + size :]
                if left and bare(left[-1]) in ("in", "en"):
                    left = left[:-1]
                return replace(heading, unit=unit, unit_text=word), " ".join(left)
    return None


def tidy(rest: str) -> str:
    """Return words less the marks that part them from others, at either end."""
    return " ".join(rest.strip(" -–—:,;/|.").split())


def _unit_of(text: str, meaning: Meaning) -> Unit | None:
    if re.search(r"\d", re.sub(r"[23³²]$", "", text)):
        return None
    if text.casefold().startswith("livré"):
        return None  # delivered: without its accent it would be pounds
    return read_typed(text, meaning)
