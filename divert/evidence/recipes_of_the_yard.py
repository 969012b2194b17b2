"""Recipes of what a yard needs to know: contamination, who takes part, mix, volume, stock, standing."""

from __future__ import annotations

import re

from divert.core.period import months_on
from divert.evidence.recipe import Node, Number, Op, Recipe, Total, Where
from divert.evidence.recipe_days import DAY, Figures, day_of, minus_year, of_period, over, span
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


def of_participation(figures: Figures, match: Match) -> Recipe | None:
    """The loads of a month are its lines of intake; who was active stands as counted."""
    item = get(figures, f"participation[{match['place']}]")
    if item is None:
        return None
    return _of_month(figures, item["month"], Total("rows", (("kind", "intake"),)))


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
            parts.append(fed if number is None else Op("*", (fed, Number(one[number]))))
        return Op("+", tuple(parts))

    node = {
        "known_share": lambda: over(weighed(None), _fed()),
        "carbon_to_nitrogen": lambda: over(weighed("carbon"), weighed("nitrogen")),
        "moisture": lambda: over(weighed("moisture"), weighed(None)),
    }[what]()
    return _of_month(figures, item["month"], node)


def of_volume(figures: Figures, match: Match) -> Recipe | None:
    """The product's volume is in the lines; that of a load without one was worked out."""
    item = figures["volume_reduction"]
    end = span(figures)[1]
    out = Total("volume_m3", (("kind", "harvest"),))
    if item is None:
        return None
    node: Node = out if match["what"] == "out_m3" else over(out, Number(item["in_m3"]))
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
            "+", tuple(Total("received", (("factor", key),)) for key in keys) or (Number(0.0),)
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
