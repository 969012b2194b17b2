"""What the sum of a period does not hold: open questions about files and sheets that touch it."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable
from dataclasses import dataclass

from divert.core.findings import Finding


@dataclass(frozen=True, slots=True)
class Absent:
    """A file or sheet that is missing, unreadable, cut, copied or not understood, and unanswered.

    ``about`` is what an answer names; ``what`` a code of findings; ``start`` and ``end`` the days it
    touches, None where nobody can know; ``mass_kg`` the mass that hangs on it, None likewise.
    """

    about: str
    what: str
    file: str
    sheet: str
    start: dt.date | None
    end: dt.date | None
    mass_kg: float | None


def absent_from(findings: Iterable[Finding], start: dt.date, end: dt.date) -> tuple[Absent, ...]:
    """Return what the figures of some days do not hold, the largest mass first."""
    found = [
        Absent(
            f.about, f.code, f.where.file or "", f.where.sheet or "",
            f.days[0] if f.days else None, f.days[1] if f.days else None, f.mass_kg,
        )
        for f in findings
        if f.blocks and f.answer is None and touches(f, start, end)
    ]  # fmt: skip
    return tuple(sorted(found, key=lambda a: (-(a.mass_kg or 0.0), a.about)))


def touches(finding: Finding, start: dt.date, end: dt.date) -> bool:
    """Return whether a finding may bear on some days: by its own, or because nobody knows them."""
    return finding.days is None or (finding.days[0] <= end and start <= finding.days[1])
