"""Whatever happens to a file of the sample site, no total changes in silence.

Most kinds are tried here once; ``python tests/safety/absence_campaign.py`` makes all.
"""

from __future__ import annotations

import pytest
from absence_campaign import Try, campaign, table
from rounds import rounds

_WHATS = ("delete", "empty", "rename", "copy, one row changed", "copy as CSV", "copy as ODS",
          "move into a folder", "swap two")  # fmt: skip


# In the suite a file goes, is emptied, renamed or copied; the rest with DIVERT_LONG=1.
_TRIED = _WHATS[: rounds(5, len(_WHATS))]
_CUTS = (("truncate 3/10", "B"), ("truncate 6/10", "Y"), ("truncate 9/10", "B"))[: rounds(2, 3)]


def _chosen(place: int, one: Try) -> bool:
    """Choose each of the eight once, file after file in turn, and three cuts."""
    file = "BCDY".index(one.file[0])  # the sample's four files begin with these
    if one.what.startswith("truncate"):
        return (one.what, one.file[0]) in _CUTS
    return (_WHATS.index(one.what) + file) % 4 == 0 and one.what in _TRIED


def test_no_total_changes_in_silence(capsys: pytest.CaptureFixture[str]) -> None:
    found = campaign(_chosen)
    with capsys.disabled():
        print(f"\n{table(found)}")
    assert sum(found.values()) == len(_TRIED) + len(_CUTS)
    assert {result for _, result in found} == {"same", "named"}, table(found)
