"""Text and quantities: the only file that knows pint.

Definitions follow NIST Handbook 44, Appendix C (short ton 2,000 lb, long ton 2,240 lb, the two
gallons, the cubic yard of 27 cubic feet).
"""

from __future__ import annotations

import re
from functools import lru_cache
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from typing import Any

    from pint import UnitRegistry


class UnknownUnit(ValueError):  # noqa: N818 - reads as what it is
    """A unit word that is not known; carries the word."""


# Everyday spellings -> pint's own names. A bare "ton" and "gal" are settled by the site.
SPELLINGS = {
    "lb": "pound", "lbs": "pound", "pound": "pound", "pounds": "pound", "#": "pound",
    "livre": "pound", "livres": "pound",
    "stone": "stone", "stones": "stone", "st": "stone",
    "oz": "ounce", "ounce": "ounce", "ounces": "ounce",
    "kg": "kilogram", "kgs": "kilogram", "kilo": "kilogram", "kilos": "kilogram",
    "kilogram": "kilogram", "kilograms": "kilogram", "kilogramme": "kilogram",
    "kilogrammes": "kilogram", "g": "gram", "gram": "gram", "grams": "gram", "gramme": "gram",
    "grammes": "gram",
    "short ton": "short_ton", "short tons": "short_ton", "long ton": "long_ton",
    "long tons": "long_ton", "tonne": "metric_ton", "tonnes": "metric_ton",
    "metric ton": "metric_ton", "metric tons": "metric_ton", "t": "metric_ton",
    "tonne métrique": "metric_ton", "tonnes métriques": "metric_ton",
    "yd3": "yard ** 3", "yd³": "yard ** 3", "yd": "yard ** 3", "yds": "yard ** 3",
    "cu yd": "yard ** 3", "cu yds": "yard ** 3", "cubic yard": "yard ** 3",
    "cubic yards": "yard ** 3", "cy": "yard ** 3", "yard": "yard ** 3", "yards": "yard ** 3",
    "verge cube": "yard ** 3", "verges cubes": "yard ** 3", "vg3": "yard ** 3", "vg³": "yard ** 3",
    "ft3": "foot ** 3", "ft³": "foot ** 3", "cu ft": "foot ** 3", "cubic foot": "foot ** 3",
    "cubic feet": "foot ** 3", "cf": "foot ** 3", "pi3": "foot ** 3", "pi³": "foot ** 3",
    "m3": "meter ** 3", "m³": "meter ** 3", "cubic metre": "meter ** 3",
    "cubic metres": "meter ** 3", "cubic meter": "meter ** 3", "cubic meters": "meter ** 3",
    "mètre cube": "meter ** 3", "mètres cubes": "meter ** 3",
    "l": "liter", "litre": "liter", "litres": "liter", "liter": "liter", "liters": "liter",
    "ml": "milliliter", "us gal": "gallon", "us gallon": "gallon", "us gallons": "gallon",
    "imperial gallon": "imperial_gallon", "imperial gallons": "imperial_gallon",
    "imp gal": "imperial_gallon", "qt": "quart", "quart": "quart", "quarts": "quart",
    "bu": "bushel", "bushel": "bushel", "bushels": "bushel", "pint": "pint", "pints": "pint",
}  # fmt: skip
AMBIGUOUS = {
    "ton": "ton", "tons": "ton", "gal": "gallon", "gals": "gallon", "gallon": "gallon",
    "gallons": "gallon",
}  # fmt: skip
TONS = {"short": "short_ton", "long": "long_ton", "tonne": "metric_ton"}
GALLONS = {"us": "gallon", "imperial": "imperial_gallon"}


@lru_cache
def registry() -> UnitRegistry[Any]:
    """Return the one pint registry (made on first use: pint is slow to import)."""
    import pint

    return pint.UnitRegistry(cache_folder=None)


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
    quantity = registry().Quantity(1.0, name)
    if quantity.check("[mass]"):
        return float(quantity.to("kilogram").magnitude), "mass"
    return float(quantity.to("meter ** 3").magnitude), "volume"


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


_LENGTHS = {
    "ft": "foot", "foot": "foot", "feet": "foot", "in": "inch", "m": "meter", "metre": "meter",
    "metres": "meter", "meter": "meter", "meters": "meter", "cm": "centimeter", "yd": "yard",
}  # fmt: skip


def area_factor(word: str) -> float:
    """Return m² in one unit of area such as "ft2", "sq ft" or "m²". Raises UnknownUnit."""
    key = word.strip().casefold().replace("²", "2").replace("square ", "sq ")
    match = re.fullmatch(r"(?:sq\.?\s*)?([a-z]+)2?", key)
    if match is None or match[1] not in _LENGTHS:
        raise UnknownUnit(word)
    return float(registry().Quantity(1.0, f"{_LENGTHS[match[1]]} ** 2").to("meter ** 2").magnitude)


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
            metres = registry().Quantity(float(amount), _LENGTHS[word.casefold()]).to("meter")
            lengths.append(float(metres.magnitude))
        return lengths[0] * lengths[1]
    flat = re.fullmatch(rf"\s*{number}\s*(.+?)\s*", text)
    if flat is None:
        raise ValueError(f'"{text}" is not a size such as "3 ft x 10 ft" or "30 ft2"')
    return float(flat[1]) * area_factor(flat[2])


KG_PER_LB = 0.45359237
KG_PER_SHORT_TON = 907.18474
KG_PER_TONNE = 1000.0
M3_PER_YD3 = 0.764554857984
