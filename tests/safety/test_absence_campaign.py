"""Whatever happens to a file of the sample site, no total changes in silence.

Each kind is tried here once; ``python tests/safety/absence_campaign.py`` makes all.
"""

from __future__ import annotations

import pytest
from absence_campaign import Try, campaign, table

_WHATS = ("delete", "empty", "rename", "copy, one row changed", "copy as CSV", "copy as ODS",
          "move into a folder", "swap two")  # fmt: skip


def _chosen(place: int, one: Try) -> bool:
    """Choose each of the eight once, file after file in turn, and three cuts."""
    file = "BCDY".index(one.file[0])  # the sample's four files begin with these
    if one.what.startswith("truncate"):
        return (one.what, one.file[0]) in (
            ("truncate 3/10", "B"),
            ("truncate 9/10", "B"),
            ("truncate 6/10", "Y"),
        )
    return (_WHATS.index(one.what) + file) % 4 == 0


def test_no_total_changes_in_silence(capsys: pytest.CaptureFixture[str]) -> None:
    found = campaign(_chosen)
    with capsys.disabled():
        print(f"\n{table(found)}")
    assert sum(found.values()) == 11
    assert {result for _, result in found} == {"same", "named"}, table(found)
