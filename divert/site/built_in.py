"""Names that site.toml may use from the data files: materials, classes, fields."""

from __future__ import annotations

import csv
import tomllib
from functools import lru_cache
from pathlib import Path

_MATERIALS = Path(__file__).parents[1] / "factors" / "data" / "materials.csv"
_HEADINGS = Path(__file__).parents[1] / "ingest" / "words" / "headings.toml"


@lru_cache
def _rows() -> tuple[dict[str, str], ...]:
    with _MATERIALS.open(encoding="utf-8", newline="") as file:
        return tuple(csv.DictReader(file))


def material_keys(folder: Path) -> tuple[str, ...]:
    """Return what ``like`` may name: the built-in list and what the site's factors.csv adds."""
    if not (folder / "factors.csv").is_file():
        return tuple(row["key"] for row in _rows())
    from divert.factors import load_factors

    return tuple(load_factors(folder).materials)


def decay_classes() -> tuple[str, ...]:
    """Return the decay classes that materials of the built-in list belong to."""
    return tuple(dict.fromkeys(row["decay_class"] for row in _rows() if row["decay_class"]))


@lru_cache
def fields() -> tuple[str, ...]:
    """Return the fields that [[sheet]] may point at a column."""
    return tuple(tomllib.loads(_HEADINGS.read_text(encoding="utf-8"))["field"])
