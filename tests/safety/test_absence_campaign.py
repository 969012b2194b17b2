"""Whatever happens to a file of the sample site, no total changes in silence.

A third of the tries is made here; ``python tests/safety/absence_campaign.py`` makes all.
"""

from __future__ import annotations

import pytest
from absence_campaign import Try, campaign, table

_TRUNCATIONS = ("truncate 3/10", "truncate 9/10")


def _chosen(place: int, one: Try) -> bool:
    if one.what.startswith("truncate"):
        return one.what in _TRUNCATIONS and (
            one.file.endswith(".csv") or one.file.startswith("Yard")
        )
    return (place + one.file.endswith(".csv")) % 2 == 0 or one.what in ("rename", "copy as CSV")


def test_no_total_changes_in_silence(capsys: pytest.CaptureFixture[str]) -> None:
    found = campaign(_chosen)
    with capsys.disabled():
        print(f"\n{table(found)}")
    assert sum(found.values()) >= 20
    assert {result for _, result in found} == {"same", "named"}, table(found)
