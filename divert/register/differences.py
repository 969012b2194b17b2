"""Which entries were added, changed or taken out between two ledgers, by content and not by place."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt
import pandas as pd

_WHAT = ["kind", "date", "source", "material", "container"]
_HOW_MUCH = ["count", "fill", "volume_m3", "mass_kg", "gross_kg", "removed_kg", "removed_share",
             "amount"]  # fmt: skip
_REST = ["condition", "before", "name", "unit", "currency", "destination"]
# Where an entry lies (file, sheet, row) and what it was called do not make it another entry.
CONTENT = [*_WHAT, *_HOW_MUCH, *_REST]
# An entry that was corrected keeps most of itself; what it keeps is tried in this order.
_KEPT = (
    ["kind", "date", "source", "material"],
    ["kind", "date", "source", *_HOW_MUCH],
    ["kind", "source", "material", *_HOW_MUCH],
    ["kind", "date", "material", *_HOW_MUCH],
    ["kind", "date", "source"],
)

Ints = npt.NDArray[np.int64]


@dataclass(frozen=True, slots=True)
class Differences:
    """Places (from 0) in the old and the new ledger.

    ``changed_old[i]`` became ``changed_new[i]``; all that is named nowhere is the same in both.
    """

    added: Ints
    changed_old: Ints
    changed_new: Ints
    removed: Ints


def differences(old: pd.DataFrame, new: pd.DataFrame) -> Differences:
    """Return how one ledger became another.

    Entries of the same content are the same, wherever they lie; of the rest, those that kept what
    they are about (day, source, material) or all but one of these were changed.
    """
    left, right = np.arange(len(old)), np.arange(len(new))
    old_plain, new_plain = _comparable(old), _comparable(new)
    _, _, left, right = _paired(old_plain, new_plain, left, right, CONTENT)
    changed: list[tuple[Ints, Ints]] = []
    for keys in _KEPT:
        if not len(left) or not len(right):
            break
        from_, to, left, right = _paired(old_plain, new_plain, left, right, keys)
        changed.append((from_, to))
    none = np.array([], dtype=np.int64)
    return Differences(
        right,
        np.concatenate([none, *(pair[0] for pair in changed)]),
        np.concatenate([none, *(pair[1] for pair in changed)]),
        left,
    )


def _comparable(ledger: pd.DataFrame) -> pd.DataFrame:
    """Return the columns that make up the content, each as plain values that compare."""
    out = {}
    for name in CONTENT:
        column = ledger[name]
        if name == "date":
            out[name] = column.to_numpy().astype("datetime64[D]").astype(np.int64)
        elif name in _HOW_MUCH:
            # Nine digits: what two readers make of one cell may differ in the last bit.
            values = column.to_numpy(dtype=float)
            out[name] = np.array([f"{v:.9g}" for v in values], dtype=object)
        else:
            out[name] = column.astype(object).where(column.notna(), "").to_numpy()
    return pd.DataFrame(out)


def _paired(
    old: pd.DataFrame, new: pd.DataFrame, left: Ints, right: Ints, keys: list[str]
) -> tuple[Ints, Ints, Ints, Ints]:
    """Return the pairs among ``left`` and ``right`` that agree in ``keys``, and who is left over."""
    sides = []
    for frame, places in ((old, left), (new, right)):
        side = frame.iloc[places][keys].reset_index(drop=True)
        side["nth"] = side.groupby(keys, sort=False, dropna=False).cumcount()
        side["place"] = places
        sides.append(side)
    both = sides[0].merge(sides[1], on=[*keys, "nth"], suffixes=("_old", "_new"))
    from_ = both["place_old"].to_numpy(dtype=np.int64)
    to = both["place_new"].to_numpy(dtype=np.int64)
    return from_, to, np.setdiff1d(left, from_), np.setdiff1d(right, to)
