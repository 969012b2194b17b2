"""What can be shown of a figure that no sum makes: entries that are counted, weigh-ins, a source."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping
from typing import Any

import numpy as np
import pandas as pd

from divert.convert import Workings
from divert.core.period import Period
from divert.evidence.derived import derive
from divert.evidence.factor_rows import Numbers, numbers, published
from divert.evidence.lines import CHARGED, lines_of
from divert.factors import slug
from divert.figures.figure_path import find
from divert.trace.parts import TraceFactor, TraceRow, factor_of, rows_of

_IN_KG_PER_M3 = ("value", "low", "high")
Shown = tuple[tuple[TraceRow, ...], tuple[TraceFactor, ...]]


def standing(
    workings: Workings, figures: Mapping[str, Any], path: str, derived: pd.DataFrame,
    known: Numbers, period: Period,
) -> Shown:  # fmt: skip
    """Return the rows and factors behind a figure that stands as a value, as far as there are any."""
    kind, _, rest = path.partition(".")
    kind = kind.split("[")[0]
    if kind == "rows":
        return _counted(workings, rest), ()
    if kind == "weeks":
        day = derived["date"].to_numpy().astype("datetime64[D]")
        inside = (day >= np.datetime64(period.start)) & (day <= np.datetime64(period.end))
        loads = derived["kind"].isin(["intake", "rejected", "moved"]).to_numpy()
        return rows_of(np.where(inside & loads, 1.0, 0.0), derived), ()
    item = find(figures, path.rsplit(".", 1)[0]).value if "[" in path else None
    if kind in ("participation", "process_log", "stock"):
        return rows_of(np.where(_of_the_yard(kind, item, derived, period), 1.0, 0.0), derived), ()
    if kind == "factors" and item is not None:
        return (), tuple(factor_of(one, None) for one in known.rows if one.key == item["key"])
    if kind == "densities" and item is not None:
        return _density(workings, item, path.rpartition(".")[2], derived, known)
    return (), ()


def _of_the_yard(
    kind: str, item: Mapping[str, Any] | None, derived: pd.DataFrame, period: Period
) -> np.ndarray:
    """Return a mask of the lines that a counted figure of the yard looks at."""
    day = derived["date"].to_numpy().astype("datetime64[D]")
    what = derived["kind"]
    if kind == "stock":
        return np.asarray((day <= np.datetime64(period.end)) & what.isin(["intake", "harvest"]))
    here = (day >= np.datetime64(period.start)) & (day <= np.datetime64(period.end))
    if item is None:
        return np.zeros(len(derived), dtype=bool)
    if kind == "process_log":
        return np.asarray(here & (what == "process") & (derived["name"] == item["pile"]))
    month = day.astype("datetime64[M]") == np.datetime64(item["month"], "M")
    return np.asarray(here & month & (what == "intake"))


def _density(
    workings: Workings, item: Mapping[str, Any], which: str, derived: pd.DataFrame, known: Numbers
) -> Shown:
    """Return a density's number, and each weigh-in's part of it: its mass over all their volume.

    Of what is said about the density (``which``): the weigh-ins counted, or the published number.
    """
    if which in ("published_low", "published_high"):
        return (), _published(workings, item)
    same = [
        one
        for one in known.rows
        if one.unit == "kg/m3" and np.isclose(one.value, item["value"], rtol=1e-12, atol=0)
    ]
    keys = [one.key for one in same if one.measured]
    taught = (derived["teaches"].isin(keys) & (derived["material"] == item["material"])).to_numpy()
    volume = float(derived["volume_m3"][taught].sum())
    parts = derived["net_kg"].fillna(0.0).to_numpy() / volume if volume else 0.0
    rows = rows_of(np.where(taught, parts if which in _IN_KG_PER_M3 else 1.0, 0.0), derived)
    return rows, tuple(factor_of(one, None) for one in same)


def _published(workings: Workings, item: Mapping[str, Any]) -> tuple[TraceFactor, ...]:
    """Return the published density whose range a density is held against."""
    return tuple(
        factor_of(published(one.key, workings.factors), None)
        for one in workings.factors.factors
        if one.key.startswith("density.")
        and one.key.endswith(f".{slug(item['condition'])}")
        and (one.low, one.high) == (item["published_low"], item["published_high"])
    )


def _counted(workings: Workings, which: str) -> tuple[TraceRow, ...]:
    """Return the lines of the spreadsheets that a count counts, one each, whatever their day."""
    out: tuple[TraceRow, ...] = ()
    if which in ("used", "seen"):
        lines = lines_of(workings, dt.date.max)
        known = numbers(workings, lines)
        derived = derive(lines, known.values, known.classes, known.processes)
        out += rows_of(np.where(derived["kind"].isin(CHARGED), 0.0, 1.0), derived)
    if which in ("set_aside", "seen"):
        out += _listed(workings.set_aside, "code")
    if which in ("skipped", "seen"):
        out += _listed(workings.reading.skipped, "reason")
    return out


def _listed(frame: pd.DataFrame, why: str) -> tuple[TraceRow, ...]:
    def word(value: object) -> str:
        return "" if value is None or pd.isna(value) else str(value)  # type: ignore[call-overload]

    return tuple(
        TraceRow(
            float(one.get("rows", 1)), word(one["file"]), word(one["sheet"]),
            0 if pd.isna(one["row"]) else int(one["row"]), word(one["column"]), None,
            str(one[why]), "", "", word(one["found"]), None, "", "", "",
        )
        for one in frame.to_dict("records")
    )  # fmt: skip
