"""A site's own factor file: ``factors.csv`` beside site.toml, every row with its source."""

from __future__ import annotations

import csv
import difflib
import math
from dataclasses import replace
from pathlib import Path
from types import MappingProxyType

from divert.core.findings import CannotRun
from divert.core.words import N_, Text
from divert.factors.model import (
    STANDINGS,
    BuiltInMaterial,
    Factor,
    FactorSet,
    Printed,
    slug,
)
from divert.factors.own_units import in_factor_unit

COLUMNS = ("key", "value", "low", "high", "unit", "source", "standing")
DENSITY_SPREAD = 0.20  # either side, where the file gives a density without its ends
# A new density key closer than this to a known one is a slip of the pen, not a new material.
TOO_CLOSE = 0.9


class _Line:
    """One row of the file; says what is wrong with it and where."""

    def __init__(self, number: int, cells: dict[str, str]) -> None:
        self.number = number
        self.cells = cells

    def refuse(self, message: str, **values: object) -> CannotRun:
        inner = Text(message, values)
        return CannotRun(
            Text(N_("factors.csv, line {line}: {what}"), {"line": self.number, "what": inner})
        )


def with_own(built_in: FactorSet, path: Path) -> FactorSet:
    """Return the built-in set with the rows of a site's factor file laid over it.

    Columns: key, value, low, high, unit, source, standing. ``source`` is required; a blank standing
    counts as memory; blank ends of a density are ± 20 %, of anything else the value itself. Raises
    CannotRun naming the line, what is wrong with it and what would be accepted.
    """
    own: dict[str, Factor] = {}
    for line in _lines(path):
        factor = _own_factor(line, built_in)
        if factor.key in own:
            raise line.refuse(N_("“{key}” is given a second time; keep one row."), key=factor.key)
        own[factor.key] = factor
    kept = tuple(own.get(factor.key, factor) for factor in built_in.all())
    new = tuple(factor for key, factor in own.items() if key not in built_in)
    materials = dict(built_in.materials)
    for factor in new:
        _, material, condition = factor.key.split(".")
        if material not in materials:
            words = material.replace("-", " ")
            materials[material] = BuiltInMaterial(
                material, words, (), "", "", condition.replace("-", " "), ""
            )
    return replace(built_in, factors=kept + new, materials=MappingProxyType(materials))


def _lines(path: Path) -> list[_Line]:
    try:
        raw = path.read_bytes()
    except OSError as problem:
        raise CannotRun(
            Text(N_("factors.csv cannot be read: {why}."), {"why": problem.strerror or ""})
        ) from None
    try:
        text = raw.decode("utf-8-sig")
    except UnicodeDecodeError:
        text = raw.decode("cp1252", errors="replace")
    rows = text.splitlines()
    heading = rows[0] if rows else ""
    comma = ";" if heading.count(";") > heading.count(",") else ","
    reader = csv.DictReader(rows, delimiter=comma)
    names = [(name or "").strip().lower() for name in reader.fieldnames or ()]
    missing = [name for name in ("key", "value", "unit", "source") if name not in names]
    unknown = [name for name in names if name not in COLUMNS]
    if missing or unknown:
        raise CannotRun(
            Text(
                N_("factors.csv: its first line must name the columns {columns}; I found {found}."),
                {"columns": ", ".join(COLUMNS), "found": ", ".join(names) or "—"},
            )
        )
    lines = []
    for cells in reader:
        if None in cells:
            line = _Line(reader.line_num, {})
            raise line.refuse(N_("there are more cells than columns; put quotes around commas."))
        clean = {n: (v or "").strip() for n, v in zip(names, cells.values(), strict=True)}
        if any(clean.values()):
            lines.append(_Line(reader.line_num, clean))
    return lines


def _own_factor(line: _Line, built_in: FactorSet) -> Factor:
    key = line.cells["key"]
    known = built_in.get(key) if key in built_in else None
    if known is None:
        _check_new_key(line, key, built_in)
    source = line.cells["source"]
    if not source:
        raise line.refuse(
            N_("“{key}” has no source; name the document, year and table, or the measurement."),
            key=key,
        )
    standing = line.cells.get("standing", "") or "memory"
    if standing not in STANDINGS:
        raise line.refuse(
            N_("standing “{found}” is not known; use one of {known}."),
            found=standing,
            known=", ".join(STANDINGS),
        )
    unit = known.unit if known else "kg/m3"
    value = _number(line, "value", unit)
    if value is None:
        raise line.refuse(N_("“{key}” has no value."), key=key)
    is_density = key.startswith("density.")
    low, high = _number(line, "low", unit), _number(line, "high", unit)
    spread = DENSITY_SPREAD if is_density else 0.0
    low = value * (1 - spread) if low is None else low
    high = value * (1 + spread) if high is None else high
    _check_values(line, key, unit, (low, value, high))
    typical = Printed(_published(line, "value"), source, "", "", standing)
    ends = [
        replace(typical, as_published=_published(line, end) or (sign if is_density else at_value))
        for end, sign, at_value in (
            ("low", "-20 %", typical.as_published),
            ("high", "+20 %", typical.as_published),
        )
    ]
    return Factor(key, value, low, high, unit, ends[0], typical, ends[1], own=True)


def _published(line: _Line, end: str) -> str:
    number = line.cells.get(end, "")
    return f"{number} {line.cells['unit']}".strip() if number else ""


def _check_new_key(line: _Line, key: str, built_in: FactorSet) -> None:
    keys = [factor.key for factor in built_in.all()]
    parts = key.split(".")
    shaped = len(parts) == 3 and parts[0] == "density" and all(parts[1:])
    if shaped and any(part != slug(part) for part in parts[1:]):
        shaped = False
    near = difflib.get_close_matches(key, keys, n=1, cutoff=TOO_CLOSE if shaped else 0.3)
    if shaped and not near:
        return
    if near:
        raise line.refuse(
            N_("“{key}” is not a known key; the nearest is “{nearest}”."), key=key, nearest=near[0]
        )
    raise line.refuse(
        N_(
            "“{key}” is not a known key; a new one must be density.<material>.<condition>, in "
            "small letters and hyphens."
        ),
        key=key,
    )


def _number(line: _Line, column: str, unit: str) -> float | None:
    text = line.cells.get(column, "")
    if not text:
        return None
    try:
        number = float(text)
        if not math.isfinite(number):
            raise ValueError
    except ValueError:
        raise line.refuse(
            N_("{column} “{found}” is not a number such as 450 or 0.5."), column=column, found=text
        ) from None
    try:
        return number * in_factor_unit(line.cells["unit"], unit)
    except ValueError:
        raise line.refuse(
            N_("unit “{found}” cannot be turned into {unit}."),
            found=line.cells["unit"],
            unit=unit or "—",
        ) from None


def _check_values(line: _Line, key: str, unit: str, ends: tuple[float, float, float]) -> None:
    low, value, high = ends
    if min(ends) <= 0 and key.startswith("density."):
        raise line.refuse(N_("“{key}” must be above zero."), key=key)
    if min(ends) < 0:
        raise line.refuse(N_("“{key}” must not be below zero."), key=key)
    if not low <= value <= high:
        raise line.refuse(
            N_("“{key}”: low, value and high must not fall: {low}, {value}, {high}."),
            key=key,
            low=_cell(line, "low"),
            value=_cell(line, "value"),
            high=_cell(line, "high"),
        )
    if unit in ("share", "kg C per kg wet") and high > 1:
        raise line.refuse(N_("“{key}” is a share and cannot be above 1."), key=key)


def _cell(line: _Line, column: str) -> str:
    return line.cells.get(column, "") or line.cells["value"]
