"""How much of what is claimed rests on an assumed fate."""

from __future__ import annotations

import datetime as dt

import numpy as np
import numpy.typing as npt

from divert.convert.columns import of_names
from divert.convert.workings import Workings
from divert.figures.contract import AssumedFate
from divert.figures.days import days_between
from divert.site.model import CLAIMED


def assumed_fate(
    workings: Workings, start: dt.date, end: dt.date, of: npt.NDArray[np.bool_] | None = None
) -> AssumedFate | None:
    """Return how much claimed intake (kg) nobody has stated the fate of; None where none is claimed.

    ``of``: a mask of the ledger's rows to look at, such as a sponsor's own.
    """
    ledger = workings.ledger
    claimed = days_between(ledger, start, end) & of_names(ledger["kind"], ("intake",))
    claimed &= of_names(ledger["before"], CLAIMED)
    if of is not None:
        claimed &= of
    mass = ledger["mass_kg"].to_numpy()
    whole = float(mass[claimed].sum())
    if whole <= 0:
        return None
    assumed = float(mass[claimed & ledger["fate_assumed"].to_numpy(dtype=bool)].sum())
    return AssumedFate(whole, assumed, assumed / whole)
