"""Reading while files change, children die and sheets fail: named, never silent, never the end."""

from __future__ import annotations

import datetime as dt
import os
import sys
from pathlib import Path

import pytest
from fault_rewrites import rewritten
from hostile import site

from divert.convert import work_out
from divert.core.findings import CannotRun
from divert.core.reading import Reading
from divert.factors import load_factors
from divert.ingest import file_bytes, take
from divert.ingest import reader as reader_module
from divert.ingest.opening import open_folder
from divert.ingest.read import read_folder
from divert.ingest.reader import Reader

AS_OF = dt.date(2025, 7, 1)
LOG = "Date,Source,Material,Weight (lb)\n2025-03-01,Quillmarsh School,food scraps,{}\n"


def read(folder: Path) -> Reading:
    return read_folder(site(folder), AS_OF)


def found(reading: Reading, code: str) -> list[str]:
    return [f"{f.where.file}: {f.message}" for f in reading.findings if f.code == code]


@pytest.fixture
def waiting(monkeypatch: pytest.MonkeyPatch) -> None:
    """Wait for a file to rest, as the program does (tests' files are not waited for)."""
    monkeypatch.setattr(file_bytes, "REST_SECONDS", 0.2)


def test_a_file_whose_writer_pauses_is_read_when_it_is_whole(
    tmp_path: Path, waiting: None, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "log.csv"
    path.write_bytes(b"half,")
    waited: list[float] = []

    def goes_on(seconds: float) -> None:
        waited.append(seconds)
        path.write_bytes(b"half,whole")
        if len(waited) > 1:  # and then it rests
            os.utime(path, (0, 0))

    monkeypatch.setattr(file_bytes.time, "sleep", goes_on)
    data, state = file_bytes.bytes_of(path)
    assert (data, state.size) == (b"half,whole", 10)
    assert waited and all(0 < seconds <= 0.2 for seconds in waited)


def test_a_log_rewritten_while_it_is_read_is_whole_or_named(tmp_path: Path, waiting: None) -> None:
    told = rewritten(tmp_path, tries=4)
    assert told.silent == 0 and told.whole + told.said == 4


def test_a_file_written_to_after_it_was_read_is_named(tmp_path: Path) -> None:
    (tmp_path / "a.csv").write_text(LOG.format(4))
    (tmp_path / "b.csv").write_text(LOG.format(5))
    opened = open_folder(site(tmp_path))
    first = next(opened)
    (tmp_path / "a.csv").write_text(LOG.format(4) + "2025-03-02,Quillmarsh School,leaves,9\n")
    rest = list(opened)
    assert first.findings == ()
    (last,) = rest[-1].findings
    assert last.where.file == "a.csv" and "was written to while it was read" in str(last.message)


def test_a_child_that_was_ended_is_started_afresh_once_for_the_same_file(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The first child dies at its first file, as one does whose memory the machine needed."""
    died = tmp_path / "died"
    log = tmp_path / "yard" / "log.csv"
    log.parent.mkdir()
    log.write_text(LOG.format(4))
    code = (
        f"import os, pathlib, sys\nflag = pathlib.Path({str(died)!r})\n"
        "if not flag.exists():\n sys.stdin.buffer.readline(); flag.touch(); os.kill(os.getpid(), 9)\n"
        "from divert.sandbox import child\n"
        "child.serve(sys.stdin.buffer, sys.stdout.buffer)"
    )
    monkeypatch.setenv("DIVERT_CACHE", "off")
    (opened,) = open_folder(site(log.parent), reader=Reader([sys.executable, "-c", code]))
    assert died.exists()
    assert [row[3] for row in opened.grids[0].rows] == ["Weight (lb)", "4"]


def test_a_child_that_dies_twice_makes_the_file_unreadable_by_name(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("DIVERT_CACHE", "off")
    (tmp_path / "log.csv").write_text(LOG.format(4))
    code = "import os, sys\nsys.stdin.buffer.readline(); os.kill(os.getpid(), 9)"
    (opened,) = open_folder(site(tmp_path), reader=Reader([sys.executable, "-c", code]))
    assert [f.where.file for f in opened.findings] == ["log.csv"]
    assert opened.grids == ()
    assert reader_module._ENDED_BY[9] == "crash"


def test_a_sheet_that_makes_the_reading_fail_costs_no_other_sheet(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "bad.csv").write_text(LOG.format(4))
    (tmp_path / "good.csv").write_text(LOG.format(5))
    real = take.read_table

    def fail(job, out, *more):
        if job.sheet.file == "bad.csv":
            real(job, out, *more)
            raise IndexError("list index out of range")
        return real(job, out, *more)

    monkeypatch.setattr(take, "read_table", fail)
    monkeypatch.delenv("DIVERT_DEBUG")
    reading = read(tmp_path)
    assert reading.entries["file"].tolist() == ["good.csv"]
    (told,) = [f for f in reading.findings if f.code == "file unreadable"]
    assert told.where.file == "bad.csv" and told.blocks
    assert "IndexError: list index out of range" in str(told.message)


def test_weighings_of_a_csv_file_on_days_without_intake_are_asked_about(tmp_path: Path) -> None:
    (tmp_path / "weigh-ins.csv").write_text(
        "Date,Source,Material,Volume (gal),Weight (lb)\n"
        "2025-03-01,Quillmarsh School,food scraps,10,40\n"
        "2025-03-02,Quillmarsh School,food scraps,10,41\n"
    )
    (tmp_path / "log.csv").write_text(LOG.format(5).replace("03-01", "04-01"))
    assert read(tmp_path) is not None


def test_a_link_to_itself_and_a_file_without_cells_are_named(tmp_path: Path) -> None:
    (tmp_path / "log.csv").write_text(LOG.format(5))
    (tmp_path / "l.xlsx").symlink_to("l.xlsx")
    (tmp_path / "blank.csv").write_text(",,\n,,\n")
    reading = read(tmp_path)
    assert "l.xlsx" in found(reading, "file unreadable")[0]
    assert found(reading, "sheet not read") == [
        "blank.csv: there is nothing in any cell of this file"
    ]


def test_a_code_under_weight_is_no_load_and_a_heavy_load_is_asked_about(tmp_path: Path) -> None:
    """4006381333931 lb would be 1.8 thousand million tonnes; 120,000 lb are 54.4 t."""
    (tmp_path / "log.csv").write_text(
        LOG.format(4006381333931) + "2025-03-02,Quillmarsh School,food scraps,120000\n"
        "2025-03-03,Quillmarsh School,food scraps,1e300\n"
        "2025-03-04,Quillmarsh School,food scraps,110000\n"
    )
    workings = work_out(site(tmp_path), read(tmp_path), load_factors())
    assert workings.ledger["row"].tolist() == [3, 5]
    told = [(f.level, f.code, f.where.row) for f in workings.findings if "load" in f.code]
    assert told == [
        ("refused", "larger than any load", 2), ("refused", "larger than any load", 4),
        ("query", "load above 50 tonnes", 3),
    ]  # fmt: skip
    assert all(str(f.message) for f in workings.findings)


def test_a_text_of_one_line_of_a_million_cells_is_refused_in_no_time(tmp_path: Path) -> None:
    (tmp_path / "long.csv").write_text("Date,lb\n" + "7," * 1_000_000)
    (opened,) = open_folder(site(tmp_path))
    assert "more than 16384 cells" in str(opened.findings[0].message).replace(",", "")


def test_a_reader_that_fails_its_specimen_stops_the_run(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """As a version of the library that lacks what is asked of it would."""
    monkeypatch.setenv("DIVERT_CACHE", "off")
    (tmp_path / "log.csv").write_text(LOG.format(4))
    code = (
        "import sys\nfrom divert.sandbox import child\n"
        "def read(data, suffix):\n raise AttributeError('merged_cell_ranges')\n yield\n"
        "child.read = read\nchild.serve(sys.stdin.buffer, sys.stdout.buffer)"
    )
    with pytest.raises(CannotRun, match="does not read a specimen"):
        list(open_folder(site(tmp_path), reader=Reader([sys.executable, "-c", code])))
