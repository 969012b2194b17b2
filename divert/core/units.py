"""Text and quantities: every unit by its definition.

Definitions follow NIST Handbook 44, Appendix C: the pound of 0.45359237 kg and the yard of 0.9144 m,
both exact, the short ton of 2,000 lb and the long ton of 2,240 lb, the gallon of 231 cubic inches,
the bushel of 2,150.42, the imperial gallon of 4.54609 L. They stand here as the numbers they are: a
library of units takes longer to load than a site takes to read.
"""

from __future__ import annotations

import re
from functools import lru_cache


class UnknownUnit(ValueError):  # noqa: N818 - reads as what it is
    """A unit word that is not known; carries the word."""


# Everyday spellings -> names of UNITS. A bare "ton" and "gal" are settled by the site.
SPELLINGS = {
    "lb": "pound", "lbs": "pound", "pound": "pound", "pounds": "pound", "#": "pound",
    "livre": "pound", "livres": "pound",
    "stone": "stone", "stones": "stone", "st": "stone",
    "oz": "ounce", "ounce": "ounce", "ounces": "ounce",
    "kg": "kilogram", "kgs": "kilogram", "kilo": "kilogram", "kilos": "kilogram",
    "kilogram": "kilogram", "kilograms": "kilogram", "kilogramme": "kilogram",
    "kilogrammes": "kilogram", "g": "gram", "gram": "gram", "grams": "gram", "gramme": "gram",
    "grammes": "gram",
    "short ton": "short ton", "short tons": "short ton", "long ton": "long ton",
    "long tons": "long ton", "tonne": "tonne", "tonnes": "tonne",
    "metric ton": "tonne", "metric tons": "tonne", "t": "tonne",
    "tonne métrique": "tonne", "tonnes métriques": "tonne",
    "yd3": "cubic yard", "yd³": "cubic yard", "yd": "cubic yard", "yds": "cubic yard",
    "cu yd": "cubic yard", "cu yds": "cubic yard", "cubic yard": "cubic yard",
    "cubic yards": "cubic yard", "cy": "cubic yard", "yard": "cubic yard", "yards": "cubic yard",
    "verge cube": "cubic yard", "verges cubes": "cubic yard", "vg3": "cubic yard", "vg³": "cubic yard",
    "ft3": "cubic foot", "ft³": "cubic foot", "cu ft": "cubic foot", "cubic foot": "cubic foot",
    "cubic feet": "cubic foot", "cf": "cubic foot", "pi3": "cubic foot", "pi³": "cubic foot",
    "m3": "cubic metre", "m³": "cubic metre", "cubic metre": "cubic metre",
    "cubic metres": "cubic metre", "cubic meter": "cubic metre", "cubic meters": "cubic metre",
    "mètre cube": "cubic metre", "mètres cubes": "cubic metre",
    "l": "liter", "litre": "liter", "litres": "liter", "liter": "liter", "liters": "liter",
    "ml": "milliliter", "us gal": "gallon", "us gallon": "gallon", "us gallons": "gallon",
    "imperial gallon": "imperial gallon", "imperial gallons": "imperial gallon",
    "imp gal": "imperial gallon", "qt": "quart", "quart": "quart", "quarts": "quart",
    "bu": "bushel", "bushel": "bushel", "bushels": "bushel", "pint": "pint", "pints": "pint",
}  # fmt: skip
AMBIGUOUS = {
    "ton": "ton", "tons": "ton", "gal": "gallon", "gals": "gallon", "gallon": "gallon",
    "gallons": "gallon",
}  # fmt: skip
TONS = {"short": "short ton", "long": "long ton", "tonne": "tonne"}
GALLONS = {"us": "gallon", "imperial": "imperial gallon"}


KG_PER_LB = 0.45359237
KG_PER_SHORT_TON = 907.18474
KG_PER_TONNE = 1000.0
M3_PER_YD3 = 0.764554857984
# One unit in kg.
MASSES = {
    "gram": 0.001, "kilogram": 1.0, "ounce": 0.028349523125, "pound": KG_PER_LB, "stone": 6.35029318,
    "short ton": KG_PER_SHORT_TON, "long ton": 1016.0469088, "tonne": KG_PER_TONNE,
}  # fmt: skip
# One unit in m³.
VOLUMES = {
    "milliliter": 1e-6, "liter": 0.001, "pint": 0.000473176473, "quart": 0.000946352946,
    "gallon": 0.003785411784, "imperial gallon": 0.00454609, "bushel": 0.03523907016688,
    "cubic foot": 0.028316846592, "cubic yard": M3_PER_YD3, "cubic metre": 1.0,
}  # fmt: skip


def _plain(word: str) -> str:
    """Return a unit word as :data:`SPELLINGS` has it: small letters, no full stops, single spaces."""
    return " ".join(re.sub(r"[.\s]+", " ", word.casefold()).split())


@lru_cache(maxsize=4096)
def unit_factor(word: str, *, ton: str = "short", gallon: str = "us") -> tuple[float, str]:
    """Return (factor, "mass" | "volume") of a unit word: kg or m³ in one such unit.

    ``ton`` and ``gallon`` say what the bare words mean. Raises UnknownUnit.
    """
    key = _plain(word)
    name = SPELLINGS.get(key)
    if key in AMBIGUOUS:
        name = TONS[ton] if AMBIGUOUS[key] == "ton" else GALLONS[gallon]
    if name is None:
        raise UnknownUnit(word)
    return (MASSES[name], "mass") if name in MASSES else (VOLUMES[name], "volume")


def is_ambiguous(word: str) -> bool:
    """Return whether a unit word needs the site to say which ton or gallon is meant."""
    return _plain(word) in AMBIGUOUS


_NUMBER = r"[-+]?\d[\d,  ]*(?:\.\d+)?|[-+]?\.\d+"


def _number(text: str) -> float:
    return float(re.sub(r"[,  ]", "", text))


def quantity(text: str, want: str, *, ton: str = "short", gallon: str = "us") -> float:
    """Read "5 gal" or "1.9 lb" from site.toml as m³ or kg (``want``: "volume" or "mass").

    Raises UnknownUnit for the unit and ValueError for the rest, with what would be accepted.
    """
    match = re.fullmatch(rf"\s*({_NUMBER})\s*([^\s\d.].*?)\s*", text)
    if match is None:
        raise ValueError(f'"{text}" is not a number and a unit, such as "5 gal" or "1.9 lb"')
    factor, kind = unit_factor(match[2], ton=ton, gallon=gallon)
    if kind != want:
        raise ValueError(f'"{text}" is a {kind}; a {want} is wanted here')
    return _number(match[1]) * factor


def rate(
    text: str, numerator: str, denominator: str, *, ton: str = "short", gallon: str = "us"
) -> float:
    """Read a quotient such as "650 lb/yd3" (kg per m³) or "1 lb/ft2" (kg per m²).

    ``numerator`` is "mass"; ``denominator`` "volume" or "area". Raises ValueError or UnknownUnit.
    """
    match = re.fullmatch(rf"\s*({_NUMBER})\s*(.+?)\s*(?:/|per)\s*(.+?)\s*", text)
    if match is None:
        raise ValueError(f'"{text}" is not a number with two units, such as "1 lb/ft2"')
    top, kind = unit_factor(match[2], ton=ton, gallon=gallon)
    if kind != numerator:
        raise ValueError(f'"{text}": "{match[2]}" is not a {numerator}')
    if denominator == "area":
        bottom = area_factor(match[3])
    else:
        bottom, kind = unit_factor(match[3], ton=ton, gallon=gallon)
        if kind != denominator:
            raise ValueError(f'"{text}": "{match[3]}" is not a {denominator}')
    return _number(match[1]) * top / bottom


# In metres.
_LENGTHS = {
    "ft": 0.3048, "foot": 0.3048, "feet": 0.3048, "in": 0.0254, "m": 1.0, "metre": 1.0,
    "metres": 1.0, "meter": 1.0, "meters": 1.0, "cm": 0.01, "yd": 0.9144,
}  # fmt: skip


def area_factor(word: str) -> float:
    """Return m² in one unit of area such as "ft2", "sq ft" or "m²". Raises UnknownUnit."""
    key = word.strip().casefold().replace("²", "2").replace("square ", "sq ")
    match = re.fullmatch(r"(?:sq\.?\s*)?([a-z]+)2?", key)
    if match is None or match[1] not in _LENGTHS:
        raise UnknownUnit(word)
    return _LENGTHS[match[1]] ** 2


def area(text: str) -> float:
    """Read a bed's size, "3 ft x 10 ft" or "30 ft2", as m². Raises ValueError or UnknownUnit."""
    number = r"(\d+(?:\.\d+)?)"
    sides = re.fullmatch(rf"\s*{number}\s*([a-z]+)?\s*[x×*]\s*{number}\s*([a-z]+)\s*", text, re.I)
    if sides:
        first, second = sides[2] or sides[4], sides[4]
        lengths = []
        for amount, word in ((sides[1], first), (sides[3], second)):
            if word.casefold() not in _LENGTHS:
                raise UnknownUnit(word)
            lengths.append(float(amount) * _LENGTHS[word.casefold()])
        return lengths[0] * lengths[1]
    flat = re.fullmatch(rf"\s*{number}\s*(.+?)\s*", text)
    if flat is None:
        raise ValueError(f'"{text}" is not a size such as "3 ft x 10 ft" or "30 ft2"')
    return float(flat[1]) * area_factor(flat[2])
