"""Which files of a folder are opened, and what is said of the others."""

from __future__ import annotations

import hashlib
import io
import os
from pathlib import Path

import openpyxl
import pytest
import xlsxwriter
from open_all import open_all, site

from divert.core import ledger
from divert.core.findings import CODES, CannotRun
from divert.core.mark import MARK, TABLES, first_line
from divert.ingest.opening import open_folder

CSV = b"Date,lb\n2025-03-01,4\n"


def _put(folder: Path, *names: str) -> None:
    for name in names:
        path = folder / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(CSV)


def test_what_is_read_and_in_what_order(tmp_path: Path) -> None:
    _put(tmp_path, "b.csv", "2024/Jan.CSV", "a.tsv", "2024/reports/x.csv", "sub/factors.csv")
    _put(tmp_path, "reports/2025/grant.csv", "issued/1/ledger.csv", "factors.csv")
    _put(tmp_path, "~$b.csv", ".~lock.b.csv", ".hidden.csv", ".cache/y.csv", "2024/.git/z.csv")
    _put(tmp_path, "notes.txt", "site.toml", "photo.jpg")
    assert list(open_all(tmp_path)) == [
        "2024/Jan.CSV",
        "2024/reports/x.csv",
        "a.tsv",
        "b.csv",
        "sub/factors.csv",
    ]


def test_the_fingerprint_is_of_the_bytes(tmp_path: Path) -> None:
    _put(tmp_path, "a.csv")
    source = open_all(tmp_path)["a.csv"].input
    assert source.sha256 == hashlib.sha256(CSV).hexdigest()
    assert source.size == len(CSV)


def test_an_empty_folder_gives_nothing_and_none_at_all_one_sentence(tmp_path: Path) -> None:
    assert open_all(tmp_path) == {}
    with pytest.raises(CannotRun, match="cannot be listed"):
        open_folder(site(tmp_path / "nowhere"))


def test_links_are_not_followed_out_of_the_folder(tmp_path: Path) -> None:
    outside = tmp_path / "outside"
    _put(outside, "secret.csv", "more/deep.csv")
    inside = tmp_path / "site"
    _put(inside, "a.csv")
    (inside / "leak.csv").symlink_to(outside / "secret.csv")
    (inside / "folder").symlink_to(outside)
    (inside / "again.csv").symlink_to(inside / "a.csv")
    (inside / "loop").symlink_to(inside)
    opened = open_all(inside)
    assert list(opened) == ["a.csv", "folder", "leak.csv"]
    for name in ("folder", "leak.csv"):
        assert opened[name].grids == ()
        assert [f.code for f in opened[name].findings] == ["sheet not read"]


def test_a_link_put_in_a_files_place_after_it_was_found_is_not_followed(tmp_path: Path) -> None:
    _put(tmp_path, "outside/secret.csv", "site/a.csv")
    opening = open_folder(site(tmp_path / "site"))  # lists the folder at once, reads when asked
    (tmp_path / "site/a.csv").unlink()
    (tmp_path / "site/a.csv").symlink_to(tmp_path / "outside/secret.csv")
    (opened,) = opening
    assert opened.grids == ()
    assert [f.code for f in opened.findings] == ["file unreadable"]


def test_a_pipe_named_like_a_spreadsheet_does_not_make_the_run_wait(tmp_path: Path) -> None:
    _put(tmp_path, "a.csv")
    os.mkfifo(tmp_path / "b.csv")
    opened = open_all(tmp_path)
    assert len(opened["a.csv"].grids) == 1
    assert [f.code for f in opened["b.csv"].findings] == ["file unreadable"]


def test_a_name_that_cannot_be_printed_is_made_fit(tmp_path: Path) -> None:
    (Path(os.fsdecode(os.fsencode(tmp_path) + b"/caf\xe9\n.csv"))).write_bytes(CSV)
    (name,) = open_all(tmp_path)
    assert name == "caf��.csv"
    name.encode("utf-8")


def test_other_spreadsheets_are_said_and_not_read(tmp_path: Path) -> None:
    _put(tmp_path, "log.numbers", "log.gsheet")
    for opened in open_all(tmp_path).values():
        assert opened.grids == ()
        assert [f.level for f in opened.findings] == ["note"]


def _workbook(mark: str | None = None, first: str = "Date") -> bytes:
    out = io.BytesIO()
    with xlsxwriter.Workbook(out, {"in_memory": True}) as book:
        book.add_worksheet().write("A1", first)
        if mark:
            book.set_custom_property(mark, "evidence")
    return out.getvalue()


def _saved_again(data: bytes) -> bytes:
    out = io.BytesIO()
    openpyxl.load_workbook(io.BytesIO(data)).save(out)
    return out.getvalue()


@pytest.mark.parametrize(
    ("name", "data"),
    [
        ("evidence.xlsx", _workbook(MARK)),
        ("renamed log.xlsx", _saved_again(_workbook(MARK))),
        ("cell.xlsx", _workbook(first=first_line("evidence"))),
        ("comment.csv", (first_line("ledger") + "\nDate,lb\n").encode()),
        ("ledger.csv", (",".join(ledger.COLUMNS) + "\nintake,2025-03-01\n").encode()),
        ("quoted.csv", (",".join(f'"{c}"' for c in ledger.COLUMNS) + "\n").encode("utf-8-sig")),
        ("regional.csv", (";".join(ledger.COLUMNS) + "\n").encode()),
    ],
    ids=lambda value: value if isinstance(value, str) else "",  # bytes hold the hour they were made
)
def test_what_this_tool_wrote_is_not_read_as_data(tmp_path: Path, name: str, data: bytes) -> None:
    (tmp_path / name).write_bytes(data)
    opened = open_all(tmp_path)[name]
    assert opened.ours
    assert opened.grids == ()
    assert [(f.level, f.code) for f in opened.findings] == [("note", "written by this tool")]


def test_a_crews_own_file_is_not_taken_for_ours(tmp_path: Path) -> None:
    (tmp_path / "a.xlsx").write_bytes(_workbook("made-with"))
    (tmp_path / "b.csv").write_bytes(b"kind,date,source,material\n")
    assert not any(opened.ours for opened in open_all(tmp_path).values())


def test_the_mark_knows_the_ledgers_heading() -> None:
    assert TABLES[0] == ledger.COLUMNS


def test_progress_counts_rows_up(tmp_path: Path) -> None:
    rows = "".join(f"2025-03-01,{n}\n" for n in range(1000))
    (tmp_path / "a.csv").write_text(rows)
    (tmp_path / "b.csv").write_text(rows)
    seen: list[int] = []
    for _ in open_folder(site(tmp_path), seen.append):
        pass
    assert seen == sorted(seen)
    assert seen[-1] == 2000


def test_every_finding_has_a_known_code(tmp_path: Path) -> None:
    _put(tmp_path, "log.numbers")
    (tmp_path / "bad.xlsx").write_bytes(b"PK\x03\x04 nothing")
    (tmp_path / "ours.csv").write_text(first_line("ledger"))
    found = [f for opened in open_all(tmp_path).values() for f in opened.findings]
    assert len(found) == 3
    assert {f.code for f in found} <= set(CODES)
