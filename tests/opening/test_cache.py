"""The cache saves time and nothing else: altered, broken or foreign entries are never used."""

from __future__ import annotations

import pickle
from pathlib import Path

import pytest
from open_all import open_all

from divert.ingest import cache
from divert.ingest.grid import Opened
from divert.ingest.reader import Reader


@pytest.fixture
def kept(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    folder = tmp_path / "cache"
    monkeypatch.setenv("DIVERT_CACHE", str(folder))
    return folder


@pytest.fixture
def files(tmp_path: Path) -> Path:
    folder = tmp_path / "site"
    folder.mkdir()
    (folder / "a.csv").write_text("Date,lb\n2025-03-01,4\n")
    return folder


def _asked(monkeypatch: pytest.MonkeyPatch) -> list[bytes]:
    asked: list[bytes] = []
    ask = Reader.ask

    def note(self: Reader, data: bytes, suffix: str) -> None:
        asked.append(data)
        ask(self, data, suffix)

    monkeypatch.setattr(Reader, "ask", note)
    return asked


def test_a_second_run_reads_nothing_again(
    kept: Path, files: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    first = open_all(files)
    asked = _asked(monkeypatch)
    assert open_all(files) == first
    assert asked == []
    assert kept.stat().st_mode & 0o077 == 0


def test_a_changed_file_is_read_again_whatever_its_date(kept: Path, files: Path) -> None:
    open_all(files)
    stat = (files / "a.csv").stat()
    (files / "a.csv").write_text("Date,lb\n2025-03-01,9\n")
    import os

    os.utime(files / "a.csv", ns=(stat.st_atime_ns, stat.st_mtime_ns))
    assert _rows(open_all(files)) == [["Date", "lb"], ["2025-03-01", "9"]]


def test_the_same_bytes_under_another_extension_are_read_for_that(kept: Path, files: Path) -> None:
    open_all(files)
    (files / "a.csv").rename(files / "a.xlsx")
    (opened,) = open_all(files).values()
    assert opened.grids == ()


def _rows(opened: dict[str, Opened]) -> object:
    (one,) = opened.values()
    return one.grids[0].rows


@pytest.mark.parametrize("spoil", ["cut", "altered", "pickle", "empty"])
def test_a_spoilt_entry_is_read_anew(
    kept: Path, files: Path, spoil: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    first = open_all(files)
    (entry,) = kept.iterdir()
    data = entry.read_bytes()

    class Trap:
        def __reduce__(self) -> tuple[object, tuple[str]]:
            return Path.touch, (Path(kept / "sprung"),)  # type: ignore[return-value]

    entry.write_bytes(
        {
            "cut": data[:-5],
            "altered": data.replace(b'"4"', b'"9"'),
            "pickle": pickle.dumps(Trap()),
            "empty": b"",
        }[spoil]
    )
    asked = _asked(monkeypatch)
    assert open_all(files) == first
    assert len(asked) == 1
    assert not (kept / "sprung").exists()


def test_an_unreadable_file_is_not_kept(kept: Path, files: Path) -> None:
    (files / "a.csv").unlink()
    (files / "b.xlsx").write_bytes(b"PK\x03\x04 no")
    open_all(files)
    assert not kept.exists() or list(kept.iterdir()) == []


def test_a_folder_others_can_write_is_not_used(kept: Path, files: Path) -> None:
    kept.mkdir()
    kept.chmod(0o777)
    open_all(files)
    assert list(kept.iterdir()) == []


def test_it_can_be_switched_off(
    files: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("DIVERT_CACHE", "off")
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "home"))
    open_all(files)
    assert not (tmp_path / "home").exists()


def test_it_lies_in_the_users_own_folder_and_never_in_the_sites(
    files: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.delenv("DIVERT_CACHE")
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "home"))
    monkeypatch.setattr("sys.platform", "linux")
    open_all(files)
    assert len(list((tmp_path / "home/divert/cells").iterdir())) == 1
    assert [path.name for path in files.iterdir()] == ["a.csv"]


def test_another_reader_makes_its_own_entries(
    kept: Path, files: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    open_all(files)
    monkeypatch.setattr(cache, "_reader", lambda: "another")
    asked = _asked(monkeypatch)
    open_all(files)
    assert len(asked) == 1
