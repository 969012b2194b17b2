"""Reads the data files of published numbers, and a site's own over them."""

from __future__ import annotations

import csv
from collections.abc import Iterator
from functools import lru_cache
from pathlib import Path
from types import MappingProxyType

from divert.factors.model import (
    STANDINGS,
    Band,
    BuiltInMaterial,
    Factor,
    FactorSet,
    Printed,
    ScreeningFactor,
)

DATA = Path(__file__).parent / "data"
# Files with one printed number a row: key, end (low, typical, high), value, unit, as published ...
NUMBERS = ("densities", "decay", "landfill", "composting", "warming", "fuels", "worms")
Row = dict[str, str]


def load_factors(site_folder: Path | None = None) -> FactorSet:
    """Return every published number, with the site's own ``factors.csv`` laid over them.

    Raises CannotRun where the site's file cannot be used, naming its line and what would be.
    """
    built_in = _built_in()
    if site_folder is None or not (site_folder / "factors.csv").is_file():
        return built_in
    from divert.factors.own import with_own

    return with_own(built_in, site_folder / "factors.csv")


@lru_cache
def _built_in() -> FactorSet:
    documents = {row["id"]: (row["title"], row["year"]) for row in _rows("documents")}

    def printed(row: Row, as_published: str) -> Printed:
        title, year = documents[row["document"]]
        standing = row["standing"]
        if standing not in STANDINGS:
            raise ValueError(f"{row}: unknown standing")
        note = row.get("note", "")
        place = row["place"]
        return Printed(as_published, title, year, place, standing, note)

    ends: dict[str, dict[str, tuple[float, str, Printed]]] = {}
    for name in NUMBERS:
        for row in _rows(name):
            end = (float(row["value"]), row["unit"], printed(row, row["as_published"]))
            ends.setdefault(row["key"], {})[row["end"]] = end
    bands = {row["key"]: _band(row, printed(row, row["as_published"])) for row in _rows("bands")}
    return FactorSet(
        factors=tuple(_factor(key, by_end) for key, by_end in ends.items()),
        materials=MappingProxyType({row["key"]: _material(row) for row in _rows("materials")}),
        bands=MappingProxyType(bands),
        screening=tuple(_screening(row, printed(row, "")) for row in _rows("screening")),
        stand_ins=MappingProxyType(
            {(row["set"], row["class"]): row["stands_in"] for row in _rows("screening_stand_ins")}
        ),
    )


def _rows(name: str) -> Iterator[Row]:
    with (DATA / f"{name}.csv").open(encoding="utf-8", newline="") as file:
        yield from csv.DictReader(file)


def _factor(key: str, by_end: dict[str, tuple[float, str, Printed]]) -> Factor:
    value, unit, typical = by_end["typical"]
    low, _, low_printed = by_end.get("low", by_end["typical"])
    high, _, high_printed = by_end.get("high", by_end["typical"])
    return Factor(key, value, low, high, unit, low_printed, typical, high_printed)


def _material(row: Row) -> BuiltInMaterial:
    also = [name for name in (row["also"] + "|" + row["also_fr"]).split("|") if name]
    return BuiltInMaterial(
        row["key"],
        row["name"],
        tuple(also),
        row["decay_class"],
        row["usual_fate"],
        row["default_condition"],
        row["screening"],
    )


def _band(row: Row, printed: Printed) -> Band:
    def end(column: str) -> float:
        return float(row[column])

    ordinary = (end("ordinary_low"), end("ordinary_high"))
    return Band(row["key"], ordinary, (end("ask_low"), end("ask_high")), row["unit"], printed)


def _screening(row: Row, printed: Printed) -> ScreeningFactor:
    return ScreeningFactor(
        row["set"],
        row["class"],
        float(row["landfilled"]),
        float(row["composted"]) if row["composted"] else None,
        row["landfilled_as_published"],
        row["composted_as_published"],
        row["gwp"],
        printed,
    )
