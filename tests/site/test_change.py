"""Changes of site.toml: only the lines meant, whole or not at all, and every version kept."""

from __future__ import annotations

import datetime as dt
import multiprocessing
import os
import signal
import time
from pathlib import Path

import pytest

from divert.core.findings import CannotRun
from divert.site.change import (
    AddTo,
    Change,
    ChangedMeanwhile,
    Drop,
    NewEntry,
    SetKey,
    plan,
    restore,
    versions,
    write,
)
from divert.site.change.apply import edited
from divert.site.read import read_site

TOML = """\
# Ours, since 2024.
[site]
name = "Yard"    # as printed
started = 2024-01-01
units = "us"

# What the crew counts.
[[container]]
name = "pail"
also = ["bucket"]   # other words
volume = "5 gal"
# tare = "2 lb"

# What comes in.
[[material]]
name = "scraps"
like = "food-scraps"

[[sheet]]
file = "log.xlsx"
columns = { date = "A" }
"""


@pytest.fixture
def yard(tmp_path: Path) -> Path:
    (tmp_path / "site.toml").write_text(TOML, encoding="utf-8")
    return tmp_path


def come(change: Change) -> list[str]:
    return [line for hunk in change.hunks for line in hunk.come]


def gone(change: Change) -> list[str]:
    return [line for hunk in change.hunks for line in hunk.gone]


def test_a_new_spelling_changes_its_one_line_and_keeps_the_comment(yard: Path) -> None:
    change = plan(yard, [AddTo("container", "pail", "also", ('5" pail',))])
    assert gone(change) == ['also = ["bucket"]   # other words']
    assert come(change) == ['also = ["bucket", "5\\" pail"]   # other words']


def test_a_new_entry_stands_with_its_kind_before_the_comment_that_heads_the_next(
    yard: Path,
) -> None:
    change = plan(yard, [NewEntry("container", {"name": "tote", "volume": "18 gal"})])
    assert gone(change) == []
    assert (
        '# tare = "2 lb"\n\n[[container]]\nname = "tote"\nvolume = "18 gal"\n\n# What comes in.\n'
        in change.now
    )


def test_several_new_entries_of_a_kind_are_parted_by_one_blank_line() -> None:
    site = '[site]\nname = "Y"\n'
    made = edited(site, [NewEntry("source", {"name": "A"}), NewEntry("source", {"name": "B"})])
    assert made == site + '\n[[source]]\nname = "A"\n\n[[source]]\nname = "B"\n'


def test_a_key_that_is_missing_comes_under_the_others_of_its_entry(yard: Path) -> None:
    change = plan(yard, [SetKey("material", "scraps", "before", "landfill")])
    assert 'like = "food-scraps"\nbefore = "landfill"\n\n[[sheet]]' in change.now
    known = {"file": "log.xlsx"}
    change = plan(yard, [SetKey("sheet", known, "columns.source", "C")])
    assert 'date = "A"' in come(change)[0] and 'source = "C"' in come(change)[0]


def test_a_mistake_is_said_and_not_written(yard: Path) -> None:
    with pytest.raises(CannotRun, match="would then hold a mistake"):
        plan(yard, [SetKey("material", "scraps", "before", "the moon")])
    assert (yard / "site.toml").read_text(encoding="utf-8") == TOML


def test_what_was_written_reads_back_and_can_be_taken_back(yard: Path) -> None:
    answer = NewEntry("answer", {"about": 'a!b"c', "reason": "right", "on": dt.date(2025, 1, 2)})
    write(yard, plan(yard, [answer]))
    assert [(a.about, a.on) for a in read_site(yard).answers] == [('a!b"c', dt.date(2025, 1, 2))]
    write(yard, plan(yard, [Drop("answer", {"about": 'a!b"c'})]))
    assert read_site(yard).answers == ()
    first = versions(yard)[-1]
    write(yard, restore(yard, first.name))
    assert (yard / "site.toml").read_text(encoding="utf-8") == TOML
    assert len(versions(yard)) == 3


def test_the_last_fifty_versions_are_kept(yard: Path) -> None:
    for number in range(53):
        write(yard, plan(yard, [SetKey("site", "", "name", f"Yard {number}")]))
    kept = versions(yard)
    assert len(kept) == 50
    assert [kept[0].number, kept[-1].number] == [53, 4]


def test_a_change_on_a_file_that_changed_meanwhile_is_refused_and_shows_what_was_done(
    yard: Path,
) -> None:
    change = plan(yard, [SetKey("site", "", "name", "Ours")])
    theirs = TOML.replace('units = "us"', 'units = "metric"')
    (yard / "site.toml").write_text(theirs, encoding="utf-8")
    with pytest.raises(ChangedMeanwhile) as refused:
        write(yard, change)
    assert come(refused.value.since) == ['units = "metric"']
    assert (yard / "site.toml").read_text(encoding="utf-8") == theirs
    assert versions(yard) == ()


def _write_for_ever(folder: Path) -> None:
    number = 0
    while True:
        number += 1
        write(folder, plan(folder, [SetKey("site", "", "name", f"Yard {number} " + "x" * 400)]))


@pytest.mark.skipif(os.name == "nt", reason="processes are not killed alike there")
def test_killed_at_any_moment_the_file_is_whole(yard: Path) -> None:
    spawn = multiprocessing.get_context("spawn")
    for wait in (0.0, 0.013, 0.029):
        writer = spawn.Process(target=_write_for_ever, args=(yard,))
        writer.start()
        until = time.monotonic() + 60
        before = len(versions(yard))
        while len(versions(yard)) < min(before + 3, 49) and time.monotonic() < until:
            time.sleep(0.005)
        time.sleep(wait)
        assert writer.pid is not None
        os.kill(writer.pid, signal.SIGKILL)
        writer.join()
        assert read_site(yard).name.startswith("Yard")
        write(
            yard, plan(yard, [SetKey("site", "", "name", "Yard after it")])
        )  # nobody holds the lock
