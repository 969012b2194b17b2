"""What the numbers in use are called on paper, and which documents they come from."""

from __future__ import annotations

import re
from collections.abc import Iterable
from functools import lru_cache

from divert.core.words import N_, Text
from divert.figures.contract import FactorUsed
from divert.figures.numbers.printed import Printer
from divert.report.wording.material_names import material_name

_NAMES: tuple[tuple[str, str], ...] = (
    (r"density\.(?P<what>.+)\.(?P<how>.+)", N_("Density of {what}, {how}")),
    (r"measured\.(?P<what>.+)\.(?P<how>.*)", N_("Density of {what}, {how}, measured here")),
    (r"stated\.(?P<what>.+)\.(?P<how>.*)", N_("Density of {what}, {how}, stated by the site")),
    (r"doc\.(?P<what>.+)", N_("Degradable organic carbon (DOC), {what}")),
    (r"docf_2006\.(?P<what>.+)", N_("Share of it that decays (DOCf), {what}, 2006")),
    (r"docf_2019\.(?P<what>.+)", N_("Share of it that decays (DOCf), {what}, 2019")),
    (r"k\.(?P<what>.+)\.(?P<how>.+)", N_("Decay rate (k), {what}, {how}")),
    (r"mcf\.(?P<what>.+)", N_("Methane correction (MCF), {what}")),
    (r"methane_share", N_("Methane share of landfill gas (F)")),
    (r"oxidation\.(?P<what>.+)", N_("Oxidation in the cover (OX), {what}")),
    (r"composting\.ch4", N_("Methane of composting")),
    (r"composting\.n2o", N_("Nitrous oxide of composting")),
    (r"gwp\.(?P<what>\w+)\.ch4", N_("Warming potential of methane, {what}")),
    (r"gwp\.(?P<what>\w+)\.n2o", N_("Warming potential of nitrous oxide, {what}")),
    (r"fuel\.(?P<what>.+)", N_("Carbon dioxide of fuel, {what}")),
    (r"gas_captured\.(?P<what>[\w-]+)(?:\..*)?", N_("Landfill gas captured, {what}")),
)


# Classes, climates, landfills and conditions as the keys spell them.
_WORDS = {
    "food": N_("food waste"),
    "garden": N_("garden waste"),
    "paper": N_("paper and card"),
    "wood straw": N_("wood and straw"),
    "temperate dry": N_("temperate and dry"),
    "temperate wet": N_("temperate and wet"),
    "tropical dry": N_("tropical and dry"),
    "tropical wet": N_("tropical and wet"),
    "managed": N_("managed landfill"),
    "managed semi aerobic": N_("managed semi-aerobic landfill"),
    "unmanaged deep": N_("unmanaged deep landfill"),
    "unmanaged shallow": N_("unmanaged shallow landfill"),
    "unknown": N_("unknown landfill"),
    "covered": N_("covered"),
    "uncovered": N_("not covered"),
    "gasoline": N_("gasoline"),
    "diesel": N_("diesel"),
    "loose": N_("loose"),
    "state not known": N_("state not known"),
    "compacted": N_("compacted"),
    "flattened": N_("flattened"),
    "stacked": N_("stacked"),
    "wet": N_("wet"),
    "wet or ground": N_("wet or ground"),
    "whole": N_("whole"),
    "shredded": N_("shredded"),
    "screened": N_("screened"),
    "in pails and carts": N_("in pails and carts"),
}


def factor_name(key: str, printer: Printer) -> str:
    """Return a factor's name: "Density of office paper, loose"."""
    for pattern, message in _NAMES:
        match = re.fullmatch(pattern, key)
        if match:
            places = {k: _said(v, printer) for k, v in match.groupdict().items()}
            return re.sub(r",\s*(?=,|$)", "", printer.plain(Text(message, places)))
    return _words(key)


def of_density(key: str, printer: Printer) -> str:
    """Return the material that a density's key speaks of: "stable manure"."""
    return _said(key.split(".")[1], printer)


def _said(slug: str, printer: Printer) -> str:
    words = _words(slug)
    if words in _WORDS:
        return printer.plain(Text(_WORDS[words]))
    return material_name(_listed().get(slug, words), printer)


def _words(slug: str) -> str:
    return slug.replace("_", " ").replace("-", " ").replace(".", " ").strip()


def typical_standing(factor: FactorUsed) -> str:
    """Return where the central value of a factor stands: read, quoted, memory, proxy ..."""
    found = re.search(r"\btypical (\w+)", factor.standing)
    return found[1] if found else factor.standing


def documents(factors: Iterable[FactorUsed]) -> list[str]:
    """Return the documents behind the published numbers, each once with its year.

    A stand-in has no document of its own and is left out.
    """
    found: dict[str, None] = {}
    for factor in factors:
        if factor.standing in ("measured", "stated by the site"):
            continue
        for end, source in _ends(factor.source, ": "):
            standings = dict(_ends(factor.standing, " "))
            if standings.get(end, standings.get("", "")) != "proxy":
                found.setdefault(_document(source))
    return list(found)


def _ends(text: str, after: str) -> list[tuple[str, str]]:
    """Return each end with what is said of it; "" for what is said of all three at once."""
    told = re.split(rf"(?:^|; )(low|typical|high){after}", text)
    if len(told) == 1:
        return [("", text)]
    return list(zip(told[1::2], told[2::2], strict=True))


def _document(source: str) -> str:
    known = [edition for edition in _editions() if source.startswith(edition)]
    if known:
        return max(known, key=len)
    dated = re.match(r".*?\(\d{4}\)", source)
    return dated[0] if dated else re.split(r",?\s+(?=(?:Chapter|Table|page)\b)", source)[0]


@lru_cache
def _listed() -> dict[str, str]:
    from divert.factors import load_factors

    return {key: entry.name for key, entry in load_factors(None).materials.items()}


@lru_cache
def _editions() -> frozenset[str]:
    from divert.factors import load_factors

    return frozenset(end.edition for factor in load_factors(None).all() for end in factor.ends)
