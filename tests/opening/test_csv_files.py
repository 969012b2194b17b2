"""CSV and TSV files: letters, separators, quotes, and lines that go wrong."""

from __future__ import annotations

from pathlib import Path

import pytest
from open_all import open_all, open_bytes, rows_of

HEADING = ["Date", "Où", "Weight (lb)", "Notes"]
FIRST = ["2025-03-01", "café", "12.5"]
TABLE = [HEADING, FIRST, ["2025-03-02", "Öko-Küche", "7", "½ pail"]]


def _text(mark: str) -> str:
    return "".join(mark.join(row) + "\r\n" for row in TABLE)


def test_letters_and_separators(tmp_path: Path) -> None:
    encodings = ("utf-8", "utf-8-sig", "utf-16", "utf-16-le", "utf-16-be", "utf-32", "cp1252")
    for encoding in encodings:
        for name, mark in (("comma", ","), ("semicolon", ";"), ("tab", "\t")):
            for suffix in ("csv", "tsv"):
                file = tmp_path / f"{encoding} {name}.{suffix}"
                file.write_bytes(_text(mark).encode(encoding))
    opened = open_all(tmp_path)
    assert len(opened) == 42
    for file, one in opened.items():
        assert one.findings == (), file
        assert [grid.rows for grid in one.grids] == [TABLE], file


@pytest.mark.parametrize(
    ("text", "rows"),
    [
        # A decimal comma in every line must not look like a separator.
        (
            "Date;Poids kg\n2025-03-01;12,5\n2025-03-02;7,25\n",
            [["Date", "Poids kg"], ["2025-03-01", "12,5"], ["2025-03-02", "7,25"]],
        ),
        # Commas in free text of a file parted by tabs.
        ("What\tNotes\nscraps\twet, heavy\n", [["What", "Notes"], ["scraps", "wet, heavy"]]),
        # A title above the table and a remark below it.
        (
            "Kestrel Bend, 2025\n\nDate,lb\n2025-03-01,4\n2025-03-02,5\nall weighed; by RT\n",
            [
                ["Kestrel Bend", " 2025"],
                [],
                ["Date", "lb"],
                ["2025-03-01", "4"],
                ["2025-03-02", "5"],
                ["all weighed; by RT"],
            ],
        ),
        # One column.
        ("Date\n2025-03-01\n", [["Date"], ["2025-03-01"]]),
        # What spreadsheet programs write to say how they parted the cells.
        ("sep=;\na,b;c\n", [["a,b", "c"]]),
        # A cell of two lines is one row.
        ('a,"two\nlines",c\nd,e,f\n', [["a", "two\nlines", "c"], ["d", "e", "f"]]),
        ('lb,"5"" pail"\n', [["lb", '5" pail']]),
        ("a,b\n,,,,\n\nc,d\n,,\n\n", [["a", "b"], [], [], ["c", "d"]]),
    ],
)
def test_what_parts_the_cells(tmp_path: Path, text: str, rows: list[list[str]]) -> None:
    assert rows_of(tmp_path, "log.csv", text.encode()) == rows


def test_a_quote_never_closed_swallows_no_row(tmp_path: Path) -> None:
    lines = [
        "Date,What,lb",
        '2025-03-01,"scraps,4',
        *(f"2025-03-{d:02},scraps,5" for d in range(2, 9)),
    ]
    rows = rows_of(tmp_path, "log.csv", "\n".join(lines).encode())
    assert len(rows) == len(lines)
    assert rows[0] == ["Date", "What", "lb"]
    assert rows[-1] == ["2025-03-08", "scraps", "5"]


def test_a_quote_closed_by_a_later_row_swallows_no_row(tmp_path: Path) -> None:
    text = 'Date,What,lb\n2025-03-01,"scraps,4\n2025-03-02,leaves,5\n2025-03-03,"bread",6\n'
    rows = rows_of(tmp_path, "log.csv", text.encode())
    assert [row[0] for row in rows] == ["Date", "2025-03-01", "2025-03-02", "2025-03-03"]
    assert rows[2:] == [["2025-03-02", "leaves", "5"], ["2025-03-03", "bread", "6"]]


def test_a_csv_file_has_no_sheet_name(tmp_path: Path) -> None:
    (grid,) = open_bytes(tmp_path, "log.csv", b"a,b\n").grids
    assert (grid.sheet, grid.hidden, grid.merged) == ("", False, ())
