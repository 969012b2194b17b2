"""The inventory as a file of ours in the site folder, written whole or not at all.

JSON that a person can read: each file with its fingerprint, sheets, days and mass by month. The
entries themselves lie packed beside them (zlib, base64), for the comparison row by row.
"""

from __future__ import annotations

import base64
import binascii
import datetime as dt
import json
import zlib
from dataclasses import asdict
from pathlib import Path
from typing import Any

import numpy as np

from divert.core.findings import CannotRun
from divert.core.safe_files import write_text
from divert.core.words import N_, Text
from divert.inventory.model import FileKept, Held, Inventory, Settled, SheetKept
from divert.inventory.names import MOST_BYTES, NAME

_FORM = 1
_TYPES = {
    "mark": "<u8", "named": "<u8", "kind": "<u1", "day": "<i4", "mass_kg": "<f8",
    "removed_kg": "<f8", "sheet": "<u2",
}  # fmt: skip


def read_inventory(folder: Path) -> Inventory | None:
    """Return what the folder held when it was last read, None where nobody has read it yet.

    Raises CannotRun where the file is there and is not what this tool wrote.
    """
    path = folder / NAME
    try:
        if path.is_symlink() or not path.is_file():
            return None
        if path.stat().st_size > MOST_BYTES:
            raise ValueError("too large")
        return _inventory(json.loads(path.read_text(encoding="utf-8")))
    except (OSError, ValueError, KeyError, TypeError, RecursionError, zlib.error) as problem:
        raise CannotRun(
            Text(N_("{path} cannot be read: it is damaged, or was written by another version. Bring "
                    "back an older copy of it; or delete it, and what is missing since it was "
                    "written will not be noticed."), {"path": str(path)})
        ) from problem  # fmt: skip


def write_inventory(folder: Path, inventory: Inventory) -> bool:
    """Write the inventory where it says anything new; return whether the folder could be written."""
    path = folder / NAME
    text = _text(inventory)
    try:
        if path.is_file() and path.read_text(encoding="utf-8") == text:
            return True
        write_text(path, text)
    except (CannotRun, OSError, ValueError):
        return False
    return True


def _text(inventory: Inventory) -> str:
    files = [_file_out(inventory.files[name]) for name in sorted(inventory.files)]
    value = {
        "what": "What divert read in this folder, so that it notices what is missing. Keep it.",
        "form": _FORM,
        "as_of": inventory.as_of.isoformat(),
        "settled": [asdict(s) | {"read_on": s.read_on.isoformat()} for s in inventory.settled],
    }
    lines = [f"{_json(name)}: {_json(said)}" for name, said in value.items()]
    lines.append('"files": [\n' + ",\n".join(map(_json, files)) + "\n]")  # a file a line
    return "{\n" + ",\n".join(lines) + "\n}\n"


def _json(value: object) -> str:
    return json.dumps(value, ensure_ascii=False, allow_nan=False)


def _file_out(kept: FileKept) -> dict[str, Any]:
    mass = np.nan_to_num(kept.held.mass_kg)
    months, place = np.unique(kept.held.month, return_inverse=True)
    sums = np.bincount(place, weights=mass, minlength=len(months))
    return {
        "file": kept.file,
        "sha256": kept.sha256,
        "size": kept.size,
        "read_on": kept.read_on.isoformat(),
        "sheets": [asdict(s) for s in kept.sheets],
        "mass_kg_by_month": {
            str(np.datetime64(int(m), "M")): round(float(kg), 6)
            for m, kg in zip(months, sums, strict=True)
        },
        "entries": _packed(kept.held),
    }


def _packed(held: Held) -> dict[str, str]:
    arrays = {name: getattr(held, name).astype(kind).tobytes() for name, kind in _TYPES.items()}
    return {
        name: base64.b64encode(zlib.compress(data, _LEVELS.get(name, 1))).decode()
        for name, data in arrays.items()
    }


_LEVELS = {"mark": 0, "named": 0}  # as random as can be: packing them saves a fiftieth of the file


def _unpacked(packed: dict[str, str]) -> Held:
    arrays = {}
    for name, kind in _TYPES.items():
        try:
            data = zlib.decompress(base64.b64decode(packed[name], validate=True))
        except binascii.Error as problem:
            raise ValueError(name) from problem
        arrays[name] = np.frombuffer(data, dtype=kind).astype(kind[1:])
    if len({len(a) for a in arrays.values()}) != 1:
        raise ValueError("entries of several lengths")
    return Held(**arrays)


def _inventory(value: dict[str, Any]) -> Inventory:
    if value["form"] != _FORM:
        raise ValueError("another version")
    files = {}
    for one in value["files"]:
        sheets = tuple(SheetKept(**sheet) for sheet in one["sheets"])
        files[str(one["file"])] = FileKept(
            str(one["file"]), str(one["sha256"]), int(one["size"]),
            dt.date.fromisoformat(one["read_on"]), sheets, _unpacked(one["entries"]),
        )  # fmt: skip
    settled = tuple(
        Settled(**{**one, "read_on": dt.date.fromisoformat(one["read_on"])})
        for one in value["settled"]
    )
    return Inventory(dt.date.fromisoformat(value["as_of"]), files, settled)
