"""What reading the tables adds up to, before it is joined."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np

from divert.core.findings import Finding, Where
from divert.ingest.coded import Part

# file, sheet, row, column, words as found, reason, day; and how many rows, of a range that begins there
SkippedRow = tuple[str, str, int, str, str, str, np.datetime64]
SkippedRows = tuple[str, str, int, str, str, str, np.datetime64, int]


def rows_skipped(skipped: Sequence[SkippedRow | SkippedRows]) -> int:
    """Return how many rows were skipped, ranges with all of theirs."""
    return sum(one[7] if len(one) == 8 else 1 for one in skipped)


@dataclass
class Gathered:
    """What reading adds up: parts of the ledger, rows set aside, rows skipped, findings, asked words."""

    parts: list[Part] = field(default_factory=list)
    set_aside: list[tuple[str, str, int, str, str, str]] = field(default_factory=list)
    skipped: list[SkippedRow | SkippedRows] = field(default_factory=list)
    findings: list[Finding] = field(default_factory=list)
    asked: dict[str, tuple[int, Where, str]] = field(default_factory=dict)
    by_site_dates: list[tuple[int, Where, str]] = field(default_factory=list)
    sourceless: dict[str, tuple[int, Where]] = field(default_factory=dict)
    fates: dict[tuple[str, str], tuple[int, Where]] = field(default_factory=dict)
    much: dict[tuple[str, str], tuple[int, Where]] = field(default_factory=dict)

    def add(self, more: Gathered) -> None:
        """Add what was gathered apart."""
        for name in ("parts", "set_aside", "skipped", "findings", "by_site_dates"):
            getattr(self, name).extend(getattr(more, name))
        for name in ("asked", "sourceless", "fates", "much"):
            mine = getattr(self, name)
            for key, (count, *first) in getattr(more, name).items():
                so_far, *place = mine.get(key, (0, *first))
                mine[key] = (so_far + count, *place)


@dataclass(frozen=True)
class Counted:
    """How many entries of a table were seen, by what became of them."""

    used: int
    set_aside: int
    skipped: int
