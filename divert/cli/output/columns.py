"""How each column was taken, on one line: a month of days is said once, and a missing heading is named."""

from __future__ import annotations

from collections.abc import Iterable
from itertools import groupby

from divert.core.words import N_, Text

_RUN = 4  # columns alike, side by side, that are said as one
Taken = tuple[str, str, str]  # letter, heading, and what the column was taken to be


def columns_line(columns: Iterable[Taken]) -> str:
    """Return "A “Date” = date; B–AF “1” … “31” = quantity"."""
    said = []
    for (_, what), group in groupby(columns, key=lambda c: (c[1].isdecimal(), c[2])):
        run = list(group)
        numbered = len(run) >= _RUN and run[0][1].isdecimal()
        if numbered:
            said.append(f"{run[0][0]}–{run[-1][0]} “{run[0][1]}” … “{run[-1][1]}” = {what}")
        else:
            said += [f"{letter} {_head(head)} = {what}" for letter, head, _ in run]
    return "; ".join(said)


def _head(head: str) -> str:
    return f"“{head}”" if head else str(Text(N_("(no heading)")))
