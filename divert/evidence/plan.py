"""What the sheet of every figure lists: each central figure, how it is made, what was printed."""

from __future__ import annotations

import datetime as dt
import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from typing import TYPE_CHECKING, Any

from divert.core.words import N_, Text
from divert.evidence.figure_recipes import recipe
from divert.evidence.recipe import Recipe
from divert.evidence.recipe_days import span
from divert.evidence.sharing import Sharing
from divert.figures.as_json import to_json
from divert.figures.contract import Figures
from divert.figures.figure_path import get, is_range, leaves
from divert.figures.figure_sum import terms
from divert.figures.numbers.unit_words import short_name
from divert.figures.numbers.written import is_one

if TYPE_CHECKING:
    from divert.figures.numbers.printed import Printed

# Held by the Factors and Findings sheets, or no figure of their own.
_ELSEWHERE = re.compile(
    r"findings|factors|densities|released_share|rows\.|.*\.year$|.*published_|beds\[\d+\]\.(?!feed)"
    r"|feed_mix\.materials|standing\.landfill|.*\.growing$|.*counted_once$|absent"
)
# What a sponsor's evidence holds only where the sponsor's own pages print it.
_HOUSE = re.compile(r"by_source|previous\.by_source|same_period_last_year\.by_source|money|"
                    r"activities|targets|beds|by_quarter|by_year|contamination|participation|"
                    r"feed_mix|volume_reduction|stock|process_log")  # fmt: skip
# What a sponsor's lines cannot add up to: such entries stay in the house, or lose what tells them apart.
_NOT_SUMMED = re.compile(r"money\.(?!disposal)|money_by_quarter|activities|beds")


@dataclass(frozen=True, slots=True)
class SummaryLine:
    """One figure: its set and path, its value with the ends of its range, and its recipe.

    ``recipe`` None where the value stands as it is; ``printed`` what the pages say, "" where
    nothing. ``sum_of`` is the key of a printed figure that is a sum of others (divert.figures.figure_sum).
    """

    set: str
    path: str
    spoken: str
    unit: str
    value: float
    low: float | None
    high: float | None
    recipe: Recipe | None
    printed: str
    sum_of: str = ""


def as_json(
    figure_sets: Mapping[str, Figures | Mapping[str, Any]], kept: dict[Any, Any] | None = None
) -> dict[str, dict[str, Any]]:
    """Return every figure set as the plain object of the contract, to be read and not to be changed.

    ``kept`` (the workings') holds what is the same for every sponsor of a period from one report to
    the next.
    """
    parts = None if kept is None else kept.setdefault(as_json, {})
    return {
        name: to_json(one, parts) if isinstance(one, Figures) else dict(one)
        for name, one in figure_sets.items()
    }


def plan(
    sets: Mapping[str, Mapping[str, Any]],
    rules: Sharing,
    printed: Sequence[Printed] = (),
    said_before: Iterable[str] = ("previous",),
    language: str = "en",
) -> list[SummaryLine]:
    """Return the lines of the sheet of every figure in order.

    Figures of the sets named in ``said_before`` stand as they were issued; a printed figure that is
    in no set stands as it was printed, its unit in the ``language`` of the pages.
    """
    texts = _texts(printed, language)
    parts = set(_parts(texts))
    out: list[SummaryLine] = []
    for name, figures in sets.items():
        for path, spoken, value in _central(figures):
            key = f"{name}:{path}"
            said = texts.pop(key, None) or texts.pop(f"{key}.central", "")
            if is_range(value):  # its ends stand beside it
                texts.pop(f"{key}.low", None)
                texts.pop(f"{key}.high", None)
            own_words = "by_source" in path and not path.startswith("supplied")
            if _ELSEWHERE.match(path) and not said and (name, path) not in parts:
                continue
            if rules.own is not None and _HOUSE.match(path) and (own_words or not said):
                continue
            made = None if name in said_before else recipe(figures, path)
            if rules.own is not None and _NOT_SUMMED.match(path):
                made = None
            out.append(_line(name, path, spoken, value, made, said))
    values = {p.key: p.value for p in printed}
    return [*out, *(_printed_only(key, values[key], said) for key, said in texts.items())]


def _parts(keys: Iterable[str]) -> Iterator[tuple[str, str]]:
    """Yield set and path of what each printed figure is a sum or a share of."""
    for key in keys:
        for term in terms(key):
            yield term.of_set, term.path
            if term.over is not None:
                yield term.over


def _printed_only(key: str, value: float, said: str) -> SummaryLine:
    """Return a line for what is printed and is no figure of one set: a sum, or a value alone."""
    parts = terms(key)
    if len(parts) == 1 and parts[0].times == 1 and parts[0].over is None:
        one = parts[0]
        return SummaryLine(
            one.of_set, one.path, one.path, unit_of(one.path), value, None, None, None,
            said,
        )  # fmt: skip
    unit = "share" if parts[0].over else unit_of(parts[0].path)
    return SummaryLine("sum", key, key, unit, value, None, None, None, said, key)


def _central(figures: Mapping[str, Any]) -> Iterator[tuple[str, str, Any]]:
    """Yield path, spoken path and value of every number; of a range, the range."""
    for leaf in leaves({k: v for k, v in figures.items() if k != "findings"}):
        if leaf.path.endswith(".central"):
            path = leaf.path.removesuffix(".central")
            yield path, leaf.spoken.removesuffix(".central"), get(figures, path)
        elif not is_range(get(figures, leaf.path.rpartition(".")[0])):
            yield leaf.path, leaf.spoken, leaf.value


def _line(
    name: str, path: str, spoken: str, value: Any, made: Recipe | None, said: str
) -> SummaryLine:
    if is_range(value):
        number, low, high = value["central"], value["low"], value["high"]
    else:
        number, low, high = value, None, None
    return SummaryLine(name, path, spoken, unit_of(path), float(number), low, high, made, said)


# Printed units whose short name stands in a table's heading, not behind the number.
_IN_HEADINGS = {
    "money per short ton": N_("per short ton (2,000 lb)"),
    "g per kg": N_("g per kg"),
}


def _texts(printed: Sequence[Printed], language: str) -> dict[str, str]:
    """Return what was printed for each key, every wording once, its unit as the pages say it."""
    texts: dict[str, dict[str, None]] = {}
    for one in printed:
        if one.unit in _IN_HEADINGS:
            unit = Text(_IN_HEADINGS[one.unit]).say(language)
        else:
            unit = short_name(one.unit, is_one(one.text, language), language)
        texts.setdefault(one.key, {})[f"{one.text} {unit}".rstrip()] = None
    return {key: "; ".join(wordings) for key, wordings in texts.items()}


_UNITS = (
    (r"basis|.*share$|.*\.rate$|released_share", "share"),
    (r"standing|feed_mix\.months\[\d+\]\.moisture|process_log\[\d+\]\.(?:driest|wettest)", "share"),
    (
        r"feed_mix\.months\[\d+\]\.carbon_to_nitrogen|participation|process_log\[\d+\]\.(?:entries|days|turned)",
        "",
    ),
    (r"process_log\[\d+\]\.hottest_c", "°C"),
    (r"volume_reduction\.(?:in|out)_m3", "m3"),
    (r"emissions|sensitivity|screening|.*net_avoided", "kg CO2e"),
    (r"methane_by_year", "kg CH4"),
    (r"harvest\[\d+\]\.volume_m3", "m3"),
    (r"beds\[\d+\]\.feed_kg_per_m2_week", "kg per m2 and week"),
    (r"beds\[\d+\]\.feed_kg_per_kg_worms_week", "kg per kg of worms and week"),
    (r"money\.bags", "bags"),
    (r"money.*\.spent_per_tonne", "per tonne (1,000 kg)"),
    (r"money", ""),
    (r"activities", ""),
    (r"rows|weeks", ""),
    (r"densities\[\d+\]\.(?:weigh_ins|more_to_halve)", ""),
    (r"densities", "kg/m3"),
    (r"factors", ""),
)


@cache
def unit_of(path: str) -> str:
    """Return the unit that a figure is held in."""
    for pattern, unit in _UNITS:
        if re.match(pattern, path):
            return unit
    return "kg"


def cut_days(lines: Iterable[SummaryLine]) -> list[dt.date]:
    """Return the first days at which monthly sums must be cut for these figures to add up."""
    spans = {(line.recipe.start, line.recipe.end) for line in lines if line.recipe is not None}
    days = {start for start, _ in spans} | {end + dt.timedelta(days=1) for _, end in spans}
    return sorted(days)


def last_day(sets: Mapping[str, Mapping[str, Any]], said_before: Iterable[str]) -> dt.date:
    """Return the last day that any set but those said before reaches."""
    return max(span(figures)[1] for name, figures in sets.items() if name not in said_before)
