"""The tidy ledger as CSV: the published columns, masses found, one row per used entry."""

from __future__ import annotations

import pandas as pd

from divert.core.ledger import COLUMNS, text_columns
from divert.core.safe_files import as_text_cell


def ledger_csv(ledger: pd.DataFrame) -> str:
    """Return the ledger's published columns as CSV text (kg, m³; text can never act as a formula)."""
    out = ledger[list(COLUMNS)].copy()
    for column in text_columns():
        if column in out:
            text = out[column].astype(object)
            out[column] = text.map(as_text_cell, na_action="ignore")
    out["date"] = out["date"].dt.strftime("%Y-%m-%d")
    return str(out.to_csv(index=False, lineterminator="\n"))
