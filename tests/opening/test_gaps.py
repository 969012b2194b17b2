"""A sheet with an enormous empty stretch gives the cells that it gives when calamine makes all of it."""

from __future__ import annotations

import datetime as dt
import io
import json
import random
import zipfile

import openpyxl
import pytest
import xlsxwriter
from openpyxl.comments import Comment
from openpyxl.styles import Font

from divert.sandbox import child, frames, gaps, limits, ooxml, package

SHEET = "xl/worksheets/sheet1.xml"
LAST = 1_048_576


def read(data: bytes) -> list[tuple[str, object]]:
    """Return what the child tells of a workbook, each row by its number, empty ones left out."""
    told: list[tuple[str, object]] = []
    at = 0
    for kind, body in child.read(data, ".xlsx"):
        if kind == b"R":
            rows = frames.rows_in(body)
            told += [("row", (at + n, row)) for n, row in enumerate(rows) if row]
            at += len(rows)
        else:
            told.append((kind.decode(), json.loads(body)))
            at = 0
    return told


def as_calamine_gives_it(data: bytes, patched: pytest.MonkeyPatch) -> list[tuple[str, object]]:
    with patched.context() as without:
        without.setattr(gaps, "may_have", lambda *_: False)
        return read(data)


def made(seed: int) -> bytes:
    """Make a workbook of two sheets with gaps, and all that is told of cells beside their values."""
    draw = random.Random(seed)
    book = openpyxl.Workbook()
    for name in ("Log", "Log 2"):
        sheet = book.active if name == "Log" else book.create_sheet(name)
        row = draw.choice([1, 1, 3, 30_000])
        for _ in range(draw.randint(1, 3)):
            for _ in range(draw.randint(1, 30)):
                sheet.cell(row, 1, dt.date(2025, 1, 1) + dt.timedelta(draw.randint(0, 300)))
                sheet.cell(row, 2, draw.choice(["Cafe & Co <1>", "wet", 'said "no"', None]))
                sheet.cell(row, draw.randint(3, 6), draw.choice([12.5, 3, True, "#N/A", "=A1+1"]))
                if draw.random() < 0.1:
                    sheet.row_dimensions[row].hidden = True
                if draw.random() < 0.1:
                    for column in range(1, 7):
                        sheet.cell(row, column).font = Font(strike=True)
                if draw.random() < 0.1:
                    sheet.cell(row, 1).comment = Comment("asked", "crew")
                if draw.random() < 0.1:
                    sheet.merge_cells(start_row=row, end_row=row + 1, start_column=7, end_column=8)
                row += draw.choice([1, 1, 1, 2, 40])
            row += draw.choice([5, 9_999, 10_000, 10_001, 50_000])
        sheet.cell(row + 20_000, 2, "x")
    out = io.BytesIO()
    book.save(out)
    return out.getvalue()


@pytest.mark.parametrize("seed", range(12))
def test_cells_and_what_is_told_of_them_are_the_same_either_way(
    seed: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    data = made(seed)
    look = package.look_through(data)
    suspects = [n for n, s in ooxml.looked_into(look).items() if s.last_row > 10_000]
    assert gaps.closed_up(look, suspects)[0]
    assert read(data) == as_calamine_gives_it(data, monkeypatch)


def stray(row: int = LAST, column: int = 0) -> bytes:
    out = io.BytesIO()
    with xlsxwriter.Workbook(out, {"in_memory": True}) as book:
        sheet = book.add_worksheet()
        sheet.write_row(0, 0, ["Date", "lb"])
        sheet.write_row(1, 0, [dt.date(2025, 3, 4).isoformat(), 40])
        sheet.write_row(row - 1, column, ["x", "y"])
    return out.getvalue()


def with_sheet(data: bytes, old: bytes, new: bytes) -> bytes:
    out = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(data)) as given, zipfile.ZipFile(out, "w") as made:
        for name in given.namelist():
            body = given.read(name)
            assert name != SHEET or old in body
            made.writestr(name, body.replace(old, new) if name == SHEET else body)
    return out.getvalue()


def test_a_word_in_the_last_row_is_told_there_and_calamine_makes_no_cell_between(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    made_cells: list[int] = []
    real = gaps.Gaps.opened

    def opened(shut: gaps.Gaps, row: int) -> int:
        made_cells.append(row)
        return real(shut, row)

    monkeypatch.setattr(gaps.Gaps, "opened", opened)
    rows = [what for kind, what in read(stray()) if kind == "row"]
    assert rows == [(0, ["Date", "lb"]), (1, ["2025-03-04", 40]), (LAST - 1, ["x", "y"])]
    assert made_cells == [2]  # the last row that calamine knew of, from 0


@pytest.mark.parametrize(
    ("old", "new"),
    [
        (b'<row r="2"', b"<row"),
        (b'<c r="A2"', b"<c"),
        (b'r="A1048576"', b'r="A7"'),
        (b'<row r="2"', b"<!-- no row --><row r='2'"),
        (b'<row r="1048576"', b'<row r="1"'),
    ],
)
def test_a_sheet_whose_rows_or_cells_do_not_tell_their_own_number_is_left_to_calamine(
    old: bytes, new: bytes, monkeypatch: pytest.MonkeyPatch
) -> None:
    data = with_sheet(stray(40_000) if b"1048576" not in old else stray(), old, new)
    assert read(data) == as_calamine_gives_it(data, monkeypatch)


def test_rows_without_end_are_not_gone_through(monkeypatch: pytest.MonkeyPatch) -> None:
    empty = b"".join(b'<row r="%d"/>' % n for n in range(3, 100_003))
    data = with_sheet(stray(), b'<row r="1048576"', empty + b'<row r="1048576"')
    monkeypatch.setattr(gaps, "_ROW", None)  # would be asked for each of them
    rows = [what for kind, what in read(data) if kind == "row"]
    assert rows == [(0, ["Date", "lb"]), (1, ["2025-03-04", 40]), (LAST - 1, ["x", "y"])]


def test_what_would_take_too_much_memory_by_its_corners_is_refused_still() -> None:
    assert read(stray(column=limits.PLACES // LAST - 2))[-1][0] == "row"
    told = list(child._answer(stray(column=limits.PLACES // LAST - 1), ".xlsx"))
    assert told[-1][0] == frames.packed(b"X", frames.note("memory"))


def test_the_number_of_the_last_row_is_found_where_the_parts_pieces_are_cut(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    for step in range(40, 90, 7):
        monkeypatch.setattr(package, "_STEP_OUT", step)
        held = ooxml.looked_into(package.look_through(stray(20_000)))
        assert held[SHEET].last_row == 20_000
