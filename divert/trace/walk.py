"""One figure walked back to the rows, densities and factors that make it, largest first."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from divert.convert import Workings
from divert.core.findings import CannotRun
from divert.core.period import Period
from divert.core.words import N_, Text
from divert.evidence.book import Book
from divert.evidence.derived import derive
from divert.evidence.factor_rows import LOST, Numbers, numbers
from divert.evidence.figure_recipes import recipe
from divert.evidence.lines import lines_of
from divert.evidence.plan import unit_of
from divert.evidence.recipe import Recipe
from divert.evidence.shares import shares_of
from divert.figures.as_json import to_json
from divert.figures.compute import figures_for
from divert.figures.figure_path import Figure, find, is_range, leaves
from divert.site.model import Site
from divert.trace.parts import TraceFactor, TraceRow, factor_of, rows_of
from divert.trace.standing import standing


@dataclass(frozen=True, slots=True)
class Trace:
    """A figure with everything that makes it; ``how`` says in a sentence how it comes about."""

    figure: str
    value: float
    low: float | None
    high: float | None
    unit: str
    period: str
    sponsor: str | None
    how: Text
    rows: tuple[TraceRow, ...]
    factors: tuple[TraceFactor, ...]
    site: Site


_MADE = N_("It is the sum of the rows below, worked out with the factors below.")
_RATIO = N_("It is a share: each row below over the whole that the share is of.")
_DRAWN = N_("It is the end of a 90 % interval of 10,000 draws around the central figure, whose rows "
            "and factors are below; each range of a factor moves it.")  # fmt: skip
_VALUE = {
    "rows": N_("It counts lines of the spreadsheets; divert read lists every one."),
    "weeks": N_("It counts weeks, Monday to Sunday; the rows below are the period's entries."),
    "targets": N_("It is a target, from site.toml."),
    "beds": N_("It is a bed's size or stocking, from site.toml."),
    "densities": N_("It is a density; the rows below are the weigh-ins that taught it, if any."),
    "factors": N_("It is a number in use; its source is below."),
    "standing": N_(
        "It goes by the weakest standing of the numbers behind each class of material; divert sources "
        "lists them."
    ),
    "released_share": N_("It is worked out from the factors below alone."),
    "participation": N_(
        "It is counted from the loads of the month, which are below. A source without a load for 90 days "
        "counts as lost in the month of its last (common practice)."
    ),
    "process_log": N_(
        "It is read off the days of the process log below, as recorded. 55 °C is the temperature that "
        "rules on hot composting name (common practice); records are no proof of pathogen reduction."
    ),
    "stock": N_(
        "It is the last stocktake, or what was fed less half of its mass, less what was "
        "harvested; the loads and harvests are below."
    ),
}
_STANDS = N_("It stands as a value that no row makes.")
_NOTHING = N_("No row adds to it in this period.")
_OF_DENSITY = {
    "weigh_ins": N_("It counts the weigh-ins below, one for each row."),
    "published_low": N_("It is the low end of the published range, whose source is below."),
    "published_high": N_("It is the high end of the published range, whose source is below."),
    "more_to_halve": N_("It is how many more weigh-ins would halve the range, worked out from how far "
                        "those below lie apart."),
}  # fmt: skip


# Figures whose rows are those that were looked at, and not parts of a sum.
_READ_OFF = ("factors", "densities", "participation", "process_log")
_DRAWN_ENDS = (".low", ".high", ".mean")


def trace(
    workings: Workings, figure: str, period: Period, as_of: dt.date, sponsor: str | None = None
) -> Trace:
    """Return what makes a figure of a period, named by its path (divert.figures.figure_path).

    Raises CannotRun for a figure that is not there, with the nearest names, and for a path that
    names several figures.
    """
    figures = to_json(figures_for(workings, period, as_of, sponsor))
    if sponsor is None and figure.lstrip("$.").startswith(("supplied", "supported")):
        raise CannotRun(
            Text(N_("{figure} is a sponsor's: name one with --sponsor."), {"figure": figure})
        )
    named = _number_at(figures, find(figures, figure), figure)
    lines = lines_of(workings, period.end, figures["sponsor"])
    known = numbers(workings, lines)
    derived = derive(lines, known.values, known.classes, known.processes)
    book = Book(
        derived, known.values, known.classes, known.processes, lambda path: recipe(figures, path)
    )
    path = named.path
    for end in (".central", *_DRAWN_ENDS):
        path = path.removesuffix(end)
    made = recipe(figures, path)
    if made is None or path.startswith(_READ_OFF):
        rows, factors = standing(workings, figures, path, derived, known, period)
    else:
        rows = rows_of(shares_of(made, book), derived)
        factors = _factors(path, rows, known) + _of_the_mix(path, figures)
    value, low, high = _value(figures, named, path)
    return Trace(
        named.spoken, value, low, high, unit_of(path), period.label, figures["sponsor"],
        _how(named.path, path, made, figures, bool(rows)), rows, factors, workings.site,
    )  # fmt: skip


def _number_at(figures: Mapping[str, Any], named: Figure, typed: str) -> Figure:
    """Return the figure if it is a number or a range; raises CannotRun with what lies below it."""
    value = named.value
    if is_range(value) or (isinstance(value, int | float) and not isinstance(value, bool)):
        return named
    if isinstance(value, Mapping | list):
        below = [
            f"{named.spoken}{'' if leaf.spoken.startswith('[') else '.'}{leaf.spoken}"
            for leaf in leaves(value)
            if not leaf.spoken.endswith(_DRAWN_ENDS)
        ]
        if below:
            raise CannotRun(
                Text(N_("{figure} holds several figures. Name one: {names} ..."),
                     {"figure": typed,
                      "names": ", ".join(b.removesuffix(".central") for b in below[:5])})
            )  # fmt: skip
    raise CannotRun(
        Text(N_("{figure} is not a number in this period, so there is nothing to trace."),
             {"figure": typed})
    )  # fmt: skip


def _value(
    figures: Mapping[str, Any], named: Figure, path: str
) -> tuple[float, float | None, float | None]:
    whole = find(figures, path).value
    if is_range(whole):
        shown = named.value if not is_range(named.value) else whole["central"]
        return float(shown), whole["low"], whole["high"]
    return float(named.value), None, None


def _how(
    asked: str, path: str, made: Recipe | None, figures: Mapping[str, Any], any_rows: bool
) -> Text:
    if path == "weeks.missing" and figures["weeks"]["missing_weeks"]:
        return Text(N_("These weeks have no entry, by their Mondays: {weeks}."),
                    {"weeks": ", ".join(figures["weeks"]["missing_weeks"])})  # fmt: skip
    if path.startswith("densities") and path.rpartition(".")[2] in _OF_DENSITY:
        return Text(_OF_DENSITY[path.rpartition(".")[2]])
    if made is None or path.startswith(_READ_OFF):
        return Text(_VALUE.get(path.split("[")[0].split(".")[0], _STANDS))
    if asked.endswith(_DRAWN_ENDS):
        return Text(_DRAWN)
    if not any_rows:
        return Text(_NOTHING)
    return Text(_RATIO if unit_of(path) == "share" else _MADE)


_EMISSIONS = ("emissions", "sensitivity", "methane_by_year", "screening")


def _factors(path: str, rows: Sequence[TraceRow], known: Numbers) -> tuple[TraceFactor, ...]:
    """Return the densities that rows rest on, largest first, then the numbers all of it takes."""
    by_key: dict[str, float] = {}
    for row in rows:
        if row.factor:
            by_key[row.factor] = by_key.get(row.factor, 0.0) + row.amount
    numbers_of = {one.key: one for one in known.rows}
    densities = sorted(by_key.items(), key=lambda item: -abs(item[1]))
    out = [factor_of(numbers_of[key], amount) for key, amount in densities if key in numbers_of]
    if path.startswith(_EMISSIONS) or path.endswith("net_avoided"):
        used = _emission_keys(path, known)
        out += [factor_of(one, None) for one in known.rows if one.key in used]
    if path.startswith("stock"):
        out += [factor_of(one, None) for one in known.rows if one.key == LOST]
    if path.startswith("money.disposal_fee"):
        out += [factor_of(one, None) for one in known.rows if one.key.startswith("fee.")]
    return tuple(out)


_OF_A_MATERIAL = ("moisture", "carbon", "nitrogen")


def _of_the_mix(path: str, figures: Mapping[str, Any]) -> tuple[TraceFactor, ...]:
    """Return what each material of a feed mix is made of, as a share of wet mass."""
    if not path.startswith("feed_mix") or path.endswith("fed_kg"):
        return ()
    return tuple(
        TraceFactor(f"{what} of {one['material']}", one[what], one[what], one[what], "share",
                    one["source"], one["standing"], None)
        for one in figures["feed_mix"]["materials"]
        for what in _OF_A_MATERIAL
    )  # fmt: skip


def _emission_keys(path: str, known: Numbers) -> set[str]:
    keys: set[str] = set()
    if not path.startswith(("emissions.process", "emissions.fuel")):
        for one in known.classes:
            keys |= {one.doc, one.docf_2006, one.docf_2019, one.mcf, one.methane_share,
                     one.oxidation, one.gas_captured, one.k, one.gwp}  # fmt: skip
    if path.startswith("emissions.process") or path.endswith("net_avoided"):
        for process in known.processes:
            keys |= {process.ch4, process.n2o, process.gwp_ch4, process.gwp_n2o}
    if path.startswith("emissions.fuel") or path.endswith("net_avoided"):
        keys |= {one.key for one in known.rows if one.key.startswith("fuel.")}
    if path.startswith("screening"):
        keys |= {one.key for one in known.rows if one.key.startswith("screening.")}
    return keys
