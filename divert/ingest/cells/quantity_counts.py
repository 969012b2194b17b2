"""Counted containers in a quantity: 2 totes and 1 pail, 3 x 64 gal, two bins at 3/4."""

from __future__ import annotations

from dataclasses import replace

from divert.ingest.cells.problem import Problem
from divert.ingest.cells.quantity_value import Quantity, unreadable
from divert.ingest.cells.scan import Piece, Trade


def counts_of(amounts: list[Piece], trade: Trade) -> list[Quantity] | Problem:
    """Return the containers that the pieces count, like ones added; a problem where they clash."""
    out: list[Quantity] = []
    waiting: float | None = None
    for piece in amounts:
        if piece.kind == "fill":
            if out and out[-1].fill is None and waiting is None:
                out[-1] = replace(out[-1], fill=piece.amount)
            elif out or waiting is not None:
                return unreadable()
            else:
                waiting = piece.amount
        elif piece.kind == "count":
            counted = _count(piece, trade)
            if isinstance(counted, Problem):
                return counted
            if waiting is not None and counted.fill is None:
                counted, waiting = replace(counted, fill=waiting), None
            apart = not piece.by_word and out and counted.container != out[-1].container
            if (
                out
                and not (piece.link == "" and apart)
                and piece.link
                not in (
                    "+",
                    "and",
                    "et",
                    "plus",
                    "&",
                    ",",
                    ";",
                    ", and",
                    ", et",
                    "/",
                )
            ):
                return unreadable()
            _add(out, counted)
    return out


def _count(piece: Piece, trade: Trade) -> Quantity | Problem:
    if piece.by_word and piece.plural:
        return unreadable()  # "totes": how many?
    fill = float(piece.said[5:]) if piece.said.startswith("fill ") else None
    if piece.size_m3 is None:
        return Quantity(count=piece.amount, container=piece.container, fill=fill)
    sizes = trade.containers.sizes_m3.get(piece.container, ())
    name = trade.containers.of_size(piece.size_m3, piece.container or None)
    if name is not None and (not piece.container or not sizes or name == piece.container):
        return Quantity(count=piece.amount, container=name, fill=fill)
    return Quantity(
        count=piece.amount, volume_m3=piece.amount * piece.size_m3 * (1 if fill is None else fill)
    )


def _add(out: list[Quantity], counted: Quantity) -> None:
    for place, other in enumerate(out):
        if (other.container, other.fill, other.volume_m3) == (
            counted.container,
            counted.fill,
            None,
        ):
            out[place] = replace(other, count=(other.count or 0) + (counted.count or 0))
            return
    out.append(counted)
