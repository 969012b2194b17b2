"""Checks that fail are said, by the sheet they fail on, and never end the run.

A check that raises has found nothing out. What it would have found of the other sheets is still
looked for; the sheets it fails on are named, and no report is issued before somebody has looked.
"""

from __future__ import annotations

import os
from collections.abc import Callable, Sequence
from typing import TypeVar

import numpy as np
import pandas as pd

from divert.core.findings import CannotRun, Finding, Where
from divert.core.words import N_, Text

DEBUG = "DIVERT_DEBUG"  # set: what fails is raised, so that it can be seen where
CODE = "check not made"
Result = TypeVar("Result")


def checked(
    code: str, check: Callable[[pd.DataFrame], Sequence[Finding]], entries: pd.DataFrame
) -> list[Finding]:
    """Return what a check finds among entries; where it fails, what it finds without those sheets.

    ``code``: what is looked for, one of CODES. The sheets it fails on are findings of their own.
    """
    try:
        return list(check(entries))
    except CannotRun:
        raise
    except Exception as problem:
        if os.environ.get(DEBUG):
            raise
        failing, rest = without_failing(check, entries)
        try:
            found = list(check(rest)) if failing else []
        except Exception:
            found, failing = [], []
        return [*not_made(code, problem, failing, entries), *found]


def tried(
    code: str,
    step: Callable[[pd.DataFrame], Result],
    entries: pd.DataFrame,
    otherwise: Callable[[], Result],
    told: list[Finding],
) -> Result:
    """Return what a step makes of entries; where it fails, ``otherwise``, and add that to ``told``."""
    try:
        return step(entries)
    except CannotRun:
        raise
    except Exception as problem:
        if os.environ.get(DEBUG):
            raise
        told += not_made(code, problem, without_failing(step, entries)[0], entries)
        return otherwise()


def without_failing(
    step: Callable[[pd.DataFrame], object], entries: pd.DataFrame
) -> tuple[list[Where], pd.DataFrame]:
    """Return the sheets on whose entries alone a step fails, and the entries of all others."""
    failing: list[Where] = []
    kept = np.ones(len(entries), dtype=bool)
    for where, rows in _by_sheet(entries):
        try:
            step(_numbered(entries.iloc[rows], entries))
        except Exception:
            failing.append(where)
            kept[rows] = False
    return failing, _numbered(entries[kept], entries)


def _numbered(part: pd.DataFrame, entries: pd.DataFrame) -> pd.DataFrame:
    """Return a part numbered anew where the whole is numbered from nought."""
    return part.reset_index(drop=True) if isinstance(entries.index, pd.RangeIndex) else part.copy()


def not_made(
    code: str, problem: Exception, failing: Sequence[Where], entries: pd.DataFrame
) -> list[Finding]:
    """Return the findings of a check that failed: one for each sheet it fails on, else for all."""
    places = list(failing) or [where for where, _ in _by_sheet(entries)] or [Where()]
    return [
        Finding(
            "refused", CODE,
            Text(N_("I could not look for this here, for the check itself failed ({problem}): {what}."),
                 {"problem": f"{type(problem).__name__}: {problem}"[:200], "what": Text(code)}),
            where,
            Text(N_("Look for it yourself before you rely on the figures; with --debug the same command "
                    "shows what failed.")),
            name=": ".join(part for part in (code, str(where)) if part), blocks=True,
        )
        for where in places
    ]  # fmt: skip


def _by_sheet(entries: pd.DataFrame) -> list[tuple[Where, np.ndarray]]:
    names = [entries[name].astype(object).fillna("") for name in ("file", "sheet")]
    sheets: dict[tuple[str, str], list[int]] = {}
    for row, (file, sheet) in enumerate(zip(*names, strict=True)):
        sheets.setdefault((str(file), str(sheet)), []).append(row)
    return [(Where(f or None, s or None), np.array(rows)) for (f, s), rows in sheets.items()]
