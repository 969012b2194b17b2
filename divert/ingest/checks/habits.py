"""What a source usually brings, and entries far outside it."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt
import pandas as pd

from divert.core.findings import Finding
from divert.core.words import N_, Text
from divert.ingest.arrays import Floats
from divert.ingest.checks.corrections import where_of

_LEAST = 8  # entries that make a habit
_FAR = 6.0  # robust standard deviations (1.4826 x MAD) from the median that are far outside it
_TIMES = 2.5  # and so many times the median: a count that doubles is no surprise
_TIMES_MASS = 10.0  # weights spread more; ten times the usual is a slip of the decimal point
_MAD_TO_SD = 1.4826  # for a normal distribution


def far_outside(entries: pd.DataFrame) -> list[Finding]:
    """Return a query for each count, or weight, far above what its source usually brings."""
    intake = (entries["kind"] == "intake").to_numpy() & (
        entries["source"].cat.codes.to_numpy() >= 0
    )
    findings = []
    for name, keys, times in (
        ("count", ("source", "material", "container"), _TIMES),
        ("mass_kg", ("source", "material"), _TIMES_MASS),
    ):
        value = entries[name].to_numpy()
        rows = np.flatnonzero(intake & (value > 0))
        if len(rows) < _LEAST:
            continue
        group = _group(entries, keys, rows)
        least = 0.5 if name == "count" else 1e-12
        far, median = _far(value[rows], group, times, least)
        findings += [
            _said(entries, int(rows[i]), name, float(value[rows[i]]), float(median[i]))
            for i in np.flatnonzero(far)
        ]
    return findings


def _group(
    entries: pd.DataFrame, keys: tuple[str, ...], rows: npt.NDArray[np.int64]
) -> npt.NDArray[np.int64]:
    out = np.zeros(len(rows), dtype=np.int64)
    for key in keys:
        codes = entries[key].cat.codes.to_numpy()[rows].astype(np.int64)
        out = out * (len(entries[key].cat.categories) + 1) + codes + 1
    return pd.factorize(out)[0].astype(np.int64)


def _far(
    value: Floats, group: npt.NDArray[np.int64], times: float, least: float
) -> tuple[npt.NDArray[np.bool_], Floats]:
    """Return which values lie far above their group's median, and each one's median."""
    median, sizes = _medians(value, group)
    spread, _ = _medians(np.abs(value - median), group)
    scale = np.maximum(np.maximum(_MAD_TO_SD * spread, 0.1 * median), least)
    far = (sizes >= _LEAST) & (value - median > _FAR * scale) & (value > times * median)
    return far, median


def _medians(value: Floats, group: npt.NDArray[np.int64]) -> tuple[Floats, npt.NDArray[np.int64]]:
    sizes = np.bincount(group)
    order = np.argsort(value)  # then by group, which small numbers are sorted by far sooner
    by_group = group[order].astype(np.uint16 if len(sizes) < 1 << 16 else np.int64)
    order = order[np.argsort(by_group, kind="stable")]
    starts = np.concatenate([[0], np.cumsum(sizes)[:-1]])
    low, high = starts + (sizes - 1) // 2, starts + sizes // 2
    ordered = value[order]
    return ((ordered[low] + ordered[high]) / 2)[group], sizes[group]


def _said(entries: pd.DataFrame, row: int, name: str, value: float, median: float) -> Finding:
    source = str(entries["source"].iat[row])
    if name == "count":
        message = Text(
            N_("{count} here, where “{source}” usually brings {usual}."),
            {"count": value, "source": source, "usual": median},
        )
    else:
        message = Text(
            N_("This weighs {times} times what “{source}” usually brings."),
            {"times": round(value / median), "source": source},
        )
    hint = Text(N_("Check the row; if it is right, answer this under [[answer]] in site.toml."))
    return Finding(
        "query",
        "count far outside habit",
        message,
        where_of(entries, row),
        hint,
        str(entries["found"].iat[row]),
    )
