"""Files and sheets that say again what others say count once, and are asked about."""

from __future__ import annotations

import datetime as dt
import random
import shutil
from itertools import permutations
from pathlib import Path

import pandas as pd
import pytest
from rounds import rounds

from divert.core.ledger import tidy
from divert.core.reading import Reading
from divert.ingest import read_folder
from divert.ingest.checks.near_copies import near_copies
from divert.site.read import read_site

from .yard import LB, ROWS, TODAY, book, books, text, yard

WHOLE = sum(range(100, 112)) * LB  # 1,266 lb
ONE_MORE = (dt.date(2025, 6, 2), "Alder Street", "kitchen scraps", 90)


def read(folder: Path) -> Reading:
    return read_folder(read_site(folder), TODAY)


def copies(reading: Reading) -> dict[str, str | None]:
    return {f.name: f.answer for f in reading.findings if f.code == "near copy"}


def kg(reading: Reading) -> float:
    return float(reading.entries["mass_kg"].sum())


def test_a_conflicted_copy_with_a_row_more_is_set_aside_whole_and_shows_the_row(
    tmp_path: Path,
) -> None:
    folder = yard(tmp_path / "yard")
    book(folder / "log.xlsx")
    book(folder / "log (conflicted copy).xlsx", (*ROWS, ONE_MORE))
    reading = read(folder)
    assert kg(reading) == pytest.approx(WHOLE)
    assert copies(reading) == {"log (conflicted copy).xlsx": None}
    (finding,) = (f for f in reading.findings if f.code == "near copy")
    assert finding.blocks and finding.rows == 13
    assert [line.values["row"] for line in finding.shown] == [
        "2025-06-02, Alder Street, kitchen scraps, 90 lb"
    ]
    assert reading.held is not None and float(reading.held["mass_kg"].sum()) == pytest.approx(
        WHOLE + 90 * LB
    )
    # Each row that is held back names the question whose answer lets it count.
    assert set(reading.held["about"]) == {finding.about}


def test_an_export_of_one_tab_as_csv_or_ods_beside_the_workbook_is_found(tmp_path: Path) -> None:
    from odf.opendocument import OpenDocumentSpreadsheet
    from odf.table import Table, TableCell, TableRow
    from odf.text import P

    folder = yard(tmp_path / "yard")
    book(folder / "log.xlsx")
    text(folder / "intake.csv")
    made = OpenDocumentSpreadsheet()
    table = Table(name="Intake")
    for row in (("Date", "Source", "Material", "Weight (lb)"), *ROWS):
        line = TableRow()
        for cell in row:
            one = TableCell(valuetype="string")
            one.addElement(P(text=str(cell)))
            line.addElement(one)
        table.addElement(line)
    made.spreadsheet.addElement(table)
    made.save(str(folder / "intake.ods"))
    reading = read(folder)
    assert kg(reading) == pytest.approx(WHOLE)
    assert "intake.csv" in copies(reading) and len(copies(reading)) == 2


def test_an_older_backup_in_a_folder_below_is_found(tmp_path: Path) -> None:
    folder = yard(tmp_path / "yard")
    book(folder / "log.xlsx")
    book(folder / "kept" / "2025-05.xlsx", ROWS[:8])
    reading = read(folder)
    assert kg(reading) == pytest.approx(WHOLE)
    assert set(copies(reading)) == {"kept/2025-05.xlsx"}


def test_a_sheet_that_gathers_the_others_of_its_workbook_is_found(tmp_path: Path) -> None:
    folder = yard(tmp_path / "yard")
    head = ("Date", "Source", "Material", "Weight (lb)")
    books(
        folder / "log.xlsx",
        {"March": (head, *ROWS[:5]), "April": (head, *ROWS[5:9]), "All": (head, *ROWS[:9])},
    )
    reading = read(folder)
    assert kg(reading) == pytest.approx(sum(range(100, 109)) * LB)
    assert len(copies(reading)) >= 1


@pytest.mark.parametrize("same_days", [True, False])
def test_two_true_logs_of_the_same_weekly_rounds_pass(tmp_path: Path, same_days: bool) -> None:
    """Two crews on the same round: other sources on the same days, or the same on other days."""
    folder = yard(tmp_path / "yard")
    rounds = [
        (day + dt.timedelta(0 if same_days else 1), "Fernside House" if same_days else source,
         "kitchen scraps", pounds)
        for day, source, _, pounds in ROWS
        if not same_days or source == "Alder Street"
    ]  # fmt: skip
    mine = [r for r in ROWS if not same_days or r[1] == "Alder Street"]
    book(folder / "north.xlsx", mine)
    book(folder / "south.xlsx", rounds)
    reading = read(folder)
    assert copies(reading) == {}
    assert len(reading.entries) == len(mine) + len(rounds)


def test_rounds_that_agree_now_and_then_pass(tmp_path: Path) -> None:
    """Totes are few numbers: of twelve visits of two drivers on one day six agree by chance."""
    folder = yard(tmp_path / "yard")
    head = ("Date", "Source", "Material", "Weight (lb)")
    first = [(*r[:3], 10 * (1 + n % 3)) for n, r in enumerate(ROWS)]
    second = [(*r[:3], 10 * (1 + n // 4)) for n, r in enumerate(ROWS)]
    book(folder / "driver one.xlsx", first, head=head)
    book(folder / "driver two.xlsx", second, head=head)
    reading = read(folder)
    assert copies(reading) == {} and len(reading.entries) == 24


@pytest.mark.parametrize(
    ("verdict", "pounds"),
    [("leave out", 1266), ("count", 1266 + 1266 + 90), ("count instead", 1266 + 90)],
)
def test_an_answer_says_which_of_two_counts(tmp_path: Path, verdict: str, pounds: int) -> None:
    answer = (
        '\n[[answer]]\nabout = "near copy: log (conflicted copy).xlsx"\n'
        f'reason = "looked at both"\nverdict = "{verdict}"\n'
    )
    folder = yard(tmp_path / "yard", answer)
    book(folder / "log.xlsx")
    book(folder / "log (conflicted copy).xlsx", (*ROWS, ONE_MORE))
    reading = read(folder)
    assert kg(reading) == pytest.approx(pounds * LB)
    assert all(answer for answer in copies(reading).values())


def test_of_two_equal_files_the_one_read_before_counts(tmp_path: Path) -> None:
    folder = yard(tmp_path / "yard")
    book(folder / "log.xlsx")
    shutil.copy(folder / "log.xlsx", folder / "a log.xlsx")
    reading = read_folder(read_site(folder), TODAY, read_before=("log.xlsx",))
    assert set(reading.entries["file"]) == {"log.xlsx"}


def test_the_cost_grows_with_rows_and_not_with_pairs_of_files() -> None:
    """Each entry is held by at most sixteen groups, whatever the number of files."""
    from divert.ingest.checks import near_copies as module

    looked_at = 0

    class Counted(module._Kept):
        def holder(self, marks, size, in_one):  # type: ignore[no-untyped-def]
            nonlocal looked_at
            marks = list(marks)
            looked_at += sum(len(self._held.get(m, ())) for m in marks)
            return super().holder(marks, size, in_one)

    def looks(files: int) -> int:
        nonlocal looked_at
        looked_at = 0
        # Every file shares two of its ten entries with all others.
        rows = [
            {"kind": "intake", "date": dt.date(2025, 1, 1 + n), "source": "x", "material": "y",
             "mass_kg": 1.0 if n < 2 else 100.0 * f + n, "file": f"{f}.csv", "row": n}
            for f in range(files)
            for n in range(10)
        ]  # fmt: skip
        frame = tidy(pd.DataFrame(rows))
        assert near_copies(frame).found == []
        return looked_at

    kept, module._Kept = module._Kept, Counted
    try:
        few, many = looks(100), looks(1000)
    finally:
        module._Kept = kept
    assert many <= 11 * few


def test_a_million_marks_know_rounded_amounts_as_one() -> None:
    """A CSV prints 12.34 lb where the workbook holds 12.3400000001."""
    rows = [
        {"kind": "intake", "date": dt.date(2025, 1, n + 1), "source": "x", "material": "y",
         "mass_kg": (12.34 + n) * (1 + 1e-9 * f), "file": f"{f}.csv", "row": n}
        for f in range(2)
        for n in range(5)
    ]  # fmt: skip
    (found,) = near_copies(tidy(pd.DataFrame(rows))).found
    assert (found.shared, len(found.differs)) == (5, 0)


def test_where_the_order_is_said_not_to_matter_nothing_is_a_copy_in_any() -> None:
    """A reading is used again whatever was read before it: files of one or two tabs, drawn at random."""
    drawn, settled = random.Random(9), 0
    for _ in range(rounds(40, 2_000)):
        rows = [
            {"kind": "intake", "date": dt.date(2025, 1, began + n), "source": source, "material": "y",
             "mass_kg": 1.0, "file": f"{file}.csv", "sheet": sheet, "row": n}
            for file in "abc"
            for source in [drawn.choice((None, "x"))]
            for sheet in drawn.choice((("",), ("May", "June")))
            for began in [drawn.choice((1, 3, 6, 9, 12, 15, 18))]
            for n in range(drawn.randint(1, 9))
        ]  # fmt: skip
        frame = tidy(pd.DataFrame(rows))
        if near_copies(frame).by_order:
            continue
        settled += 1
        for first in permutations(("a.csv", "b.csv", "c.csv")):
            assert near_copies(frame, first).found == [], (rows, first)
    assert settled
