"""What one wet kilogram does: its methane at a landfill, and what composting it gives off.

Each result is declared once, as an expression over the keys of published numbers; the same expression
gives its number and the workbook's formula.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from divert.convert.emission_factors import HEADLINE_YEARS
from divert.evidence.expression import (
    Bracketed,
    Expression,
    Leaf,
    Least,
    Less,
    Most,
    Number,
    Over,
    Sum,
    Within,
    product,
    value,
)

SHORT_YEARS = 20


@dataclass(frozen=True, slots=True)
class LandfillClass:
    """One decay class at one version of the landfill: the keys of all that it takes."""

    landfill: int
    decay_class: str
    doc: str
    docf_2006: str
    docf_2019: str
    mcf: str
    methane_share: str
    oxidation: str
    gas_captured: str
    k: str
    gwp: str


@dataclass(frozen=True, slots=True)
class Process:
    """The composting emissions that go with one version of the landfill: the keys they take."""

    landfill: int
    ch4: str
    n2o: str
    gwp_ch4: str
    gwp_n2o: str


@dataclass(frozen=True, slots=True)
class PerKg:
    """What one wet kg of a class does at a landfill: methane (kg) in the end, CO2e (kg) in years."""

    rate: float
    released_ch4: float
    within_100: float
    within_20: float
    within_100_higher: float


@dataclass(frozen=True, slots=True)
class Key(Leaf):
    """The number whose key a class, or a process, holds under this name."""

    name: str


@dataclass(frozen=True, slots=True)
class Result(Leaf):
    """Another result of the same class."""

    name: str


_ONE = Number(1)
# Methane of a kilogram but for DOCf. Equations 3.2 to 3.6, IPCC 2006 Guidelines, Volume 5, Chapter 3:
# potential = DOC x DOCf x MCF x F x 16/12; oxidation acts after capture.
_BASE = (
    Key("doc"), Key("mcf"), Key("methane_share"), Number(16), Over(Number(12)),
    Bracketed(Less(_ONE, Key("gas_captured"))), Bracketed(Less(_ONE, Key("oxidation"))),
)  # fmt: skip
_DOCF = Key("docf_2006"), Key("docf_2019")
_RATE, _RELEASED, _GWP = Result("rate"), Result("released_ch4"), Key("gwp")
PER_KG: Mapping[str, Expression] = {
    "rate": Key("k"),
    "released_ch4": product(*_BASE, Least(*_DOCF)),
    "within_100": product(_RELEASED, Within(_RATE, HEADLINE_YEARS), _GWP),
    "within_20": product(_RELEASED, Within(_RATE, SHORT_YEARS), _GWP),
    "within_100_higher": product(*_BASE, Most(*_DOCF), Within(_RATE, HEADLINE_YEARS), _GWP),
}
# kg CO2e of composting one wet kg (IPCC 2006 Guidelines, Volume 5, Table 4.1).
PROCESS_PER_KG: Expression = Sum(
    (product(Key("ch4"), Key("gwp_ch4")), product(Key("n2o"), Key("gwp_n2o")))
)


def per_kg(one: LandfillClass, values: Mapping[str, float]) -> PerKg:
    """Return what one kg of a class avoids, from the numbers by key."""
    made: dict[str, float] = {}

    def of(leaf: Leaf) -> float:
        if isinstance(leaf, Result):
            return made[leaf.name]
        assert isinstance(leaf, Key)
        return values[getattr(one, leaf.name)]

    for name, expression in PER_KG.items():
        made[name] = float(value(expression, of))
    return PerKg(**made)


def process_per_kg(one: Process, values: Mapping[str, float]) -> float:
    """Return kg CO2e of composting one wet kg, from the numbers by key."""

    def of(leaf: Leaf) -> float:
        assert isinstance(leaf, Key)
        return values[getattr(one, leaf.name)]

    return float(value(PROCESS_PER_KG, of))
