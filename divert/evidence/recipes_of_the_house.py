"""Recipes of what becomes of the material and what it earns: harvest, yield, beds, money."""

from __future__ import annotations

import datetime as dt
import re

from divert.evidence.lines import SPENDING
from divert.evidence.recipe import Constant, Fee, Node, Op, Recipe, Total, Where
from divert.evidence.recipe_days import (
    DAY,
    Figures,
    day_of,
    minus_year,
    of_period,
    over,
    span,
)
from divert.figures.figure_path import get
from divert.site.model import DONATED


def of_harvest(figures: Figures, match: re.Match[str]) -> Recipe | None:
    item = get(figures, f"harvest[{match['place']}]")
    if item is None:
        return None
    where: Where = (
        ("kind", "harvest"), ("material", item["product"]), ("destination", item["destination"]),
    )  # fmt: skip
    return of_period(figures, Total(match["what"], where))


def _year_back(end: dt.date) -> dt.date:
    return minus_year(end + DAY)


_DONATED: Where = (("before", DONATED),)
_FED = Op(
    "-",
    (Total("received"), Total("removed"),
     Op("-", (Total("received", _DONATED), Total("removed", _DONATED)))),
)  # fmt: skip
_PRODUCT = Total("mass_kg", (("kind", "harvest"),))


def of_yield(figures: Figures, match: re.Match[str]) -> Recipe:
    end = span(figures)[1]
    nodes: dict[str, Node] = {
        "fed": _FED, "product": _PRODUCT, "share": over(_PRODUCT, _FED)
    }  # fmt: skip
    return Recipe(_year_back(end), end, nodes[match["what"]])


def of_bed(figures: Figures, match: re.Match[str]) -> Recipe | None:
    beds = figures["beds"]
    bed = beds[int(match["place"])]
    size = bed["area_m2"] if match["what"] == "feed_kg_per_m2_week" else bed["worms_kg"]
    areas = sum(b["area_m2"] or 0.0 for b in beds)
    share = 1.0 if len(beds) == 1 else (bed["area_m2"] or 0.0) / areas if areas else 0.0
    if not size:
        return None
    own = [
        Total("mass_kg", (("kind", "intake"), ("destination", b["bed"]))) for b in beds
    ]  # what was fed to no bed by name is shared by area
    rest = Op("max", (Constant(0.0), Op("-", (_FED, *own))))
    feed = Op("+", (own[int(match["place"])], Op("*", (rest, Constant(share)))))
    end = span(figures)[1]
    start = _year_back(end)
    weeks = ((end - max(start, day_of(figures["cumulative"]["since"]))).days + 1) / 7
    return Recipe(start, end, Op("/", (feed, Constant(weeks), Constant(size))))


def of_money(figures: Figures, match: re.Match[str]) -> Recipe:
    """Return the recipe of a sum of money of the period."""
    node: Node = {
        "disposal_fee_avoided": Fee(),
        "sales": _in_currency(figures, "amount", "sale"),
        "bags": _in_currency(figures, "count", "sale"),
        "spent": _spent(figures, "spent"),
        "spent_per_tonne": _spent(figures, "spent_per_tonne"),
    }[match["what"]]
    return of_period(figures, node)


def of_quarter_money(figures: Figures, match: re.Match[str]) -> Recipe | None:
    """Return the recipe of what was spent in a quarter, in all or for each tonne diverted."""
    item = figures["money_by_quarter"][int(match["place"])]
    if item is None:
        return None
    return Recipe(day_of(item["start"]), day_of(item["end"]), _spent(figures, match["what"]))


def _spent(figures: Figures, what: str) -> Node:
    spent = _in_currency(figures, "amount", SPENDING)
    if what == "spent":
        return spent
    return Op("/", (spent, Op("/", (Total("diverted"), Constant(1000.0)))))


def _in_currency(figures: Figures, column: str, kind: str) -> Node:
    own = figures["money"]["currency"]
    return Op(
        "+",
        tuple(Total(column, (("kind", kind), ("currency", c))) for c in ("", own)),
    )
