"""How each column was taken, on one line: a month of days is said once, and a missing heading is named."""

from __future__ import annotations

from collections.abc import Iterable
from itertools import groupby

from divert.core.column_words import column_said
from divert.core.words import N_, Text

_RUN = 4  # columns alike, side by side, that are said as one
Taken = tuple[str, str, str]  # letter, heading, and what the column was taken to be


def columns_line(columns: Iterable[Taken], language: str = "en") -> str:
    """Return "A “Date” = date; B–AF “1” … “31” = quantity".

    English says a field by its key in site.toml; another language by its name there, as the page does.
    """
    said = []
    for (_, taken), group in groupby(columns, key=lambda c: (c[1].isdecimal(), c[2])):
        run = list(group)
        what = taken if language == "en" else column_said(taken).say(language)
        numbered = len(run) >= _RUN and run[0][1].isdecimal()
        if numbered:
            ends = f"{_head(run[0][1], language)} … {_head(run[-1][1], language)}"
            said.append(f"{run[0][0]}–{run[-1][0]} {ends} = {what}")
        else:
            said += [f"{letter} {_head(head, language)} = {what}" for letter, head, _ in run]
    return Text(N_("; ")).say(language).join(said)


def _head(head: str, language: str) -> str:
    quoted = Text(N_("“{heading}”"), {"heading": head})
    return (quoted if head else Text(N_("(no heading)"))).say(language)
