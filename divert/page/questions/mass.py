"""The mass that hangs on a finding: that of the entries it speaks of."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from divert.convert.columns import of_names
from divert.core.findings import Finding

if TYPE_CHECKING:
    from divert.convert import Workings

_FIELD = {
    "unknown material": "material",
    "usual fate not stated": "material",
    "condition without a density": "material",
    "measured density outside the published range": "material",
    "unknown source": "source",
    "source not recorded": "source",
    "unknown container": "container",
    "fill not recorded": "container",
    "empty weight not known": "container",
}
# What these ask changes no mass: only what the landfill would have made of it, or nothing at all.
_NO_MASS = frozenset({
    "gas capture not stated", "screening factor far away", "weekly habit broken",
    "outside the ordinary band", "product larger than feed", "money in another currency",
    "contamination exactly zero all year",
})  # fmt: skip


@dataclass(frozen=True, slots=True)
class Hanging:
    """A mass in kg, None where there is none to know; ``rough``: by the weight of usual loads."""

    kg: float | None
    rough: bool = False


def hanging(workings: Workings, findings: Sequence[Finding]) -> Hanging:
    """Return the mass that hangs on findings of one kind."""
    first = findings[0]
    if all(f.mass_kg is not None for f in findings):
        return Hanging(sum(f.mass_kg or 0.0 for f in findings))
    if first.code in _NO_MASS:
        return Hanging(0.0)
    ledger = workings.ledger
    masses = np.nan_to_num(ledger["mass_kg"].to_numpy(dtype=float))
    if first.level == "refused" and first.where.row is None and first.where.sheet is None:
        return Hanging(None)  # a whole file: nobody knows what it holds
    if first.level == "refused":
        return _by_usual_loads(workings, findings, masses)
    if any(_tells_one_of_many(workings, f) for f in findings):
        return _by_usual_loads(workings, findings, masses)
    mask = np.zeros(len(ledger), dtype=bool)
    for finding in findings:
        mask |= _touched(workings, finding)
    return Hanging(float(masses[mask].sum())) if mask.any() else Hanging(None)


def _tells_one_of_many(workings: Workings, finding: Finding) -> bool:
    """Return whether a finding of many lines points at the first of them and says no name of all."""
    return finding.rows > 1 and finding.where.row is not None and _named(workings, finding) is None


def _named(workings: Workings, finding: Finding) -> tuple[str, str] | None:
    field = _FIELD.get(finding.code)
    name = finding.name.split(", ")[0] if finding.code.startswith("condition") else finding.name
    if field and name and name in set(workings.ledger[field].cat.categories):
        return field, name
    return None


def _touched(workings: Workings, finding: Finding) -> np.ndarray:
    ledger = workings.ledger
    if (named := _named(workings, finding)) is not None:
        field, name = named
        mask = of_names(ledger[field], (name,)) & of_names(ledger["kind"], ("intake",))
        if finding.code == "fill not recorded":
            mask &= np.isnan(ledger["fill"].to_numpy(dtype=float))
        return np.asarray(mask)
    where = finding.where
    if where.file is None:
        return np.zeros(len(ledger), dtype=bool)
    mask = of_names(ledger["file"], (where.file,))
    if where.sheet:
        mask &= of_names(ledger["sheet"], (where.sheet,))
    if where.row is not None:
        mask &= ledger["row"].to_numpy() == where.row
        in_column = mask & of_names(ledger["column"], (where.column or "",))
        mask = in_column if in_column.any() else mask
    return np.asarray(mask)


def _by_usual_loads(workings: Workings, findings: Sequence[Finding], masses: np.ndarray) -> Hanging:
    """Return what as many loads usually weigh in that sheet, else anywhere."""
    ledger = workings.ledger
    intake = of_names(ledger["kind"], ("intake",)) & (masses > 0)
    if not intake.any():
        return Hanging(None)
    total = 0.0
    for finding in findings:
        here = intake & _touched_sheet(workings, finding)
        total += finding.rows * float(np.mean(masses[here if here.any() else intake]))
    return Hanging(total, rough=True)


def _touched_sheet(workings: Workings, finding: Finding) -> np.ndarray:
    where = finding.where
    mask = of_names(workings.ledger["file"], (where.file or "",))
    if where.sheet:
        mask &= of_names(workings.ledger["sheet"], (where.sheet,))
    return np.asarray(mask)
