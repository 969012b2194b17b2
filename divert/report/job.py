"""One report to be made: for whom, with which figures, under which file name."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal

from divert.figures import Figures
from divert.report.history import History

Audience = Literal["sponsor", "grant", "board"]


@dataclass(frozen=True, slots=True)
class Job:
    """A report before it is set.

    ``name`` is the sponsor's or the grant's ("" for a board); ``stem`` the file name without its
    ending; ``sets`` the figures by set ("period", and "total" for a grant); ``number`` what it is
    issued under, "" where it is not.
    """

    audience: Audience
    name: str
    stem: str
    sets: Mapping[str, Figures]
    history: History = field(default_factory=History)
    number: str = ""

    @property
    def figures(self) -> Figures:
        """Return the figures of the period itself."""
        return self.sets["period"]
