"""Headings that count or name containers: "Totes", "# of pails", "Full bins", "Cart A"."""

from __future__ import annotations

import re
from dataclasses import replace
from functools import lru_cache

from divert.ingest.cells.fill import read_cell as read_fill
from divert.ingest.cells.problem import Problem
from divert.ingest.cells.unit import read_cell
from divert.ingest.known import Known
from divert.ingest.lexicon import bare
from divert.ingest.tables.heading import Heading
from divert.ingest.tables.heading_words import less_filler, norm, phrases

_COUNTED_BEFORE = re.compile(
    r"^(?:#|n°|(?:no\.?|number|numero|nb\.?|nbre?|nombre|how many|combien|count|qty|qte|quantity"
    r"|quantite|total)(?!\w))"
    r"\s*(?:of(?!\w)|de(?!\w)|d'|des(?!\w))?\s*"
)

_COUNTED_AFTER = re.compile(
    r"\s*(?:#|count|qty|qte|received|delivered|collected|in|filled|sold|harvested|picked up|"
    r"recus?|vendus?|tally|tallied|tallies|pointage|no\.?|n°|number|numero|id)$"
)

# "Bin #", "Cart number", "No de bac": which of them it was; of several, how many there were
_WHICH = re.compile(
    r"(?:#|\b(?:no|number|numero|id)\.?|n°)$|^(?:no\.?|n°|numero) (?:of |de |d'|du )"
)

_ANY_BOX = ("container", "conteneur", "contenant")


@lru_cache(maxsize=16384)  # a heading is tried by each of its words and pairs of words
def box_of(rest: str, known: Known) -> Heading | None:
    """Return a heading that counts or names containers: "Totes", "# of pails", "5 gal pails"."""
    text = _COUNTED_AFTER.sub("", _COUNTED_BEFORE.sub("", bare(rest))).strip()
    if text and not text.endswith(("s", "x")) and _WHICH.search(bare(rest)):
        return Heading(field="id", said=True)
    sized = re.fullmatch(r"(\d+(?:\.\d+)?)[\s-]*([a-z³.\s]+?)[\s-]+(.+)", text)
    unit = read_cell(sized[2], known.trade.meaning) if sized else None
    size_m3 = (
        float(sized[1]) * unit.factor if sized and unit and unit.dimension == "volume" else None
    )
    own = known.containers.find(text)
    if own is not None:
        return Heading(field="count", container=own, size_m3=None)
    named = known.containers.take(sized[3] if sized and size_m3 else text, 0)
    if named is None or named[1] < len(sized[3] if sized and size_m3 else text):
        return None
    if size_m3 is not None:
        fits = known.containers.of_size(size_m3, named[0])
        return Heading(field="count", container=fits or named[0], size_m3=None if fits else size_m3)
    if named[0] in _ANY_BOX:  # "Containers": how many, or which, as what stands under it tells
        return Heading(field="container", said=True)
    return Heading(field="count", container=named[0])


def numbered_box(text: str, known: Known) -> Heading | None:
    """Read "Cart A" as one of several carts, no count of carts; "Loads (totes)" as a count of totes."""
    one = re.fullmatch(r"([^\W\d_]+) #?[A-H]", text)
    box = box_of(one[1], known) if one and not one[1].endswith(("s", "x")) else None
    if box is not None and box.field == "count":
        return Heading(text, label=text)
    inner = re.fullmatch(
        r"(?:loads?|containers?|count|chargements?|contenants?) *[(\[]([^()]+)[)\]]", bare(text)
    )
    box = box_of(inner[1], known) if inner else None
    return replace(box, text=text) if box is not None and box.field == "count" else None


def labelled_boxes(rest: str, known: Known) -> Heading | None:
    """Return a heading such as "Hotel - totes", "Copper Ladle (pails)" or "Totes of leaves"."""
    tokens = re.sub(r"[-–—,:;/|()\[\]]+", " ", rest).split()
    for size in (3, 2, 1):
        if len(tokens) <= size:
            continue
        for at in (len(tokens) - size, 0):
            inner = box_of(" ".join(tokens[at : at + size]), known)
            if inner is None or inner.field != "count":
                continue
            left = tokens[:at] + tokens[at + size :]
            label = left if known.names(" ".join(left)) else less_filler(left)
            if any(t[0].isdigit() or t[0] in "½¼¾~" for t in left):
                continue  # "3 totes" counts, it heads nothing
            said = phrases()[0].get(norm(" ".join(left)))
            if known.names(" ".join(left)) or said is None:
                return replace(inner, label=" ".join(label))
            if said == "quantity":
                return inner  # "Bacs roulants ramassés": a shorter name within is another box
    return None


def filled_boxes(text: str, known: Known) -> Heading | None:
    """Return a heading such as "Full totes" or "Bacs à moitié pleins"; not "Tote full?", which asks."""
    tokens = re.sub(r"[()\[\]]+", " ", text).split()
    for size in (1, 2, 3):
        for at in (len(tokens) - size, 0):
            inner = box_of(" ".join(tokens[at : at + size]), known) if len(tokens) > size else None
            many = tokens[at + size - 1].casefold().endswith(("s", "x")) if inner else False
            if inner is None or inner.field != "count" or not many or "?" in text:
                continue
            full = read_fill(" ".join(tokens[:at] + tokens[at + size :]))
            if not isinstance(full, Problem) and full > 0:
                return replace(inner, fill=full)
    return None
