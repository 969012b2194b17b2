"""The 90 % interval holds the truth in nine of ten simulated yards, for a month, a quarter and a year.

A bounded number of yards; ``python tests/engine/simulated_yards.py`` prints the whole table.
"""

from __future__ import annotations

import math

import pytest
from simulated_yards import CASES, held

YARDS = 300
BY_NAME = {case.name: case for case in CASES}
# Three standard errors of a share of 300 trials about 0.88 to 0.92, the ends that are promised.
SLACK = 3 * math.sqrt(0.9 * 0.1 / YARDS)


@pytest.mark.parametrize(
    "name",
    [
        "own density: 10 weigh-ins with care",
        "published density, truth anywhere between its ends",
        "stated ± 20 %, truth anywhere between",
        "eye's bias, 10 weigh-ins with care",
        "own density: 100 weigh-ins, loads scatter 5 %",
        "fill blank, usual 0.75; truth normal about it",
        "one load a month, stated density, loads scatter 15 %",
        "grass in no state that was written",
    ],
)
def test_nine_in_ten_intervals_hold_the_truth(name: str) -> None:
    found = held(BY_NAME[name], YARDS, 20_250_101)
    for period, share in found.items():
        assert 0.88 - SLACK <= share <= 0.92 + SLACK, (period, found)
