"""Loads heavier than any vehicle carries: a code, or a number in the wrong column or unit."""

from __future__ import annotations

import numpy as np
import pandas as pd

from divert.convert.bands import System, quantity
from divert.convert.places import LISTED, each_row
from divert.core.findings import Finding, Level
from divert.core.words import N_, Text

# Common practice: no lorry on a public road carries more than about 50 t, and no yard that keeps
# its log in a spreadsheet takes in 1,000 t on one line of it.
ASKED_KG = 50_000.0
REFUSED_KG = 1_000_000.0
LIGHTEST_KG_M3 = 100.0  # where only a volume is known; the lightest leaves weigh about as much
CODE = "larger than any load"


def enormous(
    ledger: pd.DataFrame, system: System = "us"
) -> tuple[pd.Series[bool], list[Finding], list[Finding]]:
    """Return a mask of entries too large to be true, their findings, and queries on the large ones.

    ``ledger``: net_kg, volume_m3 and each row's place and words. An entry of more than
    1,000 t is refused; one of more than 50 t counts and is asked about.
    """
    least = np.fmax(
        np.abs(ledger["net_kg"].to_numpy(dtype=float)),
        LIGHTEST_KG_M3 * np.abs(ledger["volume_m3"].to_numpy(dtype=float)),
    )
    refused = least > REFUSED_KG
    large = (least > ASKED_KG) & ~refused
    mask = pd.Series(refused, index=ledger.index, dtype=bool)
    told = _said(ledger[refused], least[refused], "refused", CODE, system)
    return mask, told, _said(ledger[large], least[large], "query", "load above 50 tonnes", system)


def _said(
    rows: pd.DataFrame, masses: np.ndarray, level: Level, code: str, system: System
) -> list[Finding]:
    said = [
        (Text(N_("This would be at least {mass} on one line, more than any vehicle carries."),
              {"mass": quantity(float(kg), "kg", system)}),
         Text(N_("Look whether it is a code or another column's number; else answer that it is right.")))
        for kg in masses[:LISTED]
    ]  # fmt: skip
    return each_row(level, code, rows, said)
