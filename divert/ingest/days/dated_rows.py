"""The day of each row of a table, and what is known of it."""

from __future__ import annotations

from dataclasses import dataclass

from divert.ingest.arrays import Bools, Days, Objects


@dataclass
class When:
    """Days by row (NaT: none), why not (a short word, "" where none), and which rows say their own."""

    days: Days
    problem: Objects
    own: Bools
    by_site: Bools
    closed: Bools
    grouped: bool = False
