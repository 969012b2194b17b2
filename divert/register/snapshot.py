"""The ledger, settings and factors of a day as plain files, and back without losing a bit."""

from __future__ import annotations

import io
import json
from pathlib import Path

import pandas as pd

from divert.core.ledger import CARRIED, COLUMNS, text_columns, tidy
from divert.factors import Band, BuiltInMaterial, Factor, FactorSet, ScreeningFactor
from divert.register.plain import from_plain, to_plain
from divert.site.model import Site


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


def settings_json(site: Site) -> bytes:
    """Return the settings as they were understood, as JSON (site.toml is kept as it was written)."""
    plain = {k: v for k, v in to_plain(site).items() if k != "folder"}
    return json.dumps(plain, ensure_ascii=False, indent=1).encode()


def settings_of(data: bytes, folder: Path) -> Site:
    """Return the site of :func:`settings_json`, in a folder."""
    return from_plain(Site, {**json.loads(data), "folder": str(folder)})


def factors_json(factors: FactorSet) -> bytes:
    """Return a factor set as JSON, with every source."""
    plain = {
        "factors": to_plain(factors.factors),
        "materials": to_plain(tuple(factors.materials.values())),
        "bands": to_plain(tuple(factors.bands.values())),
        "screening": to_plain(factors.screening),
        "stand_ins": [[*pair, row] for pair, row in sorted(factors.stand_ins.items())],
    }
    return json.dumps(plain, ensure_ascii=False, indent=1).encode()


def factors_of(data: bytes) -> FactorSet:
    """Return the factor set of :func:`factors_json`."""
    plain = json.loads(data)
    return FactorSet(
        from_plain(tuple[Factor, ...], plain["factors"]),
        {m["key"]: from_plain(BuiltInMaterial, m) for m in plain["materials"]},
        {b["key"]: from_plain(Band, b) for b in plain["bands"]},
        from_plain(tuple[ScreeningFactor, ...], plain["screening"]),
        {(set_, class_): row for set_, class_, row in plain["stand_ins"]},
    )
