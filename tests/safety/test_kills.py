"""A part of the table of killed runs; ``python tests/safety/table.py kills`` does it all."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest
from fault_kills import killed


@pytest.mark.skipif(not sys.platform.startswith("linux"), reason="looks for processes in /proc")
def test_a_killed_run_locks_nothing_and_leaves_nothing_running(tmp_path: Path) -> None:
    told = killed(tmp_path / "yard", tries=1, whole_s=6.0)
    assert (told.stuck, told.left_over, told.not_whole) == (0, 0, 0)
    assert told.issued >= 1  # the last one's
