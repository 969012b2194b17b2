"""A band and a value in words: the units people use, and where the band comes from."""

from __future__ import annotations

from typing import Literal

from divert.core.units import KG_PER_LB
from divert.core.words import N_, Text
from divert.factors import Band

System = Literal["us", "metric"]

_FT2 = 0.3048**2
_GALLON = 0.003785411784
# Unit of a band -> per system, what one printed unit is in it, and the printed unit.
_PRINTED: dict[str, dict[System, tuple[float, str]]] = {
    "kg per m2 per week": {
        "us": (KG_PER_LB / _FT2, N_("lb per ft² per week")),
        "metric": (1.0, N_("kg per m² per week")),
    },
    "kg per kg of worms per week": {
        "us": (1.0, N_("lb per lb of worms per week")),
        "metric": (1.0, N_("kg per kg of worms per week")),
    },
    "kg of worms per m2": {
        "us": (KG_PER_LB / _FT2, N_("lb of worms per ft²")),
        "metric": (1.0, N_("kg of worms per m²")),
    },
    "kg/m3": {
        "us": (KG_PER_LB / _GALLON, N_("lb per gallon")),
        "metric": (1000.0, N_("kg per litre")),
    },
    "kg": {"us": (KG_PER_LB, N_("lb")), "metric": (1.0, N_("kg"))},
    "share": {"us": (0.01, N_("%")), "metric": (0.01, N_("%"))},
}


def quantity(value: float, unit: str, system: System) -> Text:
    """Return a value kept in ``unit`` as a number of three digits and the unit people use."""
    size, word = _PRINTED[unit][system]
    return Text(N_("{number} {unit}"), {"number": about(value / size), "unit": Text(word)})


def ordinary(band: Band, system: System) -> Text:
    """Return a band's ordinary part in words, e.g. "up to 3.5 lb per ft² per week"."""
    low, high = band.ordinary
    if low <= 0:
        return Text(N_("up to {high}"), {"high": quantity(high, band.unit, system)})
    size, _ = _PRINTED[band.unit][system]
    return Text(
        N_("{low} to {high}"),
        {"low": about(low / size), "high": quantity(high, band.unit, system)},
    )


def source(band: Band) -> Text:
    """Return where a band stands written."""
    N_("Common practice, no published source")  # in the data file; marked here for translation
    return Text(band.printed.citation)


def about(value: float) -> float:
    """Return a number with three significant digits, for a sentence."""
    return float(f"{value:.3g}")
