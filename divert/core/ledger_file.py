"""A ledger as a CSV file, and back without losing a bit."""

from __future__ import annotations

import io

import pandas as pd

from divert.core.ledger import CARRIED, COLUMNS, text_columns, tidy


def ledger_csv(entries: pd.DataFrame) -> bytes:
    """Return the entries as CSV: every column, numbers in full, so that they read back the same."""
    columns = [c for c in COLUMNS + CARRIED if c in entries]
    plain = entries[columns].copy()
    plain["date"] = plain["date"].dt.strftime("%Y-%m-%d")
    return bytes(plain.to_csv(index=False, lineterminator="\n").encode())


def ledger_of(csv: bytes) -> pd.DataFrame:
    """Return the entries of :func:`ledger_csv` as a ledger frame."""
    frame = pd.read_csv(io.BytesIO(csv), dtype=str, keep_default_na=False)
    for name in frame:
        if name in text_columns():
            frame[name] = frame[name].where((frame[name] != "") | (name in ("note", "found")))
        elif name != "date":
            # Python's own reading of a float is exact to the last bit.
            frame[name] = [float(text) if text else None for text in frame[name]]
    return tidy(frame)
