"""Lines that somebody said are left out for good: they wait for nobody any more."""

from __future__ import annotations

from collections import Counter
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from divert.convert import Workings

Line = tuple[str, str, int]  # file, sheet, row


def left_out(workings: Workings) -> frozenset[Line]:
    """Return the lines that were refused, and of which all that was asked is answered."""
    answered: set[Line] = set()
    still_open: set[Line] = set()
    for finding in workings.findings:
        where = finding.where
        if finding.level == "refused" and where.row is not None:
            line = (where.file or "", where.sheet or "", where.row)
            (still_open if finding.answer is None else answered).add(line)
    return frozenset(answered - still_open)


def left_by_sheet(workings: Workings) -> Counter[tuple[str, str]]:
    """Return how many of the lines set aside are left out for good, by file and sheet."""
    lines = left_out(workings)
    if not lines:
        return Counter()
    aside = workings.set_aside
    places = zip(aside["file"], aside["sheet"], aside["row"], strict=True)
    return Counter(
        (str(file), str(sheet or "")) for file, sheet, row in places
        if (str(file), str(sheet or ""), int(row)) in lines
    )  # fmt: skip
