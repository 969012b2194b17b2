"""Which recipe makes which figure: from a figure's path, and the dates and names beside it."""

from __future__ import annotations

import re
from collections.abc import Callable
from functools import lru_cache

from divert.core.period import months_on
from divert.evidence.recipe import (
    Factor,
    Node,
    Op,
    Recipe,
    Total,
    Where,
)
from divert.evidence.recipe_days import (
    DAY,
    Figures,
    day_of,
    of_period,
    over,
    span,
    year_before,
)
from divert.evidence.recipes_of_emissions import (
    of_emission,
    of_emission_within,
    of_methane,
    of_screening,
    of_sensitivity,
)
from divert.evidence.recipes_of_sponsors import OWN, of_claim, of_supplied, of_supported
from divert.evidence.recipes_of_the_house import (
    of_bed,
    of_harvest,
    of_money,
    of_quarter_money,
    of_yield,
)
from divert.evidence.recipes_of_the_yard import (
    of_assumed,
    of_contamination,
    of_feed_mix,
    of_participation,
    of_process_log,
    of_standing,
    of_stock,
    of_volume,
)
from divert.factors import slug
from divert.figures.figure_path import get


def recipe(figures: Figures, path: str) -> Recipe | None:
    """Return how a figure is made, or None where it does not come from the lines by arithmetic.

    ``figures`` is the JSON of its set (divert.figures.as_json.to_json), ``path`` its path by places; the
    central value of a range may be named or left out.
    """
    found = _rule(path.removesuffix(".central"))
    return None if found is None else found[0](figures, found[1])


@lru_cache(maxsize=8192)
def _rule(
    path: str,
) -> tuple[Callable[[Figures, re.Match[str]], Recipe | None], re.Match[str]] | None:
    """Return what builds the recipe of a figure, and what its path says of it."""
    for pattern, build in _RULES:
        match = pattern.fullmatch(path)
        if match:
            return build, match
    return None


def _thrown_away(where: Where = ()) -> Node:
    return Op("+", (Total("removed", where), Total("residue", where)))


def _amount(what: str, where: Where = ()) -> Node:
    return _thrown_away(where) if what == "thrown_away" else Total(what, where)


def _mass(figures: Figures, match: re.Match[str]) -> Recipe:
    where = OWN if match["own"] else ()
    return of_period(figures, _amount(match["what"], where))


def _by_before(figures: Figures, match: re.Match[str]) -> Recipe:
    column = "diverted" if match["which"] == "diverted_by_before" else "not_claimed"
    before = match["name"] or match["other"]
    where: Where = (("before", before),)
    return of_period(figures, Total(column, (*where, *OWN) if match["own"] else where))


def _basis(figures: Figures, match: re.Match[str]) -> Recipe:
    where = OWN if match["own"] else ()
    top = Total("received", (("basis", match["name"] or match["other"]), *where))
    return of_period(figures, over(top, Total("received", where)))


def _part(figures: Figures, match: re.Match[str]) -> Recipe | None:
    column = "material" if match["which"] == "by_material" else "source"
    item = get(figures, f"{match['own'] or ''}{match['which']}[{match['place']}]")
    if item is None or column not in item:
        return None
    where: Where = ((column, item[column]),)
    if match["own"]:
        where = (*where, *OWN)
    return of_period(figures, _amount(match["what"], where))


def _month(figures: Figures, match: re.Match[str]) -> Recipe | None:
    item = get(figures, f"{match['own'] or ''}{match['which']}[{match['place']}]")
    if item is None:
        return None
    where = OWN if match["own"] else ()
    start, end = span(figures)
    if match["which"] == "history":
        first = get(figures, f"{match['own'] or ''}history[0]")
        start = day_of(f"{first['month']}-01")
    month = day_of(f"{item['month']}-01")
    last = months_on(month, 1) - DAY
    if match["what"] == "same_month_last_year":
        start, end = year_before(start, end)
        month, last = months_on(month, -12), months_on(month, -11) - DAY
        what = "diverted"
    else:
        what = match["what"]
    return Recipe(max(start, month), min(end, last), Total(what, where))


def _span(figures: Figures, match: re.Match[str]) -> Recipe | None:
    item = get(figures, f"{match['own'] or ''}{match['which']}[{match['place']}]")
    if item is None:
        return None
    where = OWN if match["own"] else ()
    node = (
        Total("received", (("basis", "weighed"), *where))
        if match["what"] == "weighed_kg"
        else Total(match["what"], where)
    )
    return Recipe(day_of(item["start"]), day_of(item["end"]), node)


def _rate(figures: Figures, match: re.Match[str]) -> Recipe:
    disposed = Total("mass_kg", (("kind", "disposed"),))
    if match["what"] == "disposed":
        return of_period(figures, disposed)
    if match["what"] == "diverted":
        return of_period(figures, Total("diverted"))
    thrown: Node = Op("+", (_thrown_away(), disposed))
    if figures["diversion_rate"].get("counted_once"):
        thrown = Op("max", (_thrown_away(), disposed))
    whole = Op("+", (Total("diverted"), thrown))
    return of_period(figures, over(Total("diverted"), whole))


def _activity(figures: Figures, match: re.Match[str]) -> Recipe | None:
    item = get(figures, f"activities[{match['place']}]")
    if item is None:
        return None
    where: Where = (("kind", "activity"), ("name", item["name"]), ("unit", item["unit"]))
    return of_period(figures, Total("amount", where))


def _compared(figures: Figures, match: re.Match[str]) -> Recipe | None:
    item = get(figures, f"{match['own'] or ''}{match['which']}")
    if item is None:
        return None
    node = Total(match["what"], OWN if match["own"] else ())
    return Recipe(day_of(item["start"]), day_of(item["end"]), node)


def _compared_source(figures: Figures, match: re.Match[str]) -> Recipe | None:
    item = figures.get(match["which"])
    part = get(figures, f"{match['which']}.by_source[{match['place']}]")
    if item is None or part is None:
        return None
    where: Where = (("source", part["source"]),)
    return Recipe(day_of(item["start"]), day_of(item["end"]), _amount(match["what"], where))


def _cumulative(figures: Figures, _match: re.Match[str]) -> Recipe:
    since = day_of(figures["cumulative"]["since"])
    return Recipe(since, span(figures)[1], Total("diverted"))


def _kind(figures: Figures, match: re.Match[str]) -> Recipe:
    return of_period(figures, Total("mass_kg", (("kind", match["kind"]),)))


def _target(figures: Figures, match: re.Match[str]) -> Recipe | None:
    target = get(figures, f"targets[{match['place']}]")
    for year in figures.get("by_year") or ():
        if target is not None and year["label"] == str(target["year"]):
            return Recipe(day_of(year["start"]), day_of(year["end"]), Total("diverted"))
    return None


def _factor(figures: Figures, match: re.Match[str]) -> Recipe | None:
    item = get(figures, f"factors[{match['place']}]")
    key = None if item is None else item["key"]
    if key is None or key.startswith("gas_captured."):  # the site's own stand under other keys
        return None
    return of_period(figures, Factor(key))


def _density(figures: Figures, match: re.Match[str]) -> Recipe | None:
    item = get(figures, f"densities[{match['place']}]")
    if item is None or item["basis"] != "measured density":
        return None
    key = f"measured.{slug(item['material'])}.{slug(item['condition'])}"
    return of_period(figures, Factor(key))


_NAME = r"(?:\[(?P<name>.+)\]|\.(?P<other>[^.\[]+))"
_OWN = r"(?P<own>supplied\.)?"
_PLACE = r"\[(?P<place>\d+)\]"
_AMOUNTS = "received|diverted|not_claimed|thrown_away|removed|residue"
_RULES: list[tuple[re.Pattern[str], Callable[[Figures, re.Match[str]], Recipe | None]]] = [
    (re.compile(pattern), build)
    for pattern, build in (
        (rf"{_OWN}mass\.(?P<what>{_AMOUNTS})", _mass),
        (r"(?P<own>supplied\.)(?P<what>received|diverted)", _mass),
        (rf"{_OWN}(?P<which>not_claimed|not_claimed_by|diverted_by_before){_NAME}", _by_before),
        (rf"{_OWN}basis{_NAME}", _basis),
        (rf"{_OWN}(?P<which>by_material|by_source){_PLACE}\.(?P<what>{_AMOUNTS})", _part),
        (
            rf"{_OWN}(?P<which>by_month|history){_PLACE}\."
            r"(?P<what>received|diverted|same_month_last_year)",
            _month,
        ),
        (
            rf"{_OWN}(?P<which>by_quarter|by_year){_PLACE}\.(?P<what>received|diverted|weighed_kg)",
            _span,
        ),
        (r"(?P<claim>supplied|supported)\.(?P<part>cumulative)\.diverted", of_claim),
        (r"(?P<claim>supported)\.(?P<part>by_quarter\[\d+\])\.diverted", of_claim),
        (r"emissions\.(?P<what>landfill_avoided|process|fuel|net_avoided)", of_emission),
        (r"emissions_within\.(?P<years>20|100)", of_emission_within),
        (r"sensitivity\.landfill_avoided", of_sensitivity),
        (rf"methane_by_year{_PLACE}\.kg_ch4", of_methane),
        (r"diversion_rate\.(?P<what>diverted|disposed|rate)", _rate),
        (rf"activities{_PLACE}\.amount", _activity),
        (
            rf"{_OWN}(?P<which>previous|same_period_last_year)\.(?P<what>diverted|received)",
            _compared,
        ),
        (
            r"(?P<which>previous|same_period_last_year)\.by_source"
            rf"{_PLACE}\.(?P<what>{_AMOUNTS})",
            _compared_source,
        ),
        (r"cumulative\.diverted", _cumulative),
        (r"(?P<kind>moved|rejected)", _kind),
        (rf"targets{_PLACE}\.diverted", _target),
        (rf"screening{_PLACE}\.(?P<what>landfill_avoided|ours)", of_screening),
        (rf"harvest{_PLACE}\.(?P<what>volume_m3|mass_kg)", of_harvest),
        (r"yield\.(?P<what>fed|product|share)", of_yield),
        (
            rf"beds{_PLACE}\.(?P<what>feed_kg_per_m2_week|feed_kg_per_kg_worms_week)",
            of_bed,
        ),
        (r"money\.(?P<what>disposal_fee_avoided|sales|bags|spent|spent_per_tonne)", of_money),
        (rf"money_by_quarter{_PLACE}\.(?P<what>spent|spent_per_tonne)", of_quarter_money),
        (r"supplied\.(?P<what>share|net_avoided)", of_supplied),
        (r"supported\.(?P<what>share|diverted|net_avoided)", of_supported),
        (rf"contamination{_PLACE}\.(?P<what>received_kg|removed_kg|share)", of_contamination),
        (rf"participation{_PLACE}\.(?P<what>loads|active|days_between|new|lost)", of_participation),
        (r"stock\.kg", of_stock),
        (
            rf"process_log{_PLACE}\.(?P<what>entries|hottest_c|days|turned|driest|wettest)",
            of_process_log,
        ),
        (
            rf"feed_mix\.months{_PLACE}\.(?P<what>fed_kg|known_share|carbon_to_nitrogen|moisture)",
            of_feed_mix,
        ),
        (r"volume_reduction\.(?P<what>in_m3|out_m3|share)", of_volume),
        (rf"standing\.mass{_NAME}", of_standing),
        (rf"{_OWN}assumed_fate\.(?P<what>claimed_kg|assumed_kg|share)", of_assumed),
        (rf"factors{_PLACE}\.value", _factor),
        (rf"densities{_PLACE}\.value", _density),
    )
]
