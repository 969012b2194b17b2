"""Hold two readings against each other, value for value and type for type."""

from __future__ import annotations

from dataclasses import fields

import pandas as pd

from divert.core.reading import Reading


def assert_same_reading(first: Reading, second: Reading) -> None:
    """Assert that two readings hold the same frames, in the same types, and say the same."""
    for one in fields(Reading):
        left, right = getattr(first, one.name), getattr(second, one.name)
        if isinstance(left, pd.DataFrame):
            pd.testing.assert_frame_equal(left, right)
        else:
            assert repr(left) == repr(right), one.name
