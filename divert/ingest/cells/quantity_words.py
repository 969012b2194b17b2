"""The words beside a quantity: a note after it, or something that makes it unclear."""

from __future__ import annotations

import re

from divert.ingest.cells.scan import Piece


def without_note(found: list[Piece]) -> tuple[list[Piece] | None, str, bool]:
    """Part the pieces into amounts and the words around them; None where they cannot be parted."""
    amounts: list[Piece] = []
    before: list[str] = []
    for place, piece in enumerate(found):
        rest = found[place:]
        if piece.kind == "word":
            if not amounts:
                before.append(piece.said)
                continue
            fills = [p for p in rest if p.kind == "fill"]
            if (
                len(fills) == 1
                and amounts[-1].kind == "count"
                and _only_words([p for p in rest if p not in fills])
            ):
                return [*amounts, *fills], _said(before, [p for p in rest if p not in fills]), False
            if any(_explicit(p) for p in rest):
                return None, "", False
            if re.match(r"minus|less|moins|sans|without|under|over|not|pas|or|ou", piece.said):
                return None, "", False
            loose = amounts[-1].kind == "number" and piece.link in ("", ".")
            if loose and len(piece.said) == 1:
                return None, "", False
            return amounts, _said(before, rest), loose
        if piece.by_word and amounts and re.search(r"[-;(,]", piece.link) and _only_words(rest[1:]):
            return amounts, _said(before, rest), False  # "3 - one leaking"
        amounts.append(piece)
    if before and not any(_explicit(p) for p in amounts):
        return None, "", False
    return amounts, " ".join(before), False


def _only_words(rest: list[Piece]) -> bool:
    return bool(rest) and all(p.kind == "word" for p in rest)


def _explicit(piece: Piece) -> bool:
    return piece.kind in ("mass", "volume", "count", "fill")


def _said(before: list[str], rest: list[Piece]) -> str:
    spoken = [(", " if p.link in (",", ";") else " ") + (p.said or f"{p.amount:g}") for p in rest]
    return (" ".join(before) + "".join(spoken)).strip(" .,;-")
