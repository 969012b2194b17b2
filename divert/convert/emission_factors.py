"""From a landfill and the published numbers to kg CO2e per kg of material: pure functions."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Literal, NamedTuple

from divert.convert.decay import Floats, Value, potential, within
from divert.core.names import NameBook
from divert.factors import FactorSet, slug
from divert.site.model import Landfill, Spread

CLASSES = ("food", "garden", "paper", "wood_straw")
HEADLINE_YEARS = 100
Docf = Literal["lower", "higher"]
COMPOSTING = ("composting.ch4", "composting.n2o")
FUELS = NameBook(
    {
        "gasoline": ("gas", "petrol", "unleaded", "motor gasoline", "essence"),
        "diesel": ("diesel fuel", "off-road diesel", "gazole", "diésel", "gasoil"),
    }
)


class Names(NamedTuple):
    """The parameters behind one class at one landfill, by the name that seeds their draws.

    Each is a key of the factor set, except a gas capture of the site's own, named
    ``"gas_captured.<class>"`` or ``"gas_captured.all"``. The two ``docf`` keys of a class share one
    name, ``"docf.<class>"``, for one lies in the headline and the other in the sensitivity.
    """

    doc: str
    k: str
    docf: str
    mcf: str
    methane_share: str
    oxidation: str
    gas_captured: str


def names(landfill: Landfill, decay_class: str) -> Names:
    """Return the names of the parameters of a class at a landfill."""
    return Names(
        doc=f"doc.{decay_class}",
        k=f"k.{decay_class}.{slug(landfill.climate)}",
        docf=f"docf.{decay_class}",
        mcf=f"mcf.{slug(landfill.kind)}",
        methane_share="methane_share",
        oxidation="oxidation.covered" if oxidises(landfill) else "oxidation.uncovered",
        gas_captured=_gas_name(landfill, decay_class),
    )


def parameters(
    landfill: Landfill, decay_class: str, factors: FactorSet, docf: Docf = "lower"
) -> Mapping[str, Spread]:
    """Return low, typical and high of every parameter of a class at a landfill, by name.

    Ends are the published ranges (IPCC 2006, Volume 5, Tables 2.4, 3.3 and 3.5); no range is
    printed for oxidation, so its ends are its value.
    """
    name = names(landfill, decay_class)
    keys = (name.doc, name.k, name.mcf, name.methane_share, name.oxidation)
    spreads = {key: spread_of(key, factors) for key in keys}
    spreads[name.docf] = spread_of(docf_key(decay_class, factors, docf), factors)
    spreads[name.gas_captured] = gas_captured(landfill, decay_class, factors)
    return spreads


def landfill_factor(
    landfill: Landfill,
    decay_class: str,
    factors: FactorSet,
    values: Mapping[str, Floats] | None = None,
    *,
    horizon: float = HEADLINE_YEARS,
    docf: Docf = "lower",
) -> Value:
    """Return kg CO2e of landfill methane avoided per wet kg of a class within ``horizon`` years.

    ``values`` gives, by name (see :func:`names`), draws that stand in for the typical value; then
    an array of their shape is returned. A class of "" never avoids any. Oxidation acts after
    capture.
    """
    if not decay_class:
        return 0.0
    per_kg = released_methane(landfill, decay_class, factors, values, horizon=horizon, docf=docf)
    return per_kg * warming(landfill, factors)[0]


def released_methane(
    landfill: Landfill,
    decay_class: str,
    factors: FactorSet,
    values: Mapping[str, Floats] | None = None,
    *,
    horizon: float = HEADLINE_YEARS,
    docf: Docf = "lower",
) -> Value:
    """Return kg CH4 released to the air per wet kg of a class within ``horizon`` years."""
    name = names(landfill, decay_class)
    given = values or {}
    typical = parameters(landfill, decay_class, factors, docf)

    def value(key: str) -> Value:
        return given[key] if key in given else typical[key].typical

    made = potential(value(name.doc), value(name.docf), value(name.mcf), value(name.methane_share))
    kept = (1 - value(name.gas_captured)) * (1 - value(name.oxidation))
    return made * within(horizon, value(name.k)) * kept


def process_factor(
    landfill: Landfill, factors: FactorSet, values: Mapping[str, Floats] | None = None
) -> Value:
    """Return kg CO2e of composting, or worm composting, per wet kg taken in.

    IPCC 2006, Volume 5, Table 4.1; the warming potentials are those the landfill is told with, so
    that both sides of the net are measured alike. ``values`` may hold draws of ``composting.ch4``
    and ``composting.n2o``, kg per kg.
    """
    given = values or {}
    per_kg = [given[k] if k in given else factors.get(k).value for k in COMPOSTING]
    ch4, n2o = warming(landfill, factors)
    return per_kg[0] * ch4 + per_kg[1] * n2o


def process_parameters(factors: FactorSet) -> Mapping[str, Spread]:
    """Return low, typical and high of composting's methane and nitrous oxide, kg per kg wet."""
    return {key: spread_of(key, factors) for key in COMPOSTING}


def fuel_factor(fuel: str, factors: FactorSet) -> float | None:
    """Return kg CO2 per litre of a fuel by its everyday name; None where none is published."""
    key = fuel_key(fuel)
    return factors.get(key).value if key is not None and key in factors else None


def fuel_key(fuel: str) -> str | None:
    """Return the key of a fuel's factor by its everyday name, or None where it has none."""
    known = FUELS.find(fuel)
    return None if known is None else f"fuel.{known}"


def warming(landfill: Landfill, factors: FactorSet) -> tuple[float, float]:
    """Return the 100-year warming potentials of methane and nitrous oxide, kg CO2e per kg."""
    methane, nitrous_oxide = warming_keys(landfill)
    return factors.get(methane).value, factors.get(nitrous_oxide).value


def warming_keys(landfill: Landfill) -> tuple[str, str]:
    """Return the keys of the two warming potentials of the report a landfill names."""
    return f"gwp.{landfill.gwp}.ch4", f"gwp.{landfill.gwp}.n2o"


def is_managed(landfill: Landfill) -> bool:
    """Return whether a landfill is a managed one, semi-aerobic or not."""
    return landfill.kind.startswith("managed")


def oxidises(landfill: Landfill) -> bool:
    """Return whether methane is oxidised in the cover: only at a managed and covered site."""
    return is_managed(landfill) and landfill.covered


def gas_is_stated(landfill: Landfill, decay_class: str) -> bool:
    """Return whether the site says how much gas is captured for a class."""
    return decay_class in dict(landfill.gas_by_class) or landfill.gas_captured is not None


def gas_captured(landfill: Landfill, decay_class: str, factors: FactorSet) -> Spread:
    """Return the share of methane captured: as stated, by class first; else by kind of landfill.

    Where nothing is stated an unmanaged site captures none and a managed one takes the default
    range of the class: less of food's gas is captured than of slower material's. An unknown kind
    takes it too, or not knowing the landfill would raise the claim.
    """
    by_class = dict(landfill.gas_by_class)
    if decay_class in by_class:
        return by_class[decay_class]
    if landfill.gas_captured is not None:
        return landfill.gas_captured
    return spread_of(_gas_name(landfill, decay_class), factors)


def _gas_name(landfill: Landfill, decay_class: str) -> str:
    if decay_class in dict(landfill.gas_by_class):
        return f"gas_captured.{decay_class}"
    if landfill.gas_captured is not None:
        return "gas_captured.all"
    if landfill.kind.startswith("unmanaged"):
        return "gas_captured.unmanaged"
    # Food decays before the wells are drilled (US EPA, EPA-600-R-23-064, 2023).
    return "gas_captured.managed-food" if decay_class == "food" else "gas_captured.managed"


def docf_key(decay_class: str, factors: FactorSet, which: Docf = "lower") -> str:
    """Return the key of the lower (headline) or higher (sensitivity) DOCf of a class.

    The two are those of the 2006 Guidelines and of the 2019 Refinement, Volume 5, Chapter 3.
    """
    keys = (f"docf_2006.{decay_class}", f"docf_2019.{decay_class}")
    choose = min if which == "lower" else max
    return choose(keys, key=lambda key: factors.get(key).value)


def factor_keys(landfill: Landfill, decay_class: str, factors: FactorSet) -> tuple[str, ...]:
    """Return the keys of the published numbers behind a class's headline at a landfill."""
    name = names(landfill, decay_class)
    keys = [name.doc, docf_key(decay_class, factors), name.k, name.mcf, name.methane_share]
    keys += [name.oxidation, warming_keys(landfill)[0]]
    if not gas_is_stated(landfill, decay_class):
        keys.append(name.gas_captured)
    return tuple(keys)


def spread_of(key: str, factors: FactorSet) -> Spread:
    """Return a factor's low, typical and high."""
    factor = factors.get(key)
    return Spread(factor.low, factor.value, factor.high)
