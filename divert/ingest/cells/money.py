"""Money: $12.50 · 12,50 $ · USD 40 · 1,250."""

from __future__ import annotations

import math
import re
from dataclasses import dataclass

from divert.core.words import N_, Text
from divert.ingest.cells.number import even, take_number
from divert.ingest.cells.problem import Problem
from divert.ingest.lexicon import bare

SIGNS = {"€": "EUR", "eur": "EUR", "euros": "EUR", "euro": "EUR", "£": "GBP", "gbp": "GBP",
         "usd": "USD", "us$": "USD",
         "cad": "CAD", "ca$": "CAD", "c$": "CAD", "$": "", "dollars": "", "dollar": ""}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Money:
    """An amount; ``currency`` is "" where only a dollar sign, or nothing, names it."""

    amount: float
    currency: str = ""


def unreadable() -> Problem:
    """Return the problem of a cell that holds no amount of money."""
    return Problem("quantity unreadable", Text(N_("Write one amount, such as 12.50.")))


_SIGN = re.compile("|".join(re.escape(s) for s in sorted(SIGNS, key=len, reverse=True)))


def read_cell(value: object) -> Money | Problem:
    """Return the money a cell names."""
    if isinstance(value, bool):
        return unreadable()
    if isinstance(value, int | float):
        return Money(float(value)) if math.isfinite(value) else unreadable()
    if not isinstance(value, str):
        return unreadable()
    text = bare(even(value))
    signs = [SIGNS[m] for m in _SIGN.findall(text)]
    text = _SIGN.sub(" ", text).strip()
    negative = text.startswith("-")
    try:
        taken = take_number(text, len(text) - len(text.lstrip("- ")))
    except ValueError:
        return unreadable()
    if taken is None or text[taken[1] :].strip():
        return unreadable()
    return Money(-taken[0] if negative else taken[0], next((s for s in signs if s), ""))
