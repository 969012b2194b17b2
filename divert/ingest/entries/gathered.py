"""What reading the tables adds up to, before it is joined."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field

import numpy as np

from divert.core.findings import Finding, Where
from divert.ingest.coded import Part

AsideRow = tuple[str, str, int, str, str, str]  # file, sheet, row, column, words as found, code
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
    set_aside: list[AsideRow] = field(default_factory=list)
    skipped: list[SkippedRow | SkippedRows] = field(default_factory=list)
    findings: list[Finding] = field(default_factory=list)
    asked: dict[str, tuple[int, Where, str]] = field(default_factory=dict)
    by_site_dates: list[tuple[int, Where, str]] = field(default_factory=list)
    sourceless: dict[str, tuple[int, Where]] = field(default_factory=dict)
    fates: dict[tuple[str, str], tuple[int, Where]] = field(default_factory=dict)
    much: dict[tuple[str, str], tuple[int, Where]] = field(default_factory=dict)

    def moved(
        self,
        part: Callable[[Part], Part],
        aside: Callable[[AsideRow], AsideRow],
        skipped: Callable[[SkippedRow | SkippedRows], SkippedRow | SkippedRows | None],
        finding: Callable[[Finding], Finding],
        where: Callable[[Where], Where],
    ) -> Gathered:
        """Return the same with each place in another sheet, less the skipped rows that have none there."""
        return Gathered(
            parts=[part(one) for one in self.parts],
            set_aside=[aside(one) for one in self.set_aside],
            skipped=[there for one in self.skipped if (there := skipped(one)) is not None],
            findings=[finding(one) for one in self.findings],
            asked={k: (n, where(w), t) for k, (n, w, t) in self.asked.items()},
            by_site_dates=[(n, where(w), t) for n, w, t in self.by_site_dates],
            sourceless={k: (n, where(w)) for k, (n, w) in self.sourceless.items()},
            fates={k: (n, where(w)) for k, (n, w) in self.fates.items()},
            much={k: (n, where(w)) for k, (n, w) in self.much.items()},
        )

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
