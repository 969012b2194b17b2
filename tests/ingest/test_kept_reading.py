"""A folder's reading is kept, and read anew as soon as anything that it follows from has changed."""

from __future__ import annotations

import datetime as dt
import hashlib
import json
import os
import sys
from collections.abc import Callable, Collection
from pathlib import Path

import pytest

from divert.core.reading import Reading
from divert.ingest import read, read_folder
from divert.ingest.kept_reading import _HEAD
from divert.ingest.written_reading import read_back, written
from divert.inventory.open_site import open_site
from divert.site.read import read_site

from .same_reading import assert_same_reading

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


def taken(folder: Path, day: dt.date = DAY, read_before: Collection[str] = ()) -> Reading:
    return read_folder(read_site(folder), day, read_before=read_before)


def test_the_same_folder_is_read_once_and_said_alike(folder: Path, reads: list[int]) -> None:
    first, again = taken(folder), taken(folder)
    assert len(reads) == 1
    assert_same_reading(first, again)


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


def loads(*kg: int) -> str:
    rows = (f"2024-05-{n + 1:02},North kitchen,food scraps,{one}" for n, one in enumerate(kg))
    return "\n".join(("Date,Source,Material,Net kg", *rows, ""))


def test_a_command_reads_no_sheet_the_second_time(folder: Path, reads: list[int]) -> None:
    """Only then is it known which files were read before; no order of them makes a copy of any here."""
    (folder / "a log.csv").write_text(loads(10, 5, 6, 7))  # one load is in the other file as well
    for _ in range(2):
        open_site(folder, as_of=DAY, remember=True)
        assert len(reads) == 1


def test_which_of_two_counts_is_not_taken_from_a_reading_with_others_read_before(
    folder: Path, reads: list[int]
) -> None:
    """New, the longer of two that say the same counts; read before, the one whose name comes first."""
    (folder / "log.csv").unlink()
    (folder / "a.csv").write_text(loads(1, 2, 3, 4, 5, 6))
    (folder / "b.csv").write_text(loads(1, 2, 3, 4, 5, 6, 7))
    both = ("a.csv", "b.csv")
    counted = [taken(folder, read_before=b).entries["mass_kg"].sum() for b in ((), both, both)]
    assert counted == [28, 21, 21]
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


@pytest.mark.parametrize("harm", ["cut", "turned"])
def test_what_was_broken_off_altered_or_put_there_is_read_anew(
    folder: Path, reads: list[int], harm: str, tmp_path: Path
) -> None:
    taken(folder)
    (kept,) = (tmp_path / "cache").glob("*.reading")
    data = kept.read_bytes()
    if harm == "cut":
        kept.write_bytes(data[:-5])
    else:
        kept.write_bytes(data[:60] + bytes([data[60] ^ 1]) + data[61:])
    assert len(taken(folder).entries) == 1
    assert len(reads) == 2


@pytest.mark.skipif(sys.platform == "win32", reason="POSIX links, pipes and modes")
@pytest.mark.parametrize("way", ["a link", "a pipe", "open to others", "another's", "a folder"])
def test_what_others_may_have_put_there_is_read_anew(
    folder: Path, reads: list[int], way: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    taken(folder)
    (kept,) = (tmp_path / "cache").glob("*.reading")
    if way == "open to others":
        kept.chmod(0o666)
    elif way == "another's":
        me = os.getuid()
        usual = os.fstat
        monkeypatch.setattr(os, "fstat", lambda at: _owned(usual(at), me + 1))
    else:
        kept.rename(tmp_path / "planted")
        if way == "a link":
            kept.symlink_to(tmp_path / "planted")
        elif way == "a pipe":
            os.mkfifo(kept)
        else:
            kept.mkdir()
    assert len(taken(folder).entries) == 1
    assert len(reads) == 2


def _owned(about: os.stat_result, owner: int) -> os.stat_result:
    to_the_nanosecond = {name: getattr(about, name) for name in ("st_mtime_ns", "st_ctime_ns")}
    return os.stat_result([*about[:4], owner, *about[5:]], to_the_nanosecond)


def planted(told: object, numbers: bytes = b"") -> bytes:
    text = json.dumps(told).encode()
    return len(text).to_bytes(8, "big") + text + numbers


@pytest.mark.parametrize("told", [
    [1, []], [], {}, "os.system", {"os.system": ["id"]}, {"Popen": ["id"]}, {"__class__": []},
    {"Reading": []}, {"Where": ["log.csv"]}, {"numbers": ["|O", 0, 1]},
    {"numbers": ["O,i4", 0, 1]}, {"numbers": ["<f8", -8, 1]}, {"numbers": ["<f8", 0, 1 << 60]},
    {"frame": [[0, 1, 1], [["a", ["texts", ["object", "", [{"dict": []}]]]]]]},
    {"frame": [[0, 1, 1], [["a", ["texts", ["period[D]", "", ["x"]]]]]]}, {"dict": [[{"dict": []}, 1]]},
], ids=str)  # fmt: skip
def test_bytes_that_are_no_reading_are_no_more_than_a_refusal(told: object) -> None:
    with pytest.raises((ValueError, TypeError, KeyError, IndexError)):
        read_back(planted(told, bytes(8)))


def test_a_reading_that_was_put_there_whole_but_wrong_is_read_anew(
    folder: Path, reads: list[int], tmp_path: Path
) -> None:
    """Its fingerprint is right, what it holds is not: nothing of it is taken."""
    taken(folder)
    (kept,) = (tmp_path / "cache").glob("*.reading")
    body = planted({"Popen": ["id"]})
    kept.write_bytes(_HEAD + hashlib.sha256(body).digest() + body)
    assert len(taken(folder).entries) == 1
    assert len(reads) == 2


def test_what_has_no_place_in_a_reading_is_not_written(folder: Path) -> None:
    reading = taken(folder)
    with pytest.raises(TypeError):
        written((reading, (Path.home,)))  # type: ignore[arg-type]


def test_debugging_reads_every_time(
    folder: Path, reads: list[int], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("DIVERT_DEBUG", "1")
    taken(folder)
    taken(folder)
    assert len(reads) == 2
