"""The ledger and the factors of a day as plain files, and back again without losing a bit."""

from __future__ import annotations

import dataclasses
import io
import json
from typing import Any

import pandas as pd

from divert.factors import Band, BuiltInMaterial, Factor, FactorSet, ScreeningFactor
from divert.factors.model import Printed
from divert.ledger import CARRIED, COLUMNS, text_columns, tidy


def ledger_csv(entries: pd.DataFrame) -> bytes:
    """Return the entries as CSV: every column, numbers in full, so that they read back the same."""
    columns = [c for c in COLUMNS + CARRIED if c in entries]
    plain = entries[columns].copy()
    plain["date"] = plain["date"].dt.strftime("%Y-%m-%d")
    return bytes(plain.to_csv(index=False, lineterminator="\n").encode())


def ledger_of(csv: bytes) -> pd.DataFrame:
    """Return the entries of :func:`ledger_csv` as a ledger frame."""
    text = dict.fromkeys(text_columns(), str)
    frame = pd.read_csv(
        io.BytesIO(csv),
        dtype=text,
        keep_default_na=False,
        na_values={c: [""] for c in (*COLUMNS, *CARRIED) if c not in ("note", "found")},
        float_precision="round_trip",
    )
    return tidy(frame)


def factors_json(factors: FactorSet) -> bytes:
    """Return a factor set as JSON, with every source."""
    plain = {
        "factors": [dataclasses.asdict(f) for f in factors.factors],
        "materials": [dataclasses.asdict(m) for m in factors.materials.values()],
        "bands": [dataclasses.asdict(b) for b in factors.bands.values()],
        "screening": [dataclasses.asdict(s) for s in factors.screening],
        "stand_ins": [[*pair, row] for pair, row in sorted(factors.stand_ins.items())],
    }
    return json.dumps(plain, ensure_ascii=False, indent=1).encode()


def factors_of(data: bytes) -> FactorSet:
    """Return the factor set of :func:`factors_json`."""
    plain = json.loads(data)
    return FactorSet(
        tuple(_with_printed(Factor, f) for f in plain["factors"]),
        {m["key"]: BuiltInMaterial(**{**m, "also": tuple(m["also"])}) for m in plain["materials"]},
        {b["key"]: _band(b) for b in plain["bands"]},
        tuple(_with_printed(ScreeningFactor, s) for s in plain["screening"]),
        {(set_, class_): row for set_, class_, row in plain["stand_ins"]},
    )


def _with_printed(kind: Any, values: dict[str, Any]) -> Any:
    return kind(**{k: Printed(**v) if isinstance(v, dict) else v for k, v in values.items()})


def _band(values: dict[str, Any]) -> Band:
    ends = {k: tuple(v) if isinstance(v, list) else v for k, v in values.items()}
    made: Band = _with_printed(Band, ends)
    return made
