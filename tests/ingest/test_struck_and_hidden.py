"""What only a workbook's own marks tell: rows struck through in either format, hidden rows and columns."""

from __future__ import annotations

import datetime as dt
from collections.abc import Sequence
from pathlib import Path
from typing import Any

import pytest

from divert.core.reading import Reading
from divert.ingest.read import read_folder

from .corpus import writers
from .corpus.book import AS_OF, LB, site
from .test_explain_or_ask import d

_ROWS: list[list[Any]] = [
    ["Date", "Source", "Material", "lb"],
    [d("3-03"), "hotel", "food scraps", 40],
    [d("3-10"), "school", "food scraps", 44],
    [d("3-17"), "hotel", "food scraps", 51],
]


def _pounds(reading: Reading) -> list[int]:
    return [round(kg / LB) for kg in reading.entries["mass_kg"]]


def _asked(reading: Reading) -> list[tuple[int | None, str]]:
    return [
        (f.where.row, f.message.say("en")) for f in reading.findings if f.code == "not explained"
    ]


def _workbook(
    path: Path,
    rows: Sequence[Sequence[Any]],
    hidden: Sequence[int] = (),
    columns: Sequence[int] = (),
    filtered: bool = False,
) -> None:
    import xlsxwriter

    with xlsxwriter.Workbook(path, {"default_date_format": "yyyy-mm-dd"}) as book:
        sheet = book.add_worksheet("Log")
        for r, row in enumerate(rows):
            for c, cell in enumerate(row):
                if isinstance(cell, dt.date):
                    sheet.write_datetime(r, c, dt.datetime(cell.year, cell.month, cell.day))
                elif cell is not None:
                    sheet.write(r, c, cell)
        for row_number in hidden:
            sheet.set_row(row_number - 1, None, None, {"hidden": True})
        for column in columns:
            sheet.set_column(column, column, None, None, {"hidden": True})
        if filtered:
            sheet.autofilter(0, 0, len(rows) - 1, 3)
            sheet.filter_column_list(1, ["hotel"])


def test_a_row_struck_through_in_an_ods_file_is_asked_about(tmp_path: Path) -> None:
    writers.ods(tmp_path / "log.ods", {"Log": _ROWS}, struck={"Log": [3]})
    reading = read_folder(site(tmp_path), AS_OF)
    assert _pounds(reading) == [40, 51]
    ((row, said),) = _asked(reading)
    assert row == 3
    assert "struck through" in said and "44 lb" in said


@pytest.mark.parametrize("form", ["xlsx", "ods"])
def test_a_hidden_row_with_a_load_is_asked_about(tmp_path: Path, form: str) -> None:
    if form == "xlsx":
        _workbook(tmp_path / "log.xlsx", _ROWS, hidden=[3])
    else:
        writers.ods(tmp_path / "log.ods", {"Log": _ROWS}, hidden={"Log": [3]})
    reading = read_folder(site(tmp_path), AS_OF)
    assert _pounds(reading) == [40, 51]
    ((row, said),) = _asked(reading)
    assert row == 3
    assert "hidden" in said and "44 lb" in said


def test_rows_that_a_filter_leaves_out_are_loads_like_the_others(tmp_path: Path) -> None:
    _workbook(tmp_path / "log.xlsx", _ROWS, hidden=[3], filtered=True)
    reading = read_folder(site(tmp_path), AS_OF)
    assert (_pounds(reading), _asked(reading)) == ([40, 44, 51], [])


def test_amounts_in_a_hidden_column_beside_others_are_asked_about(tmp_path: Path) -> None:
    rows = [[*row, more] for row, more in zip(_ROWS, ["Covers", 210, 180, 240], strict=True)]
    _workbook(tmp_path / "log.xlsx", rows, columns=[3])
    reading = read_folder(site(tmp_path), AS_OF)
    assert _pounds(reading) == []
    ((_, said),) = _asked(reading)
    assert "“lb”" in said and "is hidden" in said


def test_a_column_that_is_no_amount_may_be_hidden(tmp_path: Path) -> None:
    _workbook(tmp_path / "log.xlsx", _ROWS, columns=[1])
    reading = read_folder(site(tmp_path), AS_OF)
    assert (_pounds(reading), _asked(reading)) == ([40, 44, 51], [])
