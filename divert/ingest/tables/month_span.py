"""The span of months that a title names: "July 2023 - June 2024", "de septembre 2023 à mai 2024"."""

from __future__ import annotations

import re

from divert.ingest.cells.date import Day, month_words
from divert.ingest.lexicon import bare

_MONTH_OF_YEAR = re.compile(r"([a-z]+)\.?,? ?(?:de )?(?:(20\d\d)|'(\d\d))(?!\d)")
_NUMBERS = re.compile(r"(?<![\d/-])(0?[1-9]|1[0-2])/(20\d\d)(?![\d/])")


def month_span(text: str) -> tuple[Day, Day] | None:
    """Return the first and the last month of a span whose ends both have their year."""
    plain = bare(text).replace("’", "'").replace("‘", "'")
    named = [
        (int(found[2] or f"20{found[3]}"), month_words()[found[1]])
        for found in _MONTH_OF_YEAR.finditer(plain)
        if found[1] in month_words()
    ]
    ends = named or [(int(found[2]), int(found[1])) for found in _NUMBERS.finditer(plain)]
    if len(ends) != 2 or ends[0] >= ends[1]:
        return None
    return Day(ends[0][0], ends[0][1], None), Day(ends[1][0], ends[1][1], None)
