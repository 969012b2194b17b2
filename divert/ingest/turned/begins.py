"""What the first cells of rows say of a whole sheet: a log is told from forms without reading its words."""

from __future__ import annotations

import numpy as np

from divert.ingest.sheet import Sheet, is_value


def log_column(sheet: Sheet) -> int | None:
    """Return the first column that holds anything, where rows of three cells begin there with a value."""
    first = next((i for i, c in enumerate(sheet.columns) if c.cells), None)
    if first is None:
        return None
    column = sheet.columns[first]
    values = (column.codes >= 0) & ~column.rows_of_texts(lambda text: not is_value(text))
    if not values.any():
        return None
    beside = np.zeros(sheet.height, dtype=np.int64)
    for other in sheet.columns[first + 1 :]:
        beside += other.codes >= 0
        if bool((values & (beside >= 2)).any()):
            return first
    return None
