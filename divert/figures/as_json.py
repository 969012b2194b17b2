"""Figures and findings as JSON: the keys are a contract, to which keys may be added and none renamed."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping
from dataclasses import fields, is_dataclass
from typing import Any

from divert.core.findings import Finding
from divert.core.range import Range
from divert.figures.contract import Figures, Part

_RENAMED = {"yield_": "yield", "class_": "class"}
_PART_NAME = {"by_material": "material", "by_source": "source"}
_OF_SPONSOR = ("sponsor", "supplied", "supported")
_MOST_KEPT = 2_000  # parts of figures; those of a period are some fifty


def to_json(
    figures: Figures, kept: dict[tuple[str, int], tuple[Any, Any]] | None = None
) -> dict[str, Any]:
    """Return the figures as the plain object of the contract (floats, strings, lists, None).

    ``kept`` holds the parts that no sponsor changes, from one call to the next: such a part is the same
    object for each, and what it becomes is then only to be read.
    """
    if kept is None:
        return dict(_plain(figures, ""))
    if len(kept) > _MOST_KEPT:
        kept.clear()
    out = {}
    for f in fields(figures):
        value = getattr(figures, f.name)
        if f.name in _OF_SPONSOR:
            plain = _plain(value, f.name)
        elif (f.name, id(value)) in kept:  # the value is held beside it: no other takes its place
            plain = kept[f.name, id(value)][1]
        else:
            plain = _plain(value, f.name)
            kept[f.name, id(value)] = value, plain
        out[_RENAMED.get(f.name, f.name)] = plain
    return out


def _plain(value: Any, key: str) -> Any:
    if isinstance(value, Finding):
        return finding_json(value)
    if isinstance(value, Part):
        name = _PART_NAME.get(key, "name")
        rest = {f.name: _plain(getattr(value, f.name), f.name) for f in fields(value)[1:]}
        return {name: value.name, **rest}
    if isinstance(value, Range):
        return _range(value)
    if is_dataclass(value) and not isinstance(value, type):
        return {
            _RENAMED.get(f.name, f.name): _plain(getattr(value, f.name), f.name)
            for f in fields(value)
        }
    if isinstance(value, Mapping):
        return {str(k): _plain(v, str(k)) for k, v in value.items()}
    if isinstance(value, tuple | list):
        return [_plain(v, key) for v in value]
    if isinstance(value, dt.date):
        return value.isoformat()
    return value


def _range(value: Range) -> dict[str, float]:
    ends = {"central": value.central, "low": value.low, "high": value.high}
    return ends if value.mean is None else {**ends, "mean": value.mean}


def finding_json(finding: Finding) -> dict[str, Any]:
    """Return a finding as the plain object of the contract."""
    where = finding.where
    return {
        "level": finding.level,
        "code": finding.code,
        "where": {
            "file": where.file,
            "sheet": where.sheet,
            "row": where.row,
            "column": where.column,
        },
        "message": str(finding.message),
        "hint": None if finding.hint is None else str(finding.hint),
        "found": finding.found,
        "rows": finding.rows,
        "answer": finding.answer,
        "about": finding.about,
        "mass_kg": finding.mass_kg,
        "days": None if finding.days is None else [day.isoformat() for day in finding.days],
        "blocks": finding.blocks,
    }
