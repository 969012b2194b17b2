"""Whether a row's amounts are the sums of other rows' amounts."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from divert.ingest.arrays import Bools, Codes, Floats

LEAST = 2  # rows that a total sums, at least, where nothing else speaks for a total


def equals_sum(values: Sequence[Floats], above: Bools | Codes, row: int) -> bool:
    """Return whether every filled cell of a row is the sum of its column's cells in the rows above.

    ``above``: those rows, by mark or by number.
    """
    equal = 0
    for value in values:
        if np.isnan(value[row]):
            continue
        addends = value[above]
        addends = addends[~np.isnan(addends)]
        if not len(addends):
            return False
        total = float(addends.sum())
        if abs(total - value[row]) > 1e-6 * max(abs(total), abs(float(value[row])), 1e-9) + 1e-9:
            return False
        equal += 1
    return equal > 0
