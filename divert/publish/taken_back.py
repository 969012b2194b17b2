"""A report that was sent is taken back, and none replaces it: it is said why."""

from __future__ import annotations

import datetime as dt
from pathlib import Path

from divert.core.findings import CannotRun
from divert.core.words import N_, Text
from divert.register import withdraw


def take_back(folder: Path, number: str, on: dt.date, reason: str) -> None:
    """Withdraw the report of a number, for a reason in a few words. Raises CannotRun."""
    if not number:
        raise CannotRun(Text(N_("Say which report is withdrawn, by its number.")))
    if not reason.strip():
        raise CannotRun(Text(N_("Say in a few words why it is withdrawn.")))
    withdraw(folder, number, on, reason.strip())
