"""Marks: cells that stand for something instead of saying it: n/a, -, closed, none, ditto, void."""

from __future__ import annotations

import re
from functools import lru_cache
from typing import Literal, get_args

from divert.ingest.lexicon import bare, phrases, words

Mark = Literal["ditto", "closed", "nothing", "unknown", "void", "rejected"]
_MARKS: tuple[Mark, ...] = get_args(Mark)
_WHOLE_ONLY = 3  # a mark this short must be the whole cell: "na", "so", "nd" begin other words


@lru_cache
def _lists() -> tuple[dict[str, Mark], dict[str, Mark], tuple[tuple[re.Pattern[str], Mark], ...]]:
    lists = words("marks")
    signs: dict[str, Mark] = {}
    signs |= dict.fromkeys(lists["ditto_signs"], "ditto")
    signs |= dict.fromkeys(lists["nothing_signs"], "nothing")
    whole: dict[str, Mark] = {}
    begins: list[tuple[re.Pattern[str], Mark]] = []
    for kind in _MARKS:
        for phrase in lists[kind]:
            whole.setdefault(_stripped(bare(phrase)), kind)
        if kind in ("closed", "nothing", "void", "rejected"):
            longer = [bare(p) for p in lists[kind] if len(p) > _WHOLE_ONLY]
            joined = "|".join(map(re.escape, sorted(longer, key=len, reverse=True)))
            begins.append((re.compile(rf"(?:{joined})(?!\w)"), kind))
    return signs, whole, tuple(begins)


_WRAPS = " .!:;,()[]{}*'\"-"


@lru_cache
def _first_four() -> frozenset[str]:
    """Return what the longer marks begin with, so that ordinary text is passed over quickly."""
    lists = words("marks")
    return frozenset(bare(p)[:4] for kind in _MARKS for p in lists[kind])


def _stripped(text: str) -> str:
    return text.strip(f"{_WRAPS}?") if text.strip("?") else text


@lru_cache(maxsize=65536)
def read_cell(text: str) -> Mark | None:
    """Return the mark that a whole cell is, or None where it says something else."""
    signs, whole, _ = _lists()
    sign = signs.get(text.strip())
    return sign or whole.get(_stripped(bare(text)))


@lru_cache(maxsize=65536)
def read_start(text: str) -> Mark | None:
    """Return the mark that a text begins with ("closed for the holiday", "rejected: plastic")."""
    if text.isascii() and len(text) > 8 and text.lstrip(_WRAPS)[:4].casefold() not in _first_four():
        return None
    mark = read_cell(text)
    if mark is not None:
        return mark
    plain = _stripped(bare(text[:60]))
    for pattern, kind in _lists()[2]:
        if pattern.match(plain):
            return kind
    return None


# Every phrase of the lists must hold one of these; ordinary text is passed over quickly by them.
_MAY_BE_TOTAL = (
    "tot", "ttl", "sum", "somme", "min", "max", "mean", "ave", "avg", "moy", "med", "ytd", "year",
    "cumul", "running", "forward", "report", "count", "all", "toute",
)  # fmt: skip


@lru_cache
def _totals() -> tuple[frozenset[str], re.Pattern[str], tuple[str, ...], re.Pattern[str]]:
    """Return whole labels, what others begin with, and what they end with, as texts and as a pattern."""
    lists = words("marks")
    ends = tuple(sorted(map(bare, lists["total_word"]), key=len, reverse=True))
    joined = "|".join(map(re.escape, ends))
    edge = rf"(?:(?:grand|monthly|weekly|daily|annual|yearly|quarterly)\s+)?(?:{joined})"
    whole = frozenset(bare(w) for w in lists["total"])
    return whole, re.compile(rf"{edge}(?!\w)"), ends, re.compile(rf"(?<!\w)(?:{joined})\Z")


@lru_cache(maxsize=65536)
def is_total_label(text: str) -> bool:
    """Return whether a cell labels its row as a total, subtotal, average or the like."""
    if len(text) > 80:
        return False
    plain = bare(text)
    for part in _MAY_BE_TOTAL:
        if part in plain:
            break
    else:
        return False
    plain = _stripped(plain)
    if len(plain) > 60:
        return False
    whole, begins, ends, ended = _totals()
    if plain in whole or begins.match(plain):
        return True
    return (
        plain.endswith(ends) and ended.search(plain) is not None
    )  # most texts end in no such word


@lru_cache
def _no_load() -> re.Pattern[str]:
    said = phrases(words("marks")["no_load"])
    return re.compile(rf"(?:^|[,;.(:–—]|\s-)\s*(?:{said})(?!\w)")


@lru_cache
def _twice() -> re.Pattern[str]:
    return re.compile(rf"(?:{phrases(words('marks')['twice'])})(?!\w)")


@lru_cache(maxsize=65536)
def of_a_load(text: str) -> str:
    """Return what a note or a status says of the load beside it: "rejected", "void", "twice" (it is
    entered elsewhere too), "no load" (it is not ours, or counted already), or ""."""
    mark = read_start(text)
    if mark in ("rejected", "void"):
        plain = _stripped(bare(text[:60]))
        return "twice" if mark == "void" and _twice().match(plain) else str(mark)
    return "no load" if len(text) <= 200 and _no_load().search(bare(text)) else ""


@lru_cache
def _remark() -> re.Pattern[str]:
    lists = words("marks")
    begin, end = (phrases(lists[name]) for name in ("remark", "remark_end"))
    return re.compile(rf"(?:{begin})(?!\w).*|.*(?<!\w)(?:{end})")


@lru_cache(maxsize=4096)
def is_remark(text: str) -> bool:
    """Return whether words where a date should stand speak of the log: "Goal for March", "Days"."""
    return len(text) <= 60 and _remark().fullmatch(_stripped(bare(text))) is not None
