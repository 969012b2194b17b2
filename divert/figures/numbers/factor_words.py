"""What is said of a published number in the reader's language: its unit, its source, how far checked.

What a document prints stays as it prints it.
"""

from __future__ import annotations

import re

from divert.core.words import N_, Text

_UNITS = {
    "share": N_("share"),
    "1/yr": N_("per year"),
    "kg/m3": N_("kg/m³"),
    "kg C per kg wet": N_("kg C per kg wet"),
    "kg CH4 per kg wet": N_("kg CH₄ per kg wet"),
    "kg N2O per kg wet": N_("kg N₂O per kg wet"),
    "kg CO2e per kg": N_("kg CO₂e per kg"),
    "kg CO2e per kg CH4": N_("kg CO₂e per kg CH₄"),
    "kg CO2e per kg N2O": N_("kg CO₂e per kg N₂O"),
    "kg CO2 per litre": N_("kg CO₂ per L"),
}
_STANDINGS = {
    "read": N_("read in the document"),
    "quoted": N_("as quoted elsewhere"),
    "memory": N_("from memory, not checked"),
    "proxy": N_("a stand-in for want of a published value"),
    "measured": N_("measured by this site"),
    "stated": N_("stated by the site"),
    "stated by the site": N_("stated by the site"),
}
_ENDS = {"low": N_("low"), "typical": N_("typical"), "high": N_("high")}
# "low: 900 lb/yd3; high: 1600 lb/yd3", and "low quoted; high read".
_END = re.compile(r"(^|; )(low|typical|high): ")
_END_STANDS = re.compile(r"(low|typical|high) (\w+)")
_CURRENCY_PER_KG = re.compile(r"[A-Z]{3} per kg")


def unit_said(unit: str, language: str) -> str:
    """Return a factor's unit as reports print it: "kg CO₂ per L"."""
    if _CURRENCY_PER_KG.fullmatch(unit):
        return Text(N_("{currency} per kg"), {"currency": unit[:3]}).say(language)
    return Text(_UNITS[unit]).say(language) if unit in _UNITS else unit


def standing_said(standing: str, language: str) -> str:
    """Return how far a number was checked, end by end where its ends differ: "low quoted; high read"."""
    ends = _END_STANDS.findall(standing)
    if not ends:
        return _standing(standing, language)
    return _phrases([_end(end, language) + _standing(how, language) for end, how in ends], language)


def ends_said(text: str, language: str) -> str:
    """Return a source or a published text with its ends' names in the language, all else as it is."""
    between = _phrases(["", ""], language)
    return _END.sub(
        lambda said: (between if said[1] else "") + _end(said[2], language), text
    ).replace("not printed", Text(N_("not printed")).say(language))


def end_said(end: str, language: str) -> str:
    """Return what an end of a range is called: "low", "typical", "high"."""
    return Text(_ENDS[end]).say(language)


def _standing(standing: str, language: str) -> str:
    return Text(_STANDINGS.get(standing, standing)).say(language)


def _end(end: str, language: str) -> str:
    values = {"ends": Text(_ENDS[end]), "standing": ""}
    return Text(N_("{ends}: {standing}"), values).say(language)


def _phrases(phrases: list[str], language: str) -> str:
    return Text(N_("; ")).say(language).join(phrases)
