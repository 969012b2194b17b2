"""A folder's reading is kept, and read anew as soon as anything that it follows from has changed."""

from __future__ import annotations

import datetime as dt
import hashlib
import pickle
from collections.abc import Callable
from pathlib import Path

import pandas as pd
import pytest

from divert.core.reading import Reading
from divert.ingest import read, read_folder
from divert.ingest.kept_reading import _HEAD
from divert.site.read import read_site

TOML = '[site]\nname = "Alder Yard"\nunits = "metric"\nstarted = 2024-01-01\n'
LOG = "Date,Source,Material,Net kg\n2024-05-01,North kitchen,food scraps,10\n2024-05-02,North kitchen,leaves,x\n"
DAY = dt.date(2025, 1, 1)


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("DIVERT_CACHE", str(tmp_path / "cache"))
    monkeypatch.delenv("DIVERT_DEBUG")
    folder = tmp_path / "yard"
    folder.mkdir()
    (folder / "site.toml").write_text(TOML)
    (folder / "log.csv").write_text(LOG)
    return folder


@pytest.fixture
def reads(monkeypatch: pytest.MonkeyPatch) -> list[int]:
    """How often a folder's sheets were really read."""
    times: list[int] = []
    usual = read._read

    def counted(*given: object) -> object:
        times.append(1)
        return usual(*given)  # type: ignore[arg-type]

    monkeypatch.setattr(read, "_read", counted)
    return times


def taken(folder: Path, day: dt.date = DAY) -> Reading:
    return read_folder(read_site(folder), day)


def test_the_same_folder_is_read_once_and_said_alike(folder: Path, reads: list[int]) -> None:
    first, again = taken(folder), taken(folder)
    assert len(reads) == 1
    for name in ("entries", "set_aside", "skipped"):
        pd.testing.assert_frame_equal(getattr(first, name), getattr(again, name))
    assert (first.findings, first.sheets, first.inputs) == (
        again.findings,
        again.sheets,
        again.inputs,
    )


CHANGES: dict[str, Callable[[Path], object]] = {
    "a row": lambda f: (f / "log.csv").write_text(LOG + "2024-05-03,North kitchen,food scraps,7\n"),
    "a new file": lambda f: (f / "more.csv").write_text(LOG.replace("10", "11")),
    "its name": lambda f: (f / "log.csv").rename(f / "book.csv"),
    "a setting": lambda f: (f / "site.toml").write_text(
        TOML + '[[source]]\nname = "North kitchen"\n'
    ),
    "own factors": lambda f: (f / "factors.csv").write_text(
        "key,value,low,high,unit,source,standing\n"
    ),
}


@pytest.mark.parametrize("change", CHANGES)
def test_whatever_changes_is_read_anew(folder: Path, reads: list[int], change: str) -> None:
    taken(folder)
    CHANGES[change](folder)
    taken(folder)
    assert len(reads) == 2


def test_another_day_is_another_reading(folder: Path, reads: list[int]) -> None:
    taken(folder)
    taken(folder, dt.date(2024, 5, 1))  # the second row lies ahead
    assert len(reads) == 2


def test_a_file_that_cannot_be_read_is_tried_again(folder: Path, reads: list[int]) -> None:
    (folder / "torn.xlsx").write_bytes(b"PK\x03\x04 torn")
    taken(folder)
    taken(folder)
    assert len(reads) == 2


@pytest.mark.parametrize("harm", ["cut", "turned", "other"])
def test_what_was_broken_off_altered_or_put_there_is_read_anew(
    folder: Path, reads: list[int], harm: str, tmp_path: Path
) -> None:
    taken(folder)
    (kept,) = (tmp_path / "cache").glob("*.reading")
    data = kept.read_bytes()
    if harm == "cut":
        kept.write_bytes(data[:-5])
    elif harm == "turned":
        kept.write_bytes(data[:60] + bytes([data[60] ^ 1]) + data[61:])
    else:
        body = pickle.dumps(Path.home)  # a method of a class: asks for what no reading is made of
        kept.write_bytes(_HEAD + hashlib.sha256(body).digest() + body)
    assert len(taken(folder).entries) == 1
    assert len(reads) == 2


def test_debugging_reads_every_time(
    folder: Path, reads: list[int], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("DIVERT_DEBUG", "1")
    taken(folder)
    taken(folder)
    assert len(reads) == 2
