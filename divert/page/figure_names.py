"""What figures are called on the page, by their path in the JSON, and the kind of their unit."""

from __future__ import annotations

from divert.core.words import N_, Text
from divert.figures.numbers.scales import Kind

_NAMES: dict[str, tuple[str, Kind]] = {
    "mass.received": (N_("Received"), "mass"),
    "mass.diverted": (N_("Diverted"), "mass"),
    "mass.not_claimed": (N_("Not claimed"), "mass"),
    "mass.removed": (N_("Removed"), "mass"),
    "mass.residue": (N_("Residue"), "mass"),
    "supplied.received": (N_("Supplied: received"), "mass"),
    "supplied.diverted": (N_("Supplied: diverted"), "mass"),
    "supplied.net_avoided": (N_("Supplied: net avoided"), "co2e"),
    "supported.diverted": (N_("Supported: diverted"), "mass"),
    "supported.net_avoided": (N_("Supported: net avoided"), "co2e"),
    "emissions.landfill_avoided": (N_("Landfill methane avoided"), "co2e"),
    "emissions.process": (N_("Composting itself"), "co2e"),
    "emissions.fuel": (N_("Fuel"), "co2e"),
    "emissions.net_avoided": (N_("Net avoided"), "co2e"),
}


def name_of(path: str) -> Text:
    """Return what a figure is called; one that has no name of its own is called by its path."""
    known = _NAMES.get(path.removesuffix(".central"))
    return Text(known[0]) if known is not None else Text("{path}", {"path": path})


def kind_of(path: str) -> Kind:
    """Return the kind of a figure's unit."""
    known = _NAMES.get(path.removesuffix(".central"))
    return known[1] if known is not None else "mass"
