"""How much of a figure each line of evidence makes: a recipe taken apart line by line."""

from __future__ import annotations

import math

import numpy as np
import numpy.typing as npt

from divert.evidence.book import Book, in_year, value_of
from divert.evidence.factor_rows import fee_key
from divert.evidence.recipe import Avoided, Fee, MethaneIn, Node, Op, Other, Recipe, Total
from divert.figures.stretches import TRACE

Floats = npt.NDArray[np.float64]


def shares_of(recipe: Recipe, book: Book) -> Floats:
    """Return what each line adds to a figure, in the figure's unit; they add up to it.

    Of a fraction, the lines of the upper side are shown, each over the whole lower side.
    """
    return _shares(recipe.node, recipe, book)


def _shares(node: Node, recipe: Recipe, book: Book) -> Floats:
    lines = book.lines
    if isinstance(node, Total):
        mask = book.matching(node.where, book.inside(recipe))
        return np.where(mask, np.nan_to_num(lines[node.column].to_numpy(dtype=float)), 0.0)
    if isinstance(node, Other):
        other = book.others(node.path)
        return np.zeros(len(lines)) if other is None else shares_of(other, book)
    if isinstance(node, Avoided | MethaneIn):
        return _by_class(node, recipe, book)
    if isinstance(node, Fee):
        fee = {p.landfill: book.values.get(fee_key(p.landfill), 0.0) for p in book.processes}
        rate = lines["landfill"].map(fee).fillna(0.0).to_numpy(dtype=float)
        return np.where(book.inside(recipe), lines["diverted"].to_numpy() * rate, 0.0)
    if isinstance(node, Op):
        return _operation(node, recipe, book)
    return np.zeros(len(lines))


def _by_class(node: Avoided | MethaneIn, recipe: Recipe, book: Book) -> Floats:
    mask = book.inside(recipe)
    if isinstance(node, Avoided):
        mask = book.matching(node.where, mask)
    years = book.lines["date"].dt.year.to_numpy()
    out = np.zeros(len(book.lines))
    for one in book.classes:
        made = book.per_kg(one)
        if isinstance(node, Avoided):
            rate = np.full(len(out), getattr(made, node.per_kg))
        else:
            rate = np.array([made.released_ch4 * in_year(made.rate, node.year - y) for y in years])
        out += np.where(mask & book.of_class(one), book.lines["diverted"].to_numpy() * rate, 0.0)
    return out


def _operation(node: Op, recipe: Recipe, book: Book) -> Floats:
    parts = [_shares(part, recipe, book) for part in node.parts]
    if node.sign == "+":
        return np.asarray(np.sum(parts, axis=0))
    if node.sign == "-":
        return np.asarray(parts[0] - np.sum(parts[1:], axis=0))
    values = [value_of(Recipe(recipe.start, recipe.end, part), book) for part in node.parts]
    if node.sign == "max":
        return parts[int(np.argmax(values))]
    if node.sign == "/":
        bottom = math.prod(values[1:])
        return np.asarray(parts[0] / bottom if abs(bottom) >= TRACE else np.zeros_like(parts[0]))
    # A product: the lines of its first part that has any, times all the others.
    for place, share in enumerate(parts):
        if share.any():
            return np.asarray(share * math.prod(v for n, v in enumerate(values) if n != place))
    return np.zeros(len(book.lines))
