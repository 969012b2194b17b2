"""What a long workbook puts aside: gone at the end, and a full disk is told in one sentence."""

from __future__ import annotations

import errno
import os
import tempfile
from io import BytesIO
from pathlib import Path
from zipfile import ZipFile

import pytest
from evidence.made_up import AS_OF, SITE, workings

from divert.core.findings import CannotRun
from divert.core.period import read_period
from divert.figures.compute import figures_for
from divert.workbook import book
from divert.workbook.put_aside import put_aside

PERIOD = read_period("2025-Q2", as_of=AS_OF, started=SITE.started)


@pytest.fixture
def place(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setattr(tempfile, "tempdir", str(tmp_path))
    monkeypatch.setattr(book, "MOST_IN_MEMORY", 0)  # so that any workbook is long
    return tmp_path


def made() -> bytes:
    found = workings()
    return book.evidence_workbook(found, {"period": figures_for(found, PERIOD, AS_OF)}, "board")


def test_nothing_put_aside_is_left_and_the_sheets_are_those_of_memory(
    place: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    aside = made()
    assert not list(place.iterdir()) and made() == aside
    monkeypatch.setattr(book, "MOST_IN_MEMORY", 20_000)
    with ZipFile(BytesIO(aside)) as one, ZipFile(BytesIO(made())) as other:
        assert [(name, one.read(name)) for name in one.namelist()] == [
            (name, other.read(name)) for name in other.namelist()
        ]


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="no device that is always full")
def test_a_full_disk_is_told_in_one_sentence_and_leaves_nothing(
    place: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def on_a_full_disk(**given: str) -> tuple[int, str]:
        assert Path(given["dir"]).parent == place
        (Path(given["dir"]) / "begun").write_text("half")
        return os.open("/dev/full", os.O_WRONLY), "/dev/full"

    monkeypatch.setattr("tempfile.mkstemp", on_a_full_disk)
    with pytest.raises(CannotRun, match=r"disk of temporary files is full.*TMPDIR") as stop:
        made()
    assert stop.value.exit_status == 2
    assert not list(place.iterdir())


@pytest.mark.parametrize("code", [errno.ENOSPC, errno.EDQUOT, errno.EFBIG])
def test_no_room_is_told_whatever_the_system_calls_it(place: Path, code: int) -> None:
    with pytest.raises(CannotRun, match=str(place)), put_aside():
        raise OSError(code, os.strerror(code))


def test_another_fault_stays_what_it_is(place: Path) -> None:
    with pytest.raises(PermissionError), put_aside():
        raise PermissionError(errno.EACCES, "no")


def test_where_no_file_can_be_put_aside_there_is_no_folder(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(tempfile, "tempdir", str(tmp_path / "not there"))
    with put_aside() as folder:
        assert folder is None
