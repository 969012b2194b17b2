"""What a column for what became of loads says of one: "ok", or "Yes - glass" under "Rejected"."""

from __future__ import annotations

import re
from collections.abc import Callable
from functools import lru_cache

from divert.core.names import plain
from divert.ingest.cells import mark
from divert.ingest.known import row_kinds
from divert.ingest.lexicon import bare, phrases, words
from divert.ingest.sheet import as_text

IN = "in"
_AGAINST, _FOR = re.compile(r"\b(?:reject|refus|rejet)"), re.compile(r"\b(?:accept|ok\b)")


def reads_status(heading: str) -> Callable[[object], str]:
    """Return what tells of a cell under a heading what it says of its load.

    As :func:`mark.of_a_load` does, or IN where it came in; "" where the cell does not say.
    """
    asked = plain(heading)
    against, favour = _AGAINST.search(asked) is not None, _FOR.search(asked) is not None
    refused = "rejected" if "accept" in asked or against else ""  # what is not ok may have come in
    if against and favour:
        verdicts = {True: "", False: ""}
    else:
        verdicts = {True: "rejected", False: IN} if against else {True: IN, False: refused}

    def read(cell: object) -> str:
        text = as_text(cell) if isinstance(cell, str | int | float) else ""
        if said := mark.of_a_load(text):
            return said
        word = plain(text)
        if row_kinds().get(word) == "rejected":
            return "rejected"
        if (answered := answer_of(text)) is not None:
            yes, more = answered
            return "" if _tells_how_much(more) or mark.of_a_load(more) else verdicts[yes]
        if mark.read_start(text):
            return "" if favour else IN  # accepted: none
        return IN if word in _let_in() or row_kinds().get(word) else ""

    return read


def is_asked(heading: str) -> bool:
    """Return whether a heading asks whether a load came in."""
    asked = plain(heading)
    return _AGAINST.search(asked) is not None or _FOR.search(asked) is not None


def answer_of(text: str) -> tuple[bool, str] | None:
    """Return whether a text begins with yes or no, and what it says behind it; None where with neither."""
    said = re.match(r"\W*(\w+)\W*(.*)", bare(text), re.S)
    if said is None:
        return None
    for name, yes in (("yes", True), ("no", False)):
        if said[1] in words("marks")[name]:
            return yes, said[2]
    return None


@lru_cache
def _let_in() -> frozenset[str]:
    return frozenset(plain(w) for w in words("marks")["accepted"])


@lru_cache
def _amounts() -> re.Pattern[str]:
    some = (w for w in words("marks")["unknown"] if w[0].isalpha())
    return re.compile(
        rf"\d|\b(?:{phrases([*words('numbers')['value'], *words('fills')['value'], *some])}|part\w*)\b"
    )


def _tells_how_much(text: str) -> bool:
    """Return whether the words behind an answer may say that it is true of a part of the load."""
    return _amounts().search(text) is not None
