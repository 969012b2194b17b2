"""Doing again only what a change touches gives what doing all of it again gives."""

from __future__ import annotations

import datetime as dt
from pathlib import Path

import pandas as pd
import pytest

from divert.ingest.cells_held import CellsHeld
from divert.page.again import read_again
from divert.page.questions.totals import mass_of
from divert.site.change import AddTo, Edit, NewEntry, SetKey, plan, write

DAY = dt.date(2025, 3, 1)
TOML = """\
[site]
name = "Yard"
started = 2025-01-01
units = "metric"
[[container]]
name = "tote"
volume = "100 L"
[[material]]
name = "manure"
like = "stable-manure"
"""
LOG = """\
Date,From,What,Container,How many,How full,Weight (kg)
2025-02-03,stable,manure,,,,10
2025-02-04,stable,manure,tote,2,,
2025-02-05,stable,manur,,,,8
"""
CHANGES: dict[str, tuple[Edit, bool]] = {
    "where it went before": (SetKey("material", "manure", "before", "landfill"), True),
    "how full it usually is": (SetKey("container", "tote", "usual_fill", 0.5), True),
    "a reason": (NewEntry("answer", {"about": "source not recorded", "reason": "so"}), True),
    "another spelling": (AddTo("material", "manure", "also", ("manur",)), False),
    "the order of dates": (SetKey("site", "", "dates", "day first"), False),
}


@pytest.mark.parametrize("what", CHANGES)
def test_a_change_of_settings_gives_what_a_whole_reading_gives(tmp_path: Path, what: str) -> None:
    edit, kept = CHANGES[what]
    (tmp_path / "site.toml").write_text(TOML, encoding="utf-8")
    (tmp_path / "log.csv").write_text(LOG, encoding="utf-8")
    cells = CellsHeld()
    _, before = read_again(tmp_path, DAY, cells, None)
    write(tmp_path, plan(tmp_path, [edit]))
    _, quick = read_again(tmp_path, DAY, cells, before)
    _, whole = read_again(tmp_path, DAY, CellsHeld(), None)
    assert (quick.reading.entries is before.reading.entries) == kept  # not read again
    pd.testing.assert_frame_equal(quick.ledger, whole.ledger)
    assert quick.findings == whole.findings


def test_the_balance_of_all_time_holds_every_load(tmp_path: Path) -> None:
    (tmp_path / "site.toml").write_text(TOML + 'before = "landfill"\n', encoding="utf-8")
    (tmp_path / "log.csv").write_text("\n".join(LOG.splitlines()[:2]) + "\n", encoding="utf-8")
    _, workings = read_again(tmp_path, DAY, CellsHeld(), None)
    mass = mass_of(workings)
    assert mass is not None
    assert (mass.received.central, mass.diverted.central) == (pytest.approx(10), pytest.approx(10))
