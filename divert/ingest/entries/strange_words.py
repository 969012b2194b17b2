"""What is said of a word in an amount that is no unit and no container: the nearest known one."""

from __future__ import annotations

import difflib
import re
from functools import lru_cache

from divert.core.words import N_, Text
from divert.ingest.cells.number import take_number
from divert.ingest.cells.slips import unit_names
from divert.ingest.cells.unit import Meaning, read_cell
from divert.ingest.known import Known
from divert.ingest.lexicon import bare, words

_WORD = re.compile(r"[^\W\d_]{2,}")
_FIELDS = ("quantity", "count", "volume", "weight", "gross", "container", "unit", "fill", "")

_LONGEST = 40  # characters; longer texts are sentences


@lru_cache
def _fill_words() -> tuple[str, ...]:
    said = (*words("fills")["value"], *words("fills")["parts"])
    return tuple(w for w in said if w.isalpha() and len(w) > 2)


def with_word(message: Text, hint: Text, found: str, field: str, known: Known) -> tuple[Text, Text]:
    """Return (message, hint), with the word of an amount that nobody told us of where there is one."""
    if re.fullmatch(r"\d[\d.,]*(?: \d[\d.,]*)+", found.strip()):
        return message, Text(N_("If these are two amounts, write each load on a row of its own."))
    counted = field == "fill" or any(c.isdigit() for c in found)
    if field not in _FIELDS or len(found) > _LONGEST or not counted:
        return message, hint
    for word in _WORD.findall(bare(found)):
        if known.containers.find(word) or read_cell(word, Meaning()) or take_number(word):
            continue
        near = _nearest(word, field, known)
        if near:
            return message, Text(N_("Did you mean “{near}”?"), {"near": near})
    strange = re.fullmatch(r"\s*[\d.,/ ]+\s*([^\W\d_]{3,})\s*", found)
    if strange and not known.containers.find(strange[1]) and field in ("quantity", "count", ""):
        return (
            Text(N_("“{word}” is no unit that I know, and not a container in site.toml."),
                 {"word": strange[1]}),
            Text(N_("Add it to site.toml under [[container]], or correct the sheet.")),
        )  # fmt: skip
    return message, hint


def _nearest(word: str, field: str, known: Known) -> str | None:
    if field == "fill":
        close = difflib.get_close_matches(word, _fill_words(), n=1, cutoff=0.75)
        return close[0] if close else None
    box = known.containers.nearest(word)
    if box:
        return box
    if len(word) <= 3:  # one letter off: "ib", "kgg", "ibs"
        short = [u for u in ("lb", "kg", "lbs", "gal") if len(u) == len(word)]
        off = {u: sum(a != b for a, b in zip(u, word, strict=True)) for u in short}
        near = next((u for u, letters in off.items() if letters == 1), None)
        if near or len(word) == 2:
            return near
    close = difflib.get_close_matches(word, unit_names(), n=1, cutoff=0.8)
    return close[0] if close else None
