"""A bounded part of the made-up sheets; the full run of 2,000 is ``tests/ingest/generated/run.py``."""

from __future__ import annotations

import pytest

from .books import book
from .score import read_with_plans, score

_SHEETS = 96  # of consecutive seeds, a few seconds
_RIGHT = 0.85  # of the true loads at least; the rest is asked about


@pytest.mark.parametrize("first", [0, 1000])
def test_made_up_sheets_are_read_right_or_asked_about(first: int) -> None:
    scores = {seed: score(book(seed)) for seed in range(first, first + _SHEETS // 2)}
    wrong = {seed: (s.counted_wrong, s.lost) for seed, s in scores.items() if s.silent}
    assert not wrong, "wrong without a question"
    true, right = (sum(getattr(s, n) for s in scores.values()) for n in ("true", "right"))
    assert right >= _RIGHT * true, f"{right} of {true}"


@pytest.mark.parametrize("first", [2000, 3000, 61060])
def test_a_kept_plan_leaves_every_question_open(first: int) -> None:
    planned = 0
    for seed in range(first, first + _SHEETS // 4):
        made = book(seed)
        reading, plans = read_with_plans(made, "")
        planned += bool(plans)
        again, same = read_with_plans(made, plans)
        assert same == plans
        assert again.entries.equals(reading.entries), seed
        assert again.set_aside.equals(reading.set_aside), seed
    assert planned > _SHEETS // 8


def test_a_seed_makes_the_same_sheet_every_time() -> None:
    assert [p.rows for p in book(7).papers] == [p.rows for p in book(7).papers]
