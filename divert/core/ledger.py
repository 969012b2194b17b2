"""The ledger: one pandas row per entry, SI inside. Its columns are a contract with outside scripts."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt
import pandas as pd

from divert.core.words import N_

KINDS = (
    N_("intake"),
    N_("removed"),
    N_("residue"),
    N_("rejected"),
    N_("moved"),
    N_("harvest"),
    N_("sale"),
    N_("weigh-in"),
    N_("disposed"),
    N_("fuel"),
    N_("activity"),
    N_("process"),
)
BASES = (N_("weighed"), N_("measured density"), N_("stated density"), N_("published density"))

# The published columns, in order (what ``divert read --ledger`` writes).
COLUMNS = (
    "kind", "date", "source", "material", "condition", "container", "count", "fill", "volume_m3",
    "mass_kg", "removed_kg", "basis", "before", "name", "amount", "unit", "currency", "destination",
    "file", "sheet", "row", "note",
)  # fmt: skip
# Carried beside them between the stages: what conversion needs and what a reader walks back to.
#   column         letter of the quantity's cell (tells apart the entries of one row of a wide table)
#   found          the quantity as it stood in the sheet, e.g. "3 totes, 3/4 full"
#   gross_kg       mass with containers; net is gross - count x tare, found in conversion
#   removed_share  contamination as a share of the row's mass, 0-1
CARRIED = ("column", "found", "gross_kg", "removed_share")

_TEXT = (
    "kind", "source", "material", "condition", "container", "basis", "before", "name", "unit",
    "currency", "destination", "file", "sheet", "note", "column", "found",
)  # fmt: skip
_NUMBER = (
    "count", "fill", "volume_m3", "mass_kg", "removed_kg", "amount", "gross_kg", "removed_share",
)  # fmt: skip
_FREE = ("note", "found")  # text that seldom repeats


def tidy(frame: pd.DataFrame) -> pd.DataFrame:
    """Return the frame with every ledger column, in order, each in its dtype.

    Text that repeats is ``category`` (missing: NaN), free text ``object`` str (missing: ""),
    numbers ``float64`` (missing: NaN), ``date`` datetime64[s], ``row`` int32. Fresh RangeIndex.
    """
    out: dict[str, object] = {}
    frame = frame.reset_index(drop=True)
    for column in COLUMNS + CARRIED:
        if column not in frame:
            out[column] = _blank(column, len(frame))
            continue
        have = frame[column]
        if column == "date":
            known = have.dtype == "datetime64[s]"
            out[column] = have if known else pd.to_datetime(have).astype("datetime64[s]")
        elif column == "row":
            out[column] = have.fillna(0).astype("int32")
        elif column in _NUMBER:
            out[column] = have if have.dtype == "float64" else have.astype("float64")
        elif column in _FREE:
            out[column] = have.fillna("").astype(object)
        elif isinstance(have.dtype, pd.CategoricalDtype):
            out[column] = have
        else:
            out[column] = have.astype("category")
    return pd.DataFrame(out, index=pd.RangeIndex(len(frame)))


def _blank(column: str, rows: int) -> object:
    if column == "date":
        return np.full(rows, "NaT", dtype="datetime64[s]")
    if column == "row":
        return np.zeros(rows, dtype="int32")
    if column in _NUMBER:
        return np.full(rows, np.nan)
    if column in _FREE:
        return np.full(rows, "", dtype=object)
    return pd.Categorical.from_codes(np.full(rows, -1, dtype="int8"), [])  # type: ignore[call-overload]


def sheets_of(ledger: pd.DataFrame) -> tuple[npt.NDArray[np.int64], list[tuple[str, str]]]:
    """Return a number for each row, and the file and sheet ("" where there is none) of each number.

    Sheets are numbered as the rows first meet them. Both columns are codes (dtype ``category``).
    """
    file, sheet = ledger["file"].cat, ledger["sheet"].cat
    width = len(sheet.categories) + 1
    files = file.codes.to_numpy().astype(np.int64)
    code = (files + 1) * width + sheet.codes.to_numpy() + 1
    number, met = pd.factorize(code)
    names = [[None, *column.categories] for column in (file, sheet)]
    return number.astype(np.int64), [
        (str(names[0][one // width] or ""), str(names[1][one % width] or ""))
        for one in met.tolist()
    ]


def text_columns() -> tuple[str, ...]:
    """Return the names of the columns that hold text."""
    return _TEXT


def whole_containers(count: npt.NDArray[np.float64] | float) -> npt.NDArray[np.float64]:
    """Return how many containers stand on the scale: a part of one is one (a millionth is none)."""
    return np.asarray(np.ceil(np.round(np.asarray(count, dtype=np.float64), 6)), dtype=np.float64)
