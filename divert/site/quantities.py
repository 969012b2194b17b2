"""Quantities of site.toml - "5 gal", "650 lb/yd3", "85 USD per short ton" - in SI."""

from __future__ import annotations

import math
import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

from divert.core import units
from divert.core.findings import CannotRun
from divert.core.words import N_, Text
from divert.site.model import Spread
from divert.site.table import Table, shown

VOLUME = Text(N_('Write a volume above zero, such as "5 gal", "240 L" or "2 yd3".'))
TARE = Text(N_('Write a mass of zero or more, such as "1.9 lb" or "12 kg".'))
MASS = Text(N_('Write a mass above zero, such as "12 short ton", "5 tonne" or "900 kg".'))
LIMIT = Text(N_('Write a volume or a mass above zero, such as "200 yd3" or "80 short ton".'))
STOCKING = Text(N_('Write a mass on an area, such as "1 lb/ft2" or "5 kg/m2".'))
SIZE = Text(N_('Write a size above zero, such as "3 ft x 10 ft" or "30 ft2".'))
DENSITY = Text(
    N_(
        'Write { low = 400, typical = 500, high = 650, unit = "lb/yd3" } '
        'with 0 < low ≤ typical ≤ high, or one value such as "500 lb/yd3".'
    )
)
DENSITY_UNIT = Text(
    N_('The unit is a mass on a volume, such as "lb/yd3", "kg/m3", "lb/gal" or "kg/L".')
)
FEE = Text(N_('Write an amount per mass, such as "85 USD per short ton" or "90 CAD per tonne".'))
_NUMBER = r"\d[\d ,]*(?:\.\d+)?|\.\d+"


@dataclass(frozen=True, slots=True)
class Words:
    """What a bare "ton" and "gal" mean on this site."""

    ton: str = "short"
    gallon: str = "us"


def _read(table: Table, key: str, wanted: Text, reader: Callable[[str], float]) -> float | None:
    if not table.has(key) or table.values[key] == "":
        return None
    value = table.values[key]
    if not isinstance(value, str):
        raise table.wrong(key, wanted)
    text = _with_points(table, key, table.text(key))
    try:
        result = reader(text)
    except units.UnknownUnit as unknown:
        word = str(unknown.args[0]) if unknown.args else text
        raise table.wrong(key, unknown_unit(word, wanted)) from None
    except ValueError:
        raise table.wrong(key, wanted) from None
    if not math.isfinite(result):
        raise table.wrong(key, wanted)
    return result


def unknown_unit(word: str, wanted: Text) -> Text:
    """Return the sentence for a unit word that is not known."""
    return Text(
        N_("The unit {word} is not known. {wanted}"), {"word": shown(word), "wanted": wanted}
    )


_DECIMAL_COMMA = re.compile(r"(?<=\d),(?=\d)(?!\d{3}(?!\d))")


def _with_points(table: Table, key: str, text: str) -> str:
    """Return a text with its decimal commas as points, where the site's language writes them so.

    Elsewhere "2,5 L" is refused: it would be read with its comma dropped, as 25 L.
    """
    if not _DECIMAL_COMMA.search(text):
        return text
    if table.document.decimal_comma:
        return _DECIMAL_COMMA.sub(".", text)
    raise table.wrong(key, Text(N_('Write a decimal with a point, such as "2.5".')))


def volume(table: Table, key: str, words: Words) -> float | None:
    """Return a volume above zero in m³, or None where the key is missing."""
    value = _read(
        table,
        key,
        VOLUME,
        lambda t: units.quantity(t, "volume", ton=words.ton, gallon=words.gallon),
    )
    return _positive(table, key, value, VOLUME)


def tare(table: Table, key: str, words: Words) -> float | None:
    """Return a mass of zero or more in kg, or None where the key is missing."""
    value = _read(
        table, key, TARE, lambda t: units.quantity(t, "mass", ton=words.ton, gallon=words.gallon)
    )
    if value is not None and value < 0:
        raise table.wrong(key, TARE)
    return value


def mass(table: Table, key: str, words: Words) -> float | None:
    """Return a mass above zero in kg, or None where the key is missing."""
    value = _read(
        table, key, MASS, lambda t: units.quantity(t, "mass", ton=words.ton, gallon=words.gallon)
    )
    return _positive(table, key, value, MASS)


def mass_or_volume(table: Table, key: str, words: Words) -> tuple[float | None, float | None]:
    """Return (kg, None) or (None, m³) of an amount above zero, or two None where the key is missing."""

    def either(text: str) -> float:
        try:
            return units.quantity(text, "mass", ton=words.ton, gallon=words.gallon)
        except (units.UnknownUnit, ValueError):
            found.append("volume")
            return units.quantity(text, "volume", ton=words.ton, gallon=words.gallon)

    found: list[str] = []
    value = _positive(table, key, _read(table, key, LIMIT, either), LIMIT)
    return (None, value) if found else (value, None)


def size(table: Table, key: str) -> float | None:
    """Return an area above zero in m², or None where the key is missing."""
    return _positive(table, key, _read(table, key, SIZE, units.area), SIZE)


def stocking(table: Table, key: str) -> float | None:
    """Return worms on an area in kg/m², or None where the key is missing."""
    value = _read(table, key, STOCKING, lambda t: units.rate(t, "mass", "area"))
    return _positive(table, key, value, STOCKING)


def _positive(table: Table, key: str, value: float | None, wanted: Text) -> float | None:
    if value is not None and value <= 0:
        raise table.wrong(key, wanted)
    return value


def density(table: Table, key: str, words: Words) -> Spread | None:
    """Return the site's own density in kg/m³, or None where the key is missing.

    One value carries 20 % either way; where only the ends are given, the midpoint is typical.
    """
    value = table.values.get(key)
    if isinstance(value, str) and value:
        one = _read(table, key, DENSITY, lambda t: _density_rate(t, words))
        one = _positive(table, key, one, DENSITY)
        return None if one is None else _give_or_take(one)
    if not table.has(key) or value == "":
        return None
    if not isinstance(value, dict):
        raise table.wrong(key, DENSITY)
    only(table, key, value, ("low", "typical", "high", "unit"))
    unit = value.get("unit")
    if not isinstance(unit, str):
        raise table.wrong(key, DENSITY_UNIT)
    try:
        factor = _density_rate(f"1 {unit}", words)
    except units.UnknownUnit as unknown:
        raise table.wrong(key, unknown_unit(str(unknown.args[0]), DENSITY_UNIT)) from None
    except ValueError:
        raise table.wrong(key, DENSITY_UNIT) from None
    low, typical, high = three(table, key, value, DENSITY)
    if low <= 0:
        raise table.wrong(key, DENSITY)
    if low == high:
        return _give_or_take(typical * factor)
    return Spread(low * factor, typical * factor, high * factor)


def _give_or_take(kg_per_m3: float) -> Spread:
    """Return a density stated as one number with the 20 % either way that such a number carries."""
    return Spread(0.8 * kg_per_m3, kg_per_m3, 1.2 * kg_per_m3)


def _density_rate(text: str, words: Words) -> float:
    return units.rate(text, "mass", "volume", ton=words.ton, gallon=words.gallon)


def three(
    table: Table, key: str, value: Mapping[str, Any], wanted: Text
) -> tuple[float, float, float]:
    """Return low, typical and high of an inline table in rising order."""
    given: dict[str, float] = {}
    for part in ("low", "typical", "high"):
        if part in value:
            number = value[part]
            if isinstance(number, bool) or not isinstance(number, int | float):
                raise table.wrong(key, wanted)
            given[part] = float(number)
    match given:
        case {"low": low, "typical": typical, "high": high}:
            pass
        case {"low": low, "high": high}:
            typical = (low + high) / 2
        case {"typical": typical} if len(given) == 1:
            low = high = typical
        case _:
            raise table.wrong(key, wanted)
    if not (math.isfinite(low) and math.isfinite(high) and low <= typical <= high):
        raise table.wrong(key, wanted)
    return low, typical, high


def only(table: Table, key: str, value: Mapping[str, Any], known: tuple[str, ...]) -> None:
    """Raise for a key inside an inline table that is not one of the known ones."""
    for part in value:
        if part not in known:
            listed = ", ".join(known)
            raise table.wrong(
                key,
                Text(
                    N_("There is no {part} in {key}; it holds {known}."),
                    {"part": shown(part), "key": key, "known": listed},
                ),
            )


def fee(table: Table, key: str, words: Words, currency: str) -> float | None:
    """Return a disposal fee in the site's currency per kg, or None where the key is missing."""
    if not table.has(key) or table.values[key] == "":
        return None
    given = table.values[key]
    text = _with_points(table, key, given) if isinstance(given, str) else ""
    match = re.fullmatch(rf"\s*({_NUMBER})\s*([A-Za-z]{{3}})\s*(?:per|/)\s*(.+?)\s*", text)
    if not match:
        raise table.wrong(key, FEE)
    if match[2].upper() != currency:
        raise _other_currency(table, key, currency)
    try:
        kg, kind = units.unit_factor(match[3], ton=words.ton, gallon=words.gallon)
    except units.UnknownUnit:
        raise table.wrong(key, unknown_unit(match[3], FEE)) from None
    if kind != "mass":
        raise table.wrong(key, FEE)
    return float(re.sub(r"[ ,]", "", match[1])) / kg


def _other_currency(table: Table, key: str, currency: str) -> CannotRun:
    return table.wrong(
        key,
        Text(N_("The site's currency is {currency}; write the fee in it."), {"currency": currency}),
    )
