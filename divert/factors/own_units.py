"""Units a site may write in its factor file, turned into the unit the factor is kept in."""

from __future__ import annotations

import re

from divert.core.units import UnknownUnit, rate, unit_factor

SHARES = {"": 1.0, "share": 1.0, "fraction": 1.0, "%": 0.01, "percent": 0.01}
PER_YEAR = {"", "1/yr", "1/year", "per year", "yr-1", "/yr"}
# Words that say what is weighed, not in what: "kg CO2 per US gallon", "g CH4 per kg wet waste".
SUBSTANCES = re.compile(r"\b(?:co2e?|ch4|n2o|c|wet|waste|food|material|fuel)\b", re.I)


def in_factor_unit(found: str, wanted: str) -> float:
    """Return what one ``found`` is in ``wanted``, the unit of a built-in factor.

    Raises ValueError where they are not units of one kind.
    """
    plain = found.strip()
    if plain == wanted:
        return 1.0
    if wanted == "share" or wanted == "kg C per kg wet":
        return _from_table(plain, SHARES)
    if wanted == "1/yr":
        return _from_table(plain, dict.fromkeys(PER_YEAR, 1.0))
    if wanted.startswith("kg CO2e per kg "):  # a warming potential, which carries no unit
        return _from_table(plain, {"": 1.0, "1": 1.0})
    substance_free = " ".join(SUBSTANCES.sub(" ", plain).split())
    if wanted == "kg/m3":
        return rate(f"1 {substance_free}", "mass", "volume")
    if wanted == "kg CO2 per litre":
        return rate(f"1 {substance_free}", "mass", "volume") * unit_factor("litre")[0]
    if wanted.endswith("per kg wet"):
        return rate(f"1 {substance_free}", "mass", "mass")
    raise UnknownUnit(found)


def _from_table(found: str, table: dict[str, float]) -> float:
    if found.lower() not in table:
        raise UnknownUnit(found)
    return table[found.lower()]
