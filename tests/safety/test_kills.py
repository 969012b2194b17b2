"""Parts of the tables of killed runs and killed servers of the page; ``python tests/safety/table.py kills changes``
does them all."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest
from fault_kills import killed
from fault_page_kills import killed as killed_page
from rounds import rounds


@pytest.mark.skipif(not sys.platform.startswith("linux"), reason="looks for processes in /proc")
def test_a_killed_run_locks_nothing_and_leaves_nothing_running(tmp_path: Path) -> None:
    told = killed(tmp_path / "yard", tries=1, whole_s=6.0)
    assert (told.stuck, told.left_over, told.not_whole) == (0, 0, 0)
    assert told.issued >= 1  # the last one's


def test_a_page_that_is_killed_in_a_change_leaves_site_toml_whole(tmp_path: Path) -> None:
    told = killed_page(tmp_path, tries=rounds(3, 45))
    assert (told.not_whole, told.stuck) == (0, 0)
    assert told.written >= 1  # and some were killed after a change, as well as in one
