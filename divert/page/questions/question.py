"""A question, its answers, and the edits of site.toml that each answer is."""

from __future__ import annotations

import datetime as dt
import hashlib
from collections.abc import Callable, Mapping
from dataclasses import dataclass

from divert.core.findings import Finding
from divert.core.words import Text
from divert.site.change import Edit

_MANY = 4  # lines of a column that say more of the column than of themselves


@dataclass(frozen=True, slots=True)
class Signed:
    """Who answers, and on which day."""

    by: str
    on: dt.date


@dataclass(frozen=True, slots=True)
class Field:
    """Something an answer must know: ``choices`` pairs what is written with how it is said."""

    name: str
    label: Text
    value: str = ""
    choices: tuple[tuple[str, Text | str], ...] = ()
    hint: Text | None = None
    required: bool = True


Makes = Callable[[Mapping[str, str], Signed], tuple[Edit, ...]]


@dataclass(frozen=True, slots=True)
class Choice:
    """One answer. ``makes`` gives its edits, None where nothing is written at all.

    ``needs`` are asked for first; ``usual`` marks the answer that most will give.
    """

    key: str
    label: Text
    makes: Makes | None
    needs: tuple[Field, ...] = ()
    usual: bool = False


@dataclass(frozen=True, slots=True)
class Question:
    """One thing to be settled.

    ``mass_kg`` hangs on it (None where no mass is known); ``rough`` where that is only what as many
    ordinary loads would weigh. ``findings`` are those that it stands for, ``counted`` whether what it
    is about counts meanwhile.
    """

    title: Text
    why: Text
    findings: tuple[Finding, ...]
    choices: tuple[Choice, ...]
    mass_kg: float | None = None
    rough: bool = False
    advice: Text | None = None

    @property
    def first(self) -> Finding:
        """Return the finding that stands for all."""
        return self.findings[0]

    @property
    def counted(self) -> bool:
        """Return whether what it is about counts meanwhile."""
        return self.first.level != "refused"

    @property
    def rows(self) -> int:
        """Return how many lines it is about."""
        return sum(f.rows for f in self.findings)

    @property
    def of_one_column(self) -> bool:
        """Return whether many lines of one column do not count: then it may hold something else."""
        columns = {(f.where.file, f.where.sheet, f.where.column) for f in self.findings}
        known = self.first.where.file is not None and self.first.where.column is not None
        return known and not self.counted and self.rows >= _MANY and len(columns) == 1

    @property
    def key(self) -> str:
        """Return a short name that stays the same from reading to reading."""
        about = f"{self.first.level} {self.first.code} {self.first.about}"
        return hashlib.sha256(about.encode()).hexdigest()[:12]

    def choice(self, key: str) -> Choice | None:
        """Return the answer of a name."""
        return next((c for c in self.choices if c.key == key), None)
