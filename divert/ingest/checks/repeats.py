"""Rows that may be one load written twice: repeated exactly, or once by weight and once by volume."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
import pandas as pd

from divert.core.findings import Finding
from divert.core.marks import Marks, mixed
from divert.core.words import N_, Text
from divert.ingest.checks.corrections import text_of, where_of
from divert.site.model import Site

_TEXTS = ("kind", "source", "material", "condition", "container", "name", "unit", "destination")
_NUMBERS = (
    "count",
    "fill",
    "volume_m3",
    "mass_kg",
    "gross_kg",
    "removed_kg",
    "removed_share",
    "amount",
)
_EACH = 25  # so many on one sheet are said one by one; more are said together
_PLAUSIBLE_KG_M3 = (
    20.0,
    1200.0,
)  # what one load by weight and by volume could weigh (common practice)


def repeats(entries: pd.DataFrame) -> list[Finding]:
    """Return a query for each row that repeats an earlier one in every field, notes included.

    Rows of one sheet that repeat rows of another are said together.
    """
    marks = _hashes(entries, _TEXTS, _NUMBERS)
    again = pd.Series(marks).duplicated(keep=False).to_numpy()
    if not again.any():
        return []
    places = np.flatnonzero(again)
    notes = entries["note"].to_numpy()[places]
    groups: dict[tuple[int, str], list[int]] = {}
    for place, note in zip(places, notes, strict=True):
        groups.setdefault((int(marks[place]), str(note)), []).append(int(place))
    pairs: dict[tuple[int, int], list[tuple[int, int]]] = {}
    sheet = pd.factorize(
        entries["file"].astype(object) + "!" + entries["sheet"].astype(object).fillna("")
    )[0]
    for members in groups.values():
        for later in members[1:]:
            pairs.setdefault((int(sheet[members[0]]), int(sheet[later])), []).append(
                (members[0], later)
            )
    return [f for (a, b), found in pairs.items() for f in _said(entries, found, apart=a != b)]


def _said(entries: pd.DataFrame, found: list[tuple[int, int]], apart: bool) -> Iterator[Finding]:
    hint = Text(
        N_(
            "If it is one load, delete one row; if it came twice, say so under [[answer]] in site.toml."
        )
    )
    if len(found) > (2 if apart else _EACH):
        first, later = where_of(entries, found[0][0]), where_of(entries, found[0][1])
        name = f"{later.file}!{later.sheet}"
        message = Text(
            N_("Rows here that repeat rows of “{other}” exactly: {rows}; all are counted."),
            {
                "rows": len(found),
                "other": f"{first.file}!{first.sheet}" if first.sheet else str(first.file),
            },
        )
        yield Finding(
            "query",
            "row repeated exactly",
            message,
            later,
            hint,
            str(entries["found"].iat[found[0][1]]),
            len(found),
            name,
        )
        return
    for first_row, row in found:
        message = Text(
            N_("This row says exactly what {place} says; both are counted."),
            {"place": str(where_of(entries, first_row))},
        )
        yield Finding(
            "query",
            "row repeated exactly",
            message,
            where_of(entries, row),
            hint,
            str(entries["found"].iat[row]),
        )


def _hashes(entries: pd.DataFrame, texts: tuple[str, ...], numbers: tuple[str, ...]) -> Marks:
    """Return one number for each row, equal where all the named fields and the day are equal."""
    out = entries["date"].to_numpy().astype("datetime64[s]").astype(np.int64).view(np.uint64).copy()
    for name in texts:
        out = mixed(out, entries[name].cat.codes.to_numpy().astype(np.int64).view(np.uint64))
    for name in numbers:
        value = entries[name].to_numpy()
        if np.isnan(value).all():
            continue
        out = mixed(out, np.where(np.isnan(value), 1e300, value + 0.0).view(np.uint64))
    return out


def weight_and_volume(entries: pd.DataFrame, site: Site) -> list[Finding]:
    """Return a query for each day, source and material logged once by weight and once by volume only."""
    intake = (entries["kind"] == "intake").to_numpy() & (
        entries["source"].cat.codes.to_numpy() >= 0
    )
    weighed = entries["mass_kg"].notna().to_numpy() | entries["gross_kg"].notna().to_numpy()
    sized = entries["count"].notna().to_numpy() | entries["volume_m3"].notna().to_numpy()
    by_weight, by_volume = intake & weighed & ~sized, intake & sized & ~weighed
    if not by_weight.any() or not by_volume.any():
        return []
    keys = _hashes(entries, ("source", "material"), ())
    places = np.flatnonzero(by_weight | by_volume)
    codes, _ = pd.factorize(keys[places])
    heavy = np.bincount(codes, weights=by_weight[places]) == 1
    light = np.bincount(codes, weights=by_volume[places]) == 1
    both = heavy & light
    pairs: dict[int, list[int]] = {}
    for place in places[both[codes]]:
        pairs.setdefault(int(keys[place]), []).append(int(place))
    found = [
        pair
        for a, b in pairs.values()
        if _could_be_one(entries, *(pair := (a, b) if by_weight[a] else (b, a)), site)
    ]
    return list(_told(entries, found))


def _could_be_one(entries: pd.DataFrame, one: int, other: int, site: Site) -> bool:
    """Return whether a row by weight and a row by volume have a density one load could have."""
    net, gross = entries["mass_kg"].to_numpy()[one], entries["gross_kg"].to_numpy()[one]
    if str(where_of(entries, one)) == str(where_of(entries, other)):
        return False  # "2 pails + 10 lb": one cell that says both
    mass = float(gross if np.isnan(net) else net)
    volume = float(entries["volume_m3"].to_numpy()[other])
    if np.isnan(volume):
        sizes = {c.name: c.volume_m3 for c in site.containers}
        size = sizes.get(text_of(entries["container"].iat[other]))
        if size is None:
            return True
        volume = float(entries["count"].to_numpy()[other]) * size
    low, high = _PLAUSIBLE_KG_M3
    return bool(volume > 0 and low <= mass / volume <= high)


def _told(entries: pd.DataFrame, found: list[tuple[int, int]]) -> Iterator[Finding]:
    code = "weight row and volume row of one load"
    hint = Text(
        N_(
            "If they are one load, put both on one row; if not, say so under [[answer]] in site.toml."
        )
    )
    by_sheet: dict[str, list[tuple[int, int]]] = {}
    for pair in found:
        where = where_of(entries, pair[1])
        by_sheet.setdefault(f"{where.file}!{where.sheet}", []).append(pair)
    for name, pairs in by_sheet.items():
        if len(pairs) > _EACH:
            message = Text(
                N_(
                    "Days and sources with one row by weight and one by volume: {rows}; both are counted."
                ),
                {"rows": len(pairs)},
            )
            yield Finding(
                "query",
                code,
                message,
                where_of(entries, pairs[0][1]),
                hint,
                str(entries["found"].iat[pairs[0][1]]),
                len(pairs),
                name,
            )
            continue
        for heavy, row in pairs:
            message = Text(
                N_(
                    "This may be the load that {place} weighs (“{found}”): same day, source and "
                    "material. Both are counted."
                ),
                {"place": str(where_of(entries, heavy)), "found": str(entries["found"].iat[heavy])},
            )
            yield Finding(
                "query", code, message, where_of(entries, row), hint, str(entries["found"].iat[row])
            )
