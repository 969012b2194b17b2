"""What a cell reader returns where it cannot give a value: one named problem."""

from __future__ import annotations

from dataclasses import dataclass

from divert.core.words import Text


@dataclass(frozen=True, slots=True)
class Problem:
    """Why a cell could not be read: a code of :data:`divert.core.findings.REFUSED` and what to do."""

    code: str
    hint: Text
