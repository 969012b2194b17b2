"""What LibreOffice makes of the same files, as a judge of ours (skipped where it is not installed)."""

from __future__ import annotations

import datetime as dt
import io
import shutil
import subprocess
from pathlib import Path

import pytest
import xlsxwriter
from make_xlsb import xlsb
from open_all import open_all

OFFICE = shutil.which("soffice")
ROWS: list[list[object]] = [
    ["Date", "Weight (lb)"],
    [dt.date(2025, 3, 1), 12.5],
    [None, 7.0, True, "a, b"],
]


def _by_xlsxwriter() -> bytes:
    out = io.BytesIO()
    with xlsxwriter.Workbook(out, {"in_memory": True}) as book:
        sheet = book.add_worksheet("Log")
        sheet.write_row("A1", ["Date", "Weight (lb)"])
        sheet.write_datetime("A2", dt.date(2025, 3, 1), book.add_format({"num_format": "d mmm yy"}))
        sheet.write("B2", 12.5)
        sheet.write("B3", 7)
        sheet.write("C3", True)
        sheet.write("D3", "a, b")
        sheet.merge_range("A5:C6", "merged")
        sheet.write_formula("A8", "=1/0", None, "#DIV/0!")
        book.add_worksheet("Off").hide()
    return out.getvalue()


@pytest.mark.skipif(OFFICE is None, reason="LibreOffice is not installed")
def test_libreoffice_reads_and_writes_the_same_cells(tmp_path: Path) -> None:
    source, result = tmp_path / "source", tmp_path / "result"
    source.mkdir()
    (source / "a.xlsx").write_bytes(_by_xlsxwriter())
    (source / "b.xlsb").write_bytes(
        xlsb({"Log": ROWS, "Off": [["x"]]}, hidden=("Off",), merged=((2, 1, 3, 1),), date_1904=True)
    )
    home = f"-env:UserInstallation={(tmp_path / 'home').as_uri()}"
    for form in ("ods", "xls", "xlsx:Calc MS Excel 2007 XML"):
        subprocess.run(
            [str(OFFICE), home, "--headless", "--convert-to", form, "--outdir", str(result)]
            + [str(path) for path in sorted(source.iterdir())],
            check=True,
            capture_output=True,
            timeout=120,
        )
    opened = open_all(result)
    assert sorted(opened) == [f"{name}.{form}" for name in "ab" for form in ("ods", "xls", "xlsx")]
    for name, one in opened.items():
        assert [(g.sheet, g.hidden) for g in one.grids] == [("Log", False), ("Off", True)], name
        log = one.grids[0]
        assert log.rows[:3] == ROWS, name
        assert log.merged == (((5, 1, 6, 3),) if name[0] == "a" else ((2, 1, 3, 1),)), name
    for form in ("ods", "xlsx"):
        assert opened[f"a.{form}"].grids[0].rows[7] == ["#DIV/0!"]
