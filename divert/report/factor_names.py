"""What the numbers in use are called on paper, and which documents they come from."""

from __future__ import annotations

import re
from collections.abc import Iterable
from functools import lru_cache

from divert.figures import FactorUsed
from divert.report.printed import Printer
from divert.words import N_, Text

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


def factor_name(key: str, printer: Printer) -> str:
    """Return a factor's name: "Density of office paper, loose"."""
    for pattern, message in _NAMES:
        match = re.fullmatch(pattern, key)
        if match:
            places = {k: _words(v) for k, v in match.groupdict().items()}
            return re.sub(r",\s*(?=,|$)", "", printer.plain(Text(message, places)))
    return _words(key)


def _words(slug: str) -> str:
    return slug.replace("_", " ").replace("-", " ").replace(".", " ").strip()


def typical_standing(factor: FactorUsed) -> str:
    """Return where the central value of a factor stands: read, quoted, memory, proxy ..."""
    found = re.search(r"\btypical (\w+)", factor.standing)
    return found[1] if found else factor.standing


def documents(factors: Iterable[FactorUsed]) -> list[str]:
    """Return the documents behind the published numbers, each once with its year."""
    found: dict[str, None] = {}
    for factor in factors:
        if factor.standing in ("measured", "stated by the site"):
            continue
        for part in re.split(r"(?:^|; )(?:low|typical|high): ", factor.source):
            if part:
                found.setdefault(_document(part))
    return list(found)


def _document(source: str) -> str:
    known = [edition for edition in _editions() if source.startswith(edition)]
    if known:
        return max(known, key=len)
    dated = re.match(r".*?\(\d{4}\)", source)
    return dated[0] if dated else re.split(r",?\s+(?=(?:Chapter|Table|page)\b)", source)[0]


@lru_cache
def _editions() -> frozenset[str]:
    from divert.factors import load_factors

    return frozenset(end.edition for factor in load_factors(None).all() for end in factor.ends)
