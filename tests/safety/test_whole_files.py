"""Files are whole or absent, whatever happens while they are written."""

from __future__ import annotations

import errno
import os
import subprocess
import sys
import time
from pathlib import Path
from types import SimpleNamespace

import pytest

from divert.core.findings import CannotRun
from divert.core.safe_files import inside, write_quickly, write_text, write_whole
from divert.publish import write


def _names(folder: Path) -> list[str]:
    return sorted(path.name for path in folder.iterdir())


def test_writing_makes_folders_and_replaces(tmp_path: Path) -> None:
    path = tmp_path / "reports" / "2025-Q2" / "grant.pdf"
    write_whole(path, b"one")
    write_whole(path, b"two")
    assert path.read_bytes() == b"two"
    assert _names(path.parent) == ["grant.pdf"]


def test_a_new_file_is_as_open_as_any_and_an_old_one_keeps_its_mode(tmp_path: Path) -> None:
    plain = tmp_path / "plain"
    plain.write_text("x")
    write_whole(tmp_path / "new", b"x")
    assert (tmp_path / "new").stat().st_mode == plain.stat().st_mode
    plain.chmod(0o640)
    write_whole(plain, b"y")
    assert plain.stat().st_mode & 0o777 == 0o640
    write_quickly(tmp_path / "mine", b"x")
    assert (tmp_path / "mine").stat().st_mode & 0o077 == 0


def test_text_keeps_its_line_ends(tmp_path: Path) -> None:
    write_text(tmp_path / "a.csv", "é\r\n")
    assert (tmp_path / "a.csv").read_bytes() == b"\xc3\xa9\r\n"


@pytest.mark.parametrize(
    ("number", "words"),
    [
        (errno.ENOSPC, "disk is full"),
        (errno.EACCES, "open elsewhere"),
        (errno.EIO, "cannot be written"),
    ],
)
@pytest.mark.parametrize("where", ["fsync", "replace"])
def test_a_failed_write_leaves_the_old_file_and_one_sentence(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, number: int, words: str, where: str
) -> None:
    path = tmp_path / "grant.pdf"
    path.write_bytes(b"old")

    def fail(*_: object) -> None:
        raise OSError(number, os.strerror(number))

    if where == "fsync":
        monkeypatch.setattr(os, "fsync", fail)
    else:
        monkeypatch.setattr(Path, "replace", fail)
    with pytest.raises(CannotRun, match=words) as told:
        write_whole(path, b"new")
    assert "\n" not in str(told.value)
    assert "grant.pdf" in str(told.value)
    monkeypatch.undo()
    assert path.read_bytes() == b"old"
    assert _names(tmp_path) == ["grant.pdf"]


@pytest.mark.parametrize("number", ["2025-0001", None])
def test_a_full_disk_after_a_report_was_issued_says_so(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, number: str | None
) -> None:
    def full(*_: object) -> None:
        raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

    monkeypatch.setattr(os, "fsync", full)
    job, made = SimpleNamespace(stem="board", number=number), SimpleNamespace(files={".pdf": b"x"})
    with pytest.raises(CannotRun, match="disk is full") as told:
        write._written(tmp_path / "out", job, made, tmp_path)  # type: ignore[arg-type]
    issued = f"But report 2025-0001 was issued and is kept in {tmp_path / 'issued' / '2025-0001'}"
    assert (issued in str(told.value)) == (number is not None)
    assert list((tmp_path / "out").iterdir()) == []


@pytest.mark.skipif(sys.platform == "win32", reason="no limit of file sizes there")
def test_a_disk_that_really_takes_no_more(tmp_path: Path) -> None:
    """A limit of file sizes fails in the middle of a write, as a full disk does."""
    path = tmp_path / "ledger.csv"
    path.write_bytes(b"old")
    code = (
        "import resource, signal, sys\nfrom pathlib import Path\n"
        "from divert.core.findings import CannotRun\nfrom divert.core.safe_files import write_whole\n"
        "signal.signal(signal.SIGXFSZ, signal.SIG_IGN)\n"
        "resource.setrlimit(resource.RLIMIT_FSIZE, (100_000, 100_000))\n"
        "try:\n  write_whole(Path(sys.argv[1]), b'n' * 1_000_000)\n"
        "except CannotRun:\n  sys.exit(7)\n"
    )
    assert subprocess.run([sys.executable, "-c", code, str(path)], check=False).returncode == 7
    assert path.read_bytes() == b"old"
    assert _names(tmp_path) == ["ledger.csv"]


def test_a_kill_in_the_middle_leaves_one_whole_file(tmp_path: Path) -> None:
    path = tmp_path / "board.pdf"
    size = 3_000_000
    code = (
        "import sys\nfrom pathlib import Path\nfrom divert.core.safe_files import write_whole\n"
        "print(flush=True)\n"
        f"while True:\n  for letter in b'abcd':\n    write_whole(Path(sys.argv[1]), bytes([letter]) * {size})\n"
    )
    path.write_bytes(b"a" * size)
    for turn in range(12):
        with subprocess.Popen([sys.executable, "-c", code, str(path)], stdout=-1) as writer:
            assert writer.stdout is not None
            writer.stdout.readline()
            time.sleep(0.002 * turn + 0.01)
            writer.kill()
        data = path.read_bytes()
        assert len(data) == size
        assert data == data[:1] * size


def test_what_a_killed_run_left_is_cleared_by_a_later_one(tmp_path: Path) -> None:
    old, new = tmp_path / ".grant.pdf.aaaa.part", tmp_path / ".grant.pdf.bbbb.part"
    old.write_bytes(b"half")
    new.write_bytes(b"another run, still writing")
    an_hour_ago = time.time() - 3600
    os.utime(old, (an_hour_ago, an_hour_ago))
    write_whole(tmp_path / "grant.pdf", b"whole")
    assert _names(tmp_path) == [".grant.pdf.bbbb.part", "grant.pdf"]


def test_a_link_in_the_files_place_is_replaced_and_not_written_through(tmp_path: Path) -> None:
    victim = tmp_path / "victim"
    victim.write_bytes(b"precious")
    (tmp_path / "out").mkdir()
    (tmp_path / "out" / "grant.pdf").symlink_to(victim)
    write_whole(tmp_path / "out" / "grant.pdf", b"report")
    assert victim.read_bytes() == b"precious"
    assert (tmp_path / "out" / "grant.pdf").read_bytes() == b"report"


def test_a_folder_in_the_way_is_one_sentence(tmp_path: Path) -> None:
    (tmp_path / "grant.pdf" / "x").mkdir(parents=True)
    with pytest.raises(CannotRun, match="cannot be written"):
        write_whole(tmp_path / "grant.pdf", b"x")
    with pytest.raises(CannotRun, match="cannot be written"):
        write_whole(tmp_path / "grant.pdf" / "x" / ("n" * 300), b"x")


def test_no_path_leaves_the_output_folder(tmp_path: Path) -> None:
    out = tmp_path / "out"
    out.mkdir()
    (out / "link").symlink_to(tmp_path)
    assert inside(out, out / "a.pdf") == out / "a.pdf"
    for path in (out / ".." / "a.pdf", tmp_path / "outer.pdf", out / "link" / "a.pdf"):
        with pytest.raises(CannotRun, match="outside"):
            inside(out, path)
