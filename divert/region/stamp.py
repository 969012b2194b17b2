"""What two addends must have in common before their sum means anything."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass, fields


@dataclass(frozen=True, slots=True)
class Stamp:
    """How an addend was worked out.

    ``version`` of divert, ``factors`` the fingerprint of the published numbers that all yards share,
    ``draws`` their number, the days from ``start`` to ``end`` and the day that counted as today.
    """

    version: str
    factors: str
    draws: int
    label: str
    start: dt.date
    end: dt.date
    as_of: dt.date

    def differs(self, other: Stamp) -> str:
        """Return what differs from another stamp, for the message of a refusal."""
        return ", ".join(
            f"{f.name}: {getattr(self, f.name)} and {getattr(other, f.name)}"
            for f in fields(self)
            if getattr(self, f.name) != getattr(other, f.name)
        )
