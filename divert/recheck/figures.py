"""One printed figure after another: worked out again, rounded again, and read on the page."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from functools import partial
from typing import Any

from divert.core.findings import CannotRun
from divert.core.words import N_, Text
from divert.evidence.book import Book, value_of
from divert.evidence.figure_recipes import recipe
from divert.evidence.recipe import totals
from divert.figures.figure_path import find, get
from divert.figures.figure_sum import Term, terms
from divert.figures.figure_sum import value_of as sum_of
from divert.figures.numbers.rounding import steps
from divert.figures.numbers.scales import FACTOR, Scale, decimals
from divert.figures.numbers.written import rounded_text, written_number
from divert.recheck.inputs import Inputs, Standing

_SAME = 1e-9


@dataclass(frozen=True, slots=True)
class FigureCheck:
    """A printed figure and whether it holds; ``why`` says what disagrees.

    ``recomputed``: whether it was worked out from the ledger's inputs; if not, it stands as a value
    (a range, a count, what was reported before) and was compared between page, record and evidence.
    """

    key: str
    figure: str
    printed: str
    unit: str
    page: int | None
    holds: bool
    recomputed: bool
    why: Text | None = None


@dataclass(frozen=True, slots=True)
class Found:
    """A figure found in the evidence: its value and whether it was worked out."""

    value: float
    recomputed: bool
    shown: bool = True  # whether the sheet of every figure shows just this


# Columns that are made of inputs which workbooks of earlier versions have not: what rests on them
# stands there as a value, as it did then.
_RESTS_ON = {"bulk_m3": "bulk", "out_m3": "bulk_out"}


class Evidence:
    """The figures of the record's sets as the evidence gives them."""

    def __init__(self, inputs: Inputs | None, sets: Mapping[str, Mapping[str, Any]]) -> None:
        self._inputs = inputs
        self._sets = sets
        self._known: dict[tuple[str, str], Found | None] = {}
        self._books: dict[str, Book] = {}

    def find(self, of_set: str, path: str) -> Found | None:
        """Return a figure from the evidence; None where it has none."""
        key = (of_set, path)
        if key not in self._known:
            self._known[key] = self._work_out(of_set, path)
        return self._known[key]

    def _work_out(self, of_set: str, path: str) -> Found | None:
        if self._inputs is None:
            return None
        standing = self._standing(of_set, path)
        if standing is None:
            return None
        figures = self._sets.get(of_set)
        if figures is None or of_set == "previous" or path.endswith((".low", ".high")):
            return Found(standing, False)
        try:
            made = recipe(figures, path)
            if made is None or any(_RESTS_ON.get(t.column) in self._inputs.lacks
                                   for t, _ in totals(made.node)):  # fmt: skip
                return Found(standing, False)
            if of_set not in self._books:  # where what its figures share is worked out once
                others = partial(recipe, figures)
                self._books[of_set] = replace(self._inputs.book, others=others)
            worked_out = value_of(made, self._books[of_set])
            return Found(worked_out, True, _alike(standing, worked_out))
        except (
            ArithmeticError,
            AttributeError,
            LookupError,
            RecursionError,
            TypeError,
            ValueError,
        ):
            return None  # the record's figures do not fit the evidence

    def _standing(self, of_set: str, path: str) -> float | None:
        assert self._inputs is not None
        name, _, end = path.rpartition(".")
        if end in ("low", "high", "central") and (of_set, path) not in self._inputs.standing:
            row = self._inputs.standing.get((of_set, name), Standing(None, None, None))
            return {"low": row.low, "high": row.high, "central": row.value}[end]
        return self._inputs.standing.get((of_set, path), Standing(None, None, None)).value


def check_figure(
    printed: Mapping[str, Any], evidence: Evidence, sets: Mapping[str, Mapping[str, Any]],
    language: str, on_page: Text | None,
) -> FigureCheck:  # fmt: skip
    """Return whether one printed figure of the record holds.

    ``on_page``: what the page says otherwise, if it does.
    """
    key, text = str(printed["key"]), str(printed["text"])
    value, unit = float(printed["value"]), str(printed["unit"])
    scale, quantum = Scale(unit), float(printed["quantum"])
    grouped = bool(printed.get("group"))
    found = _sum(key, evidence)
    why = on_page
    if not _rounds_to(value, text, scale, quantum, grouped, language):
        why = Text(
            N_("the record prints {text}, but its own value rounds to {rounded}"),
            {"text": text, "rounded": _rounded(value, scale, quantum, language)},
        )
    said = _sum_of_record(key, sets)
    if why is None and said is not None and not _close(said, value):
        why = Text(
            N_("the record's figures give {other}, the printed {text}"),
            {"other": _rounded(said, scale, quantum, language), "text": text},
        )
    if found is None:
        if why is None and said is not None:
            why = Text(N_("the evidence gives no such figure"))
    elif why is None and not _rounds_to(found.value, text, scale, quantum, grouped, language):
        why = Text(
            N_("the evidence gives {other}, printed is {text}"),
            {"other": _rounded(found.value, scale, quantum, language), "text": text},
        )
    elif why is None and not found.shown:
        why = Text(N_("the sheet of every figure shows another result than its formula gives"))
    page = printed.get("page")
    return FigureCheck(
        key, _spoken(key, sets), text, unit, page if isinstance(page, int) else None,
        why is None, found is not None and found.recomputed, why,
    )  # fmt: skip


def _sum(key: str, evidence: Evidence) -> Found | None:
    """Return what the evidence gives for a key that may be a sum of figures."""
    whole, recomputed, shown = 0.0, False, True
    for term in _terms(key):
        top = evidence.find(term.of_set, term.path)
        bottom = None if term.over is None else evidence.find(*term.over)
        shown = shown and (top is None or top.shown)
        if top is None or (term.over is not None and (bottom is None or not bottom.value)):
            return None
        whole += term.times * top.value / (bottom.value if bottom else 1.0)
        recomputed = recomputed or top.recomputed
    return Found(whole, recomputed, shown)


def _sum_of_record(key: str, sets: Mapping[str, Mapping[str, Any]]) -> float | None:
    try:
        return sum_of(key, sets)
    except (ValueError, TypeError):
        return None


def _terms(key: str) -> Sequence[Term]:
    try:
        return terms(key)
    except ValueError:
        return (Term("", key),)


def _alike(one: float, other: float) -> bool:
    return abs(one - other) <= 1e-6 * max(1.0, abs(one), abs(other))


def _close(one: float, other: float) -> bool:
    return abs(one - other) <= _SAME * max(1.0, abs(one), abs(other))


def _rounds_to(
    value: float, text: str, scale: Scale, quantum: float, grouped: bool, language: str
) -> bool:
    """Return whether a value prints as a text.

    In reports made before parts were left as they round, one of a group may stand one unit away.
    """
    if scale.unit not in FACTOR or not quantum > 0:
        return False
    exact = value / scale.factor
    if rounded_text(exact, scale.unit, quantum, language) == text:
        return True
    near = _beside(exact / quantum) if grouped else [0] if abs(exact) < quantum / 2 else []
    return any(written_number(n * quantum, decimals(quantum), language) == text for n in near)


def _beside(exact: float) -> list[int]:
    count = steps(exact, 1.0)
    return [n for n in (count - 1, count, count + 1) if abs(n - exact) < 1.0]


def _rounded(value: float, scale: Scale, quantum: float, language: str) -> str:
    if scale.unit not in FACTOR or not quantum > 0:
        return str(value)
    return rounded_text(value / scale.factor, scale.unit, quantum, language)


def _spoken(key: str, sets: Mapping[str, Mapping[str, Any]]) -> str:
    """Return a figure's key with names for places: ``by_material[kitchen scraps].diverted``."""
    out = []
    for term in _terms(key):
        path = term.path
        if get(sets.get(term.of_set, {}), path) is not None:
            try:
                path = find(sets[term.of_set], path).spoken
            except CannotRun:
                path = term.path
        out.append(f"{term.of_set}: {path.removesuffix('.central')}")
    return " + ".join(out)
