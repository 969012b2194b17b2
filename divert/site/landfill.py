"""[landfill] of site.toml: where the material would have gone, every version of it."""

from __future__ import annotations

from collections.abc import Sequence

from divert.core.words import N_, Text
from divert.site import quantities
from divert.site.built_in import decay_classes
from divert.site.dated import unnamed_versions
from divert.site.model import Landfill, Spread
from divert.site.quantities import Words
from divert.site.table import Table

CLIMATES = ("temperate dry", "temperate wet", "tropical dry", "tropical wet")
KINDS = ("managed", "managed semi-aerobic", "unmanaged deep", "unmanaged shallow", "unknown")
GWPS = ("AR4", "AR5", "AR6")
_USUAL = Landfill()


def landfills(tables: Sequence[Table], words: Words, currency: str) -> tuple[Landfill, ...]:
    """Return the landfill's versions; the default one where none is written."""
    if not tables:
        return (_USUAL,)
    return tuple(_landfill(table, words, currency) for table in unnamed_versions(tables))


def _landfill(table: Table, words: Words, currency: str) -> Landfill:
    whole, by_class = _gas_captured(table)
    return Landfill(
        name=table.text("name"),
        climate=table.choice("climate", CLIMATES, _USUAL.climate),
        kind=table.choice("kind", KINDS, _USUAL.kind),
        covered=table.flag("covered", _USUAL.covered),
        gas_captured=whole,
        gas_by_class=by_class,
        gwp=table.choice("gwp", GWPS, _USUAL.gwp),
        fee_per_kg=quantities.fee(table, "fee", words, currency),
        since=table.day("from"),
    )


def _gas_captured(table: Table) -> tuple[Spread | None, tuple[tuple[str, Spread], ...]]:
    value = table.values.get("gas_captured")
    if value is None or value == "":
        return None, ()
    if not isinstance(value, dict) or set(value) & {"low", "typical", "high"}:
        return _share(table, value), ()
    quantities.only(table, "gas_captured", value, decay_classes())
    return None, tuple((name, _share(table, part)) for name, part in value.items())


def _share(table: Table, value: object) -> Spread:
    wanted = Text(
        N_(
            "Write a share from 0 to 1, such as 0.5, or { low = 0.0, typical = 0.5, high = 0.75 }, "
            "or one for each class: { food = 0.39, paper = 0.6 }."
        )
    )
    if isinstance(value, dict):
        quantities.only(table, "gas_captured", value, ("low", "typical", "high"))
        low, typical, high = quantities.three(table, "gas_captured", value, wanted)
    elif isinstance(value, int | float) and not isinstance(value, bool):
        low = typical = high = float(value)
    else:
        raise table.wrong("gas_captured", wanted)
    if not 0 <= low <= high <= 1:
        raise table.wrong("gas_captured", wanted)
    return Spread(low, typical, high)
