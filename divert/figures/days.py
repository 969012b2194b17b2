"""Rows of the ledger between two days, both included."""

from __future__ import annotations

import datetime as dt

import numpy as np
import pandas as pd

from divert.convert.columns import of_names
from divert.figures.stretches import DAY, Mask


def between(ledger: pd.DataFrame, start: dt.date, end: dt.date) -> pd.DataFrame:
    """Return the rows dated between two days, both included."""
    return ledger.iloc[np.flatnonzero(days_between(ledger, start, end))]


def days_between(ledger: pd.DataFrame, start: dt.date, end: dt.date) -> Mask:
    """Return a mask of the rows dated between two days, both included."""
    day = ledger["date"].to_numpy()
    return np.asarray((day >= np.datetime64(start)) & (day < np.datetime64(end + DAY)))


def of_kind(ledger: pd.DataFrame, kind: str, start: dt.date, end: dt.date) -> pd.DataFrame:
    """Return the rows of one kind dated between two days, both included."""
    here = of_names(ledger["kind"], (kind,)) & days_between(ledger, start, end)
    return ledger.iloc[np.flatnonzero(here)]
