"""Recipes of what a yard needs to know: contamination, who takes part, mix, volume, stock, standing."""

from __future__ import annotations

import re

from divert.core.period import months_on
from divert.evidence.factor_rows import LOST
from divert.evidence.recipe import (
    Constant,
    Extreme,
    Factor,
    LongestHot,
    Node,
    Op,
    Recipe,
    TakingPart,
    Total,
    Where,
)
from divert.evidence.recipe_days import DAY, Figures, day_of, minus_year, of_period, over, span
from divert.evidence.visits import Counted
from divert.figures.figure_path import get
from divert.figures.standing import typical_standing
from divert.site.model import CLAIMED, DONATED

Match = re.Match[str]


def of_contamination(figures: Figures, match: Match) -> Recipe | None:
    item = get(figures, f"contamination[{match['place']}]")
    if item is None:
        return None
    where: Where = (("source", item["source"]),)
    received, removed = Total("received", where), Total("removed", where)
    node: Node = {
        "received_kg": received, "removed_kg": removed, "share": over(removed, received)
    }[match["what"]]  # fmt: skip
    return Recipe(day_of(item["start"]), day_of(item["end"]), node)


_LOADS: Where = (("kind", "intake"),)


def of_participation(figures: Figures, match: Match) -> Recipe | None:
    """The loads of a month are its lines of intake; the rest is counted source by source."""
    item = get(figures, f"participation[{match['place']}]")
    if item is None or item[match["what"]] is None:
        return None
    if match["what"] == "loads":
        return _of_month(figures, item["month"], Total("rows", _LOADS))
    start, until = span(figures)
    what: Counted = match["what"]  # type: ignore[assignment]
    return _of_month(
        figures, item["month"], TakingPart(what, day_of(f"{item['month']}-01"), start, until)
    )


def of_stock(figures: Figures, _match: Match) -> Recipe | None:
    """What a stocktake found and what was fed since, less what is lost of it, less harvest."""
    item = figures["stock"]
    if item is None or item.get("since") is None:
        return None
    kept = Op("*", (_fed(), Op("-", (Constant(1.0), Factor(LOST)))))
    came = Op("-", (kept, Total("mass_kg", (("kind", "harvest"),))))
    counted = Constant(item["counted_kg"] or 0.0)
    node = Op("max", (Constant(0.0), Op("+", (counted, came))))
    return Recipe(day_of(item["since"]), span(figures)[1], node)


def of_process_log(figures: Figures, match: Match) -> Recipe | None:
    """Readings of a pile as they stand in the log; its run of hot days is read off them."""
    item = get(figures, f"process_log[{match['place']}]")
    what = match["what"]
    if item is None or item[what] is None:
        return None

    def lines(unit: str) -> Where:
        return (("kind", "process"), ("name", item["pile"]), ("unit", unit))

    hot_f = Op("-", (Extreme("max", "amount", lines("°F")), Constant(32.0)))
    in_celsius = (Extreme("max", "amount", lines("°C")), Op("*", (hot_f, Constant(5 / 9))))
    nodes: dict[str, Node] = {
        "entries": Op("+", (Total("rows", lines("°F")), Total("rows", lines("°C")))),
        "hottest_c": Op("max", in_celsius),
        "days": LongestHot(item["pile"]),
        "turned": Total("amount", lines("turned")),
        "driest": over(Extreme("min", "amount", lines("%")), Constant(100.0)),
        "wettest": over(Extreme("max", "amount", lines("%")), Constant(100.0)),
    }
    return of_period(figures, nodes[what])


def _of_month(figures: Figures, month: str, node: Node) -> Recipe:
    start, end = span(figures)
    first = day_of(f"{month}-01")
    return Recipe(max(start, first), min(end, months_on(first, 1) - DAY), node)


def _fed(where: Where = ()) -> Node:
    """Received less removed, without what was donated as food."""
    given: Where = (*where, ("before", DONATED))
    return Op(
        "-",
        (Total("received", where), Total("removed", where),
         Op("-", (Total("received", given), Total("removed", given)))),
    )  # fmt: skip


def _not_below_nothing(node: Node) -> Node:
    return Op("max", (Constant(0.0), node))


def of_feed_mix(figures: Figures, match: Match) -> Recipe | None:
    item = get(figures, f"feed_mix.months[{match['place']}]")
    if item is None:
        return None
    materials = figures["feed_mix"]["materials"]
    what = match["what"]
    if what == "fed_kg":
        return _of_month(figures, item["month"], _fed())

    def weighed(number: str | None) -> Node:
        parts: list[Node] = []
        for one in materials:
            fed = _fed((("material", one["material"]),))
            parts.append(fed if number is None else Op("*", (fed, Constant(one[number]))))
        return Op("+", tuple(parts))

    node = {
        "known_share": lambda: over(_not_below_nothing(weighed(None)), _not_below_nothing(_fed())),
        "carbon_to_nitrogen": lambda: over(weighed("carbon"), weighed("nitrogen")),
        "moisture": lambda: over(weighed("moisture"), weighed(None)),
    }[what]()
    return _of_month(figures, item["month"], node)


def of_volume(figures: Figures, match: Match) -> Recipe | None:
    """A volume as it came is on its line; that of a load or harvest only weighed, by its density."""
    if figures["volume_reduction"] is None:
        return None
    end = span(figures)[1]
    out, fed = Total("out_m3"), Total("bulk_m3")
    node: Node = {"out_m3": out, "in_m3": fed, "share": over(out, fed)}[match["what"]]
    return Recipe(minus_year(end + DAY), end, node)


def of_standing(figures: Figures, match: Match) -> Recipe | None:
    """What rests on a standing is the mass of all loads on a density of it."""
    name = match["name"] or match["other"]
    if name == "weighed":
        top: Node = Total("received", (("basis", "weighed"),))
    else:
        keys = [
            f["key"]
            for f in figures["factors"]
            if f["share"] is not None and typical_standing(f["standing"]) == name
        ]
        top = Op(
            "+", tuple(Total("received", (("factor", key),)) for key in keys) or (Constant(0.0),)
        )
    return of_period(figures, over(top, Total("received")))


def of_assumed(figures: Figures, match: Match) -> Recipe:
    own: Where = (("own", "yes"),) if match["own"] else ()

    def claimed(*more: tuple[str, str]) -> Node:
        return Op("+", tuple(Total("received", (("before", b), *more, *own)) for b in CLAIMED))

    assumed = claimed(("assumed", "yes"))
    node = {
        "claimed_kg": claimed(), "assumed_kg": assumed, "share": over(assumed, claimed())
    }[match["what"]]  # fmt: skip
    return of_period(figures, node)
