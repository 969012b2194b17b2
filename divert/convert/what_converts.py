"""A sheet whose entries make the conversion fail is left out by name, and costs no other sheet anything."""

from __future__ import annotations

import os
from collections.abc import Callable
from dataclasses import replace
from typing import TypeVar

import numpy as np
import pandas as pd

from divert.core.checked import DEBUG, without_failing
from divert.core.findings import CannotRun, Finding, Where
from divert.core.ledger import sheets_of
from divert.core.reading import SET_ASIDE_COLUMNS, Reading
from divert.core.words import N_, Text

Result = TypeVar("Result")
CODE = "file unreadable"


def with_what_converts(reading: Reading, convert: Callable[[Reading], Result]) -> Result:
    """Return a reading converted; where that fails, without the sheets that make it fail.

    The rows of those are set aside. Raises what ``convert`` raised where no sheet alone is at fault.
    """
    try:
        return convert(reading)
    except CannotRun:
        raise
    except Exception as problem:
        if os.environ.get(DEBUG):
            raise
        failing, rest = without_failing(
            lambda entries: convert(replace(reading, entries=entries)), reading.entries
        )
        if not failing:
            raise
        return convert(_without(reading, rest, failing, problem))


def _without(
    reading: Reading, rest: pd.DataFrame, failing: list[Where], problem: Exception
) -> Reading:
    out = {(where.file or "", where.sheet or "") for where in failing}
    number, sheets_met = sheets_of(reading.entries)
    gone = np.array([pair in out for pair in sheets_met], dtype=bool)[number]
    places = reading.entries.loc[gone, ["file", "sheet", "row", "column", "found"]]
    rows = places.astype(object).fillna("").assign(code=CODE)[list(SET_ASIDE_COLUMNS)]
    sheets = tuple(
        replace(s, used=0, set_aside=s.set_aside + s.used) if (s.file, s.sheet) in out else s
        for s in reading.sheets
    )
    return replace(
        reading,
        entries=rest,
        set_aside=pd.concat([reading.set_aside, rows], ignore_index=True),
        findings=(*reading.findings, *(_failed(where, problem) for where in failing)),
        sheets=sheets,
    )


def _failed(where: Where, problem: Exception) -> Finding:
    return Finding(
        "refused", CODE,
        Text(N_("What this sheet says made the calculation fail ({problem}), so all of it is left out; "
                "the others were counted."), {"problem": f"{type(problem).__name__}: {problem}"[:200]}),
        where,
        Text(N_("Look for an entry in it that cannot be so; with --debug the same command shows what "
                "failed.")),
        name=str(where), blocks=True,
    )  # fmt: skip
