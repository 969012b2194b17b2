"""Whether a line of a register says what this tool writes: a stranger may have written it."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping
from typing import Any

from divert.register.kept import FIGURES, REPORT

AUDIENCES = ("sponsor", "grant", "board")
_RANGES = ("received", "removed", "residue", "not_claimed", "diverted", "net_avoided")


def check_line(line: Mapping[str, Any]) -> None:
    """Raise KeyError, TypeError or ValueError where a line lacks what is read from it later."""
    if line["audience"] not in AUDIENCES:
        raise ValueError(line["audience"])
    figures = line["figures"]
    for needed in ("period", "total") if line["audience"] == "grant" else ("period",):
        _check_set(figures[needed])
    for one in figures.values():
        _check_set(one)
    fingerprints = line["fingerprints"]
    if not all(isinstance(sha256, str) for sha256 in fingerprints.values()):
        raise TypeError("a fingerprint is no text")
    for needed in (FIGURES, REPORT):
        if needed not in fingerprints:
            raise KeyError(needed)


def _check_set(figures: Mapping[str, Any]) -> None:
    period = figures["period"]
    if not isinstance(period["label"], str):
        raise TypeError(period["label"])
    for end in ("start", "end"):
        dt.date.fromisoformat(period[end])
    for part, needed in (("mass", "received"), ("mass", "diverted"), ("emissions", "net_avoided")):
        if needed not in figures[part]:
            raise KeyError(needed)
        _check_ranges(figures[part])
    for part in ("supplied", "supported"):
        if figures.get(part) is not None:
            _check_ranges(figures[part])


def _check_ranges(amounts: Mapping[str, Any]) -> None:
    for name, amount in amounts.items():
        if name in _RANGES and not all(
            isinstance(amount[end], int | float) for end in ("central", "low", "high")
        ):
            raise TypeError(name)
