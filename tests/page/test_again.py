"""Doing again only what a change touches gives what doing all of it again gives."""

from __future__ import annotations

import datetime as dt
from pathlib import Path

import pandas as pd
import pytest

from divert.ingest.cells_held import CellsHeld
from divert.ingest.sheets_held import SheetsHeld
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
    "the site's name": (SetKey("site", "", "name", "Otter Yard"), True),
    "a name that stands in a sheet": (SetKey("site", "", "name", "stable"), False),
    "a name that is a number": (SetKey("site", "", "name", "10"), False),
    "the colour": (SetKey("site", "", "colour", "#112233"), True),
    "how the scale errs": (SetKey("site", "", "scale_accuracy", 0.02), True),
}
# Of these, what conversion stands on is the same: its frames are not made again.
NOT_CONVERTED = {"a reason", "the site's name", "the colour"}


@pytest.mark.parametrize("what", CHANGES)
def test_a_change_of_settings_gives_what_a_whole_reading_gives(tmp_path: Path, what: str) -> None:
    edit, kept = CHANGES[what]
    (tmp_path / "site.toml").write_text(TOML, encoding="utf-8")
    (tmp_path / "log.csv").write_text(LOG, encoding="utf-8")
    cells = CellsHeld(sheets=SheetsHeld())
    _, before = read_again(tmp_path, DAY, cells, None)
    write(tmp_path, plan(tmp_path, [edit]))
    _, quick = read_again(tmp_path, DAY, cells, before)
    _, whole = read_again(tmp_path, DAY, CellsHeld(), None)
    assert (quick.reading.entries is before.reading.entries) == kept  # not read again
    assert (quick.ledger is before.ledger) == (what in NOT_CONVERTED)
    assert quick.site == whole.site and quick.densities == whole.densities
    pd.testing.assert_frame_equal(quick.charges, whole.charges)
    pd.testing.assert_frame_equal(quick.ledger, whole.ledger)
    assert quick.findings == whole.findings


def test_an_answer_is_taken_back_and_idle_ones_are_told_without_converting_again(
    tmp_path: Path,
) -> None:
    answers = """
[[answer]]
about = "source not recorded: log.csv"
reason = "so"
[[answer]]
about = "unknown material: nothing of the kind"
reason = "no"
"""
    log = LOG.replace("2025-02-04,stable", "2025-02-04,")
    (tmp_path / "log.csv").write_text(log, encoding="utf-8")
    said = {}
    before, ledgers = None, []
    cells = CellsHeld(sheets=SheetsHeld())
    for text in (TOML, TOML + answers, TOML):
        (tmp_path / "site.toml").write_text(text, encoding="utf-8")
        _, before = read_again(tmp_path, DAY, cells, before)
        _, whole = read_again(tmp_path, DAY, CellsHeld(), None)
        assert before.findings == whole.findings
        ledgers.append(before.ledger)
        said[len(ledgers)] = [f.answer for f in before.findings if f.code == "source not recorded"]
    assert ledgers[0] is ledgers[1] is ledgers[2]
    assert said == {1: [None], 2: ["so"], 3: [None]}
    assert sum("settles nothing" in str(f.message) for f in before.findings) == 0


def test_the_balance_of_all_time_holds_every_load(tmp_path: Path) -> None:
    (tmp_path / "site.toml").write_text(TOML + 'before = "landfill"\n', encoding="utf-8")
    (tmp_path / "log.csv").write_text("\n".join(LOG.splitlines()[:2]) + "\n", encoding="utf-8")
    _, workings = read_again(tmp_path, DAY, CellsHeld(), None)
    mass = mass_of(workings)
    assert mass is not None
    assert (mass.received.central, mass.diverted.central) == (pytest.approx(10), pytest.approx(10))
