"""What units are called on paper. Never a bare ton."""

from __future__ import annotations

from divert.core.words import N_, catalogue

# unit key: (after one, after any other number); the short name follows a number in a line of text.
_SHORT: dict[str, tuple[str, str]] = {
    "lb": (N_("lb"), N_("lb")),
    "short ton": (N_("short ton"), N_("short tons")),
    "kg": (N_("kg"), N_("kg")),
    "tonne": (N_("tonne"), N_("tonnes")),
    "kg CO2e": (N_("kg CO₂e"), N_("kg CO₂e")),
    "tonne CO2e": (N_("tonne CO₂e"), N_("tonnes CO₂e")),
    "kg CH4": (N_("kg CH₄"), N_("kg CH₄")),
    "yd3": (N_("yd³"), N_("yd³")),
    "gal": (N_("gal"), N_("gal")),
    "m3": (N_("m³"), N_("m³")),
    "L": (N_("L"), N_("L")),
    "%": ("%", "%"),
    "count": ("", ""),
    "money": ("", ""),
    "money per short ton": ("", ""),
    "g per kg": ("", ""),
    "lb/yd3": (N_("lb/yd³"), N_("lb/yd³")),
    "kg/m3": (N_("kg/m³"), N_("kg/m³")),
    "lb/ft2 week": (N_("lb/ft² a week"), N_("lb/ft² a week")),
    "kg/m2 week": (N_("kg/m² a week"), N_("kg/m² a week")),
}
_LONG: dict[str, tuple[str, str]] = {
    "lb": (N_("pound"), N_("pounds")),
    "short ton": (N_("short ton (2,000 lb)"), N_("short tons (2,000 lb)")),
    "kg": (N_("kilogram"), N_("kilograms")),
    "tonne": (N_("tonne (1,000 kg)"), N_("tonnes (1,000 kg)")),
    "kg CO2e": (N_("kilogram of CO₂e"), N_("kilograms of CO₂e")),
    "tonne CO2e": (N_("tonne (1,000 kg) of CO₂e"), N_("tonnes (1,000 kg) of CO₂e")),
    "kg CH4": (N_("kilogram of methane"), N_("kilograms of methane")),
    "yd3": (N_("cubic yard"), N_("cubic yards")),
    "gal": (N_("US gallon"), N_("US gallons")),
    "m3": (N_("cubic metre"), N_("cubic metres")),
    "L": (N_("litre"), N_("litres")),
}


def short_name(unit: str, one: bool, language: str) -> str:
    """Return the name that follows a number: "lb", "short tons"."""
    return _said(_SHORT[unit][0 if one else 1], language)


def long_name(unit: str, one: bool, language: str) -> str:
    """Return the name in full, with what a ton is: "pounds", "tonnes (1,000 kg)"."""
    return _said(_LONG.get(unit, _SHORT[unit])[0 if one else 1], language)


def _said(message: str, language: str) -> str:
    return catalogue(language).gettext(message) if message else ""
