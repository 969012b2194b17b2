"""A folder that says less than it did is asked about, with the mass that is missing."""

from __future__ import annotations

import datetime as dt
import json
import os
import shutil
from pathlib import Path

import pytest

from divert.convert import Workings
from divert.core.findings import CannotRun, Finding
from divert.core.period import read_period
from divert.figures.as_json import to_json
from divert.figures.compute import figures_for
from divert.inventory.open_site import open_site
from divert.inventory.questions import questions
from divert.publish.write import write_reports
from divert.report.paper.pdf import NoPango, weasyprint

from .yard import LB, ROWS, TODAY, book, books, text, yard

YEAR = read_period("2025", as_of=TODAY, started=dt.date(2025, 1, 1), year_starts=1)
WHOLE = 1266  # lb


def opened(folder: Path, day: dt.date = TODAY) -> Workings:
    return open_site(folder, as_of=day, remember=True)


def missing(workings: Workings) -> list[Finding]:
    return [f for f in workings.findings if f.blocks and f.answer is None]


def pounds(finding: Finding) -> float:
    assert finding.mass_kg is not None
    return finding.mass_kg / LB


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    folder = yard(tmp_path / "yard")
    book(folder / "log.xlsx", ROWS[:6])
    text(folder / "late.csv", ROWS[6:])
    opened(folder)
    return folder


def test_a_second_reading_of_the_same_asks_nothing_and_writes_nothing(folder: Path) -> None:
    kept = folder / "inventory.json"
    before = kept.read_bytes(), kept.stat().st_mtime_ns, kept.stat().st_ino
    assert missing(opened(folder)) == []
    assert (kept.read_bytes(), kept.stat().st_mtime_ns, kept.stat().st_ino) == before


def test_a_reading_of_another_day_is_kept_with_its_day(folder: Path) -> None:
    tomorrow = TODAY + dt.timedelta(days=1)
    assert missing(opened(folder, tomorrow)) == []
    assert json.loads((folder / "inventory.json").read_text())["as_of"] == tomorrow.isoformat()


def test_a_person_can_read_the_inventory(folder: Path) -> None:
    kept = json.loads((folder / "inventory.json").read_text())
    late, log = kept["files"]
    assert (late["file"], log["file"]) == ("late.csv", "log.xlsx")
    # 100 + 101 + ... + 104 lb on the five Mondays of March, 105 lb on 7 April.
    assert log["mass_kg_by_month"] == {
        "2025-03": round(510 * LB, 6), "2025-04": round(105 * LB, 6)
    }  # fmt: skip
    assert log["sheets"] == [
        {"sheet": "Intake", "rows": 6, "first": "2025-03-03", "last": "2025-04-07"}
    ]


def test_a_file_that_is_gone_is_named_with_its_mass_until_it_is_back(folder: Path) -> None:
    (folder / "log.xlsx").rename(folder.parent / "log.xlsx")
    for _ in range(2):  # it is asked again, and not forgotten
        (finding,) = missing(opened(folder))
        assert finding.code == "file gone" and finding.where.file == "log.xlsx"
        assert pounds(finding) == pytest.approx(615)
        assert finding.days == (dt.date(2025, 3, 3), dt.date(2025, 4, 7))
    (folder.parent / "log.xlsx").rename(folder / "log.xlsx")
    assert missing(opened(folder)) == []


@pytest.mark.parametrize("size", [0, 12, 400])
def test_a_file_that_cannot_be_read_any_more_is_named_with_its_mass(
    folder: Path, size: int
) -> None:
    os.truncate(folder / "log.xlsx", size)
    (finding,) = missing(opened(folder))
    assert finding.code == "file unreadable" and pounds(finding) == pytest.approx(615)


def test_a_file_that_never_could_be_read_blocks_too(folder: Path) -> None:
    (folder / "second.xlsx").write_bytes(b"")
    (finding,) = missing(opened(folder))
    assert (finding.code, finding.mass_kg, finding.days) == ("file unreadable", None, None)


def test_a_file_cut_short_is_named_with_the_months_it_lost(folder: Path) -> None:
    text(folder / "late.csv", ROWS[6:9])
    (finding,) = missing(opened(folder))
    assert finding.code == "says less than before"
    assert pounds(finding) == pytest.approx(109 + 110 + 111)
    assert finding.days == (dt.date(2025, 5, 5), dt.date(2025, 5, 19))


def test_a_new_month_does_not_make_up_for_an_old_one(folder: Path) -> None:
    """A log that is begun anew each month in one file loses what it held."""
    text(folder / "late.csv", [(dt.date(2025, 6, 9), "Alder Street", "kitchen scraps", 5000)])
    (finding,) = missing(opened(folder))
    assert pounds(finding) == pytest.approx(sum(range(106, 112)))


def test_a_row_corrected_upwards_or_added_asks_nothing(folder: Path) -> None:
    text(folder / "late.csv", [(*ROWS[6][:3], 160), *ROWS[7:], (*ROWS[11][:3], 7)])
    assert missing(opened(folder)) == []
    text(folder / "late.csv", [(*ROWS[6][:3], 16), *ROWS[7:], (*ROWS[11][:3], 7)])
    (finding,) = missing(opened(folder))
    assert pounds(finding) == pytest.approx(160 - 16)


def test_rows_moved_to_another_sheet_or_file_ask_nothing(folder: Path) -> None:
    head = ("Date", "Source", "Material", "Weight (lb)")
    (folder / "late.csv").unlink()
    books(folder / "log.xlsx", {"March": (head, *ROWS[:5]), "Rest": (head, *ROWS[5:8])})
    book(folder / "archive" / "may.xlsx", ROWS[8:])
    assert missing(opened(folder)) == []


def test_a_renamed_file_is_noted_and_one_whose_name_told_the_source_is_asked(
    tmp_path: Path,
) -> None:
    folder = yard(tmp_path / "yard")
    rows = [(r[0], r[2], r[3]) for r in ROWS]
    book(folder / "Alder Street.xlsx", rows, sheet="2025", head=("Date", "Material", "Weight (lb)"))
    book(folder / "log.xlsx", [(*r[:3], r[3] + 200) for r in ROWS])
    opened(folder)
    (folder / "log.xlsx").rename(folder / "intake 2025.xlsx")
    after = opened(folder)
    assert missing(after) == []
    assert [f.where.file for f in after.findings if f.code == "file renamed"] == [
        "intake 2025.xlsx"
    ]
    (folder / "Alder Street.xlsx").rename(folder / "book.xlsx")
    (finding,) = missing(opened(folder))
    assert finding.code == "file renamed" and pounds(finding) == pytest.approx(WHOLE)


def test_an_answer_settles_one_loss_and_not_the_next(folder: Path) -> None:
    text(folder / "late.csv", ROWS[6:11])
    (finding,) = missing(opened(folder))
    site = folder / "site.toml"
    answer = f'\n[[answer]]\nabout = "{finding.about}"\nreason = "typed twice"\nby = "RT"\n'
    asked = site.read_text()
    site.write_text(asked + answer)
    for _ in range(2):
        after = opened(folder)
        assert missing(after) == []
        (listed,) = (f for f in after.findings if f.code == "says less than before")
        assert listed.answer == "typed twice (RT)"
    text(folder / "late.csv", ROWS[6:10])
    (again,) = missing(opened(folder))
    assert pounds(again) == pytest.approx(110)
    text(folder / "late.csv", ROWS[6:11])
    site.write_text(asked)  # the answer is taken back: the question is open again
    assert [pounds(f) for f in missing(opened(folder))] == [pytest.approx(111)]


def test_an_earlier_day_finds_nothing_missing_and_remembers_nothing(folder: Path) -> None:
    before = (folder / "inventory.json").read_bytes()
    assert missing(opened(folder, dt.date(2025, 4, 1))) == []
    assert (folder / "inventory.json").read_bytes() == before


def test_settings_that_change_masses_lose_nothing(folder: Path) -> None:
    site = folder / "site.toml"
    site.write_text(site.read_text().replace('"Fernside House"', '"Fernside"'))
    assert missing(opened(folder)) == []


def test_a_damaged_inventory_blocks_and_is_not_written_over(folder: Path) -> None:
    (folder / "inventory.json").write_text("{")
    (finding,) = missing(opened(folder))
    assert finding.where.file == "inventory.json"
    assert (folder / "inventory.json").read_text() == "{"


def test_a_folder_that_cannot_be_written_is_read_all_the_same(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    text(
        folder / "late.csv", [*ROWS[6:], (dt.date(2025, 6, 9), "Alder Street", "kitchen scraps", 5)]
    )

    def full(path: Path, text: str) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("divert.inventory.file.write_text", full)
    said = [str(f.message) for f in opened(folder).findings if f.where.file == "inventory.json"]
    assert len(said) == 1 and "inventory.json" in said[0]


def test_figures_and_reports_of_a_period_it_touches_say_so_and_none_is_issued(
    folder: Path, tmp_path: Path
) -> None:
    (folder / "late.csv").unlink()
    workings = opened(folder)
    figures = figures_for(workings, YEAR, TODAY)
    (absent,) = to_json(figures)["absent"]
    assert absent["file"] == "late.csv" and absent["what"] == "file gone"
    assert absent["mass_kg"] == pytest.approx(651 * LB)
    march = read_period("2025-03", as_of=TODAY, started=dt.date(2025, 1, 1), year_starts=1)
    assert figures_for(workings, march, TODAY).absent == ()
    for audience in ("sponsor", "grant", "board"):
        out = tmp_path / audience
        (page,) = (
            p for p in write_reports(workings, audience, YEAR, TODAY, formats=("html",), out=out)  # type: ignore[arg-type]
            if p.suffix == ".html"
        )  # fmt: skip
        shown = page.read_text(encoding="utf-8")
        assert 'class="absent"' in shown and "651 lb" in shown.replace("\u202f", " ").replace(
            "\xa0", " "
        )
        assert ("late.csv" in shown) == (audience != "sponsor")
    with pytest.raises(CannotRun, match=r"file gone: late\.csv"):
        write_reports(workings, "board", YEAR, TODAY, formats=("html",), issue=True)
    assert not (folder / "issued").exists()


@pytest.fixture(scope="module")
def issued(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A yard whose year was issued to the board, and whose inventory was deleted since."""
    try:
        weasyprint()
    except NoPango:
        pytest.skip("no Pango: nothing can be issued here")
    folder = yard(tmp_path_factory.mktemp("issued") / "yard")
    book(folder / "log.xlsx", ROWS[:6])
    text(folder / "late.csv", ROWS[6:])
    write_reports(opened(folder), "board", YEAR, TODAY, formats=("html",), issue=True)
    (folder / "inventory.json").unlink()
    return folder


@pytest.fixture
def sent(issued: Path, tmp_path: Path) -> Path:
    """A copy of it, for a test that does something to it."""
    return Path(shutil.copytree(issued, tmp_path / "sent"))


def test_without_its_inventory_a_folder_is_held_against_what_was_last_issued(sent: Path) -> None:
    assert missing(opened(sent)) == []
    (sent / "inventory.json").unlink()
    text(sent / "late.csv", ROWS[6:9])
    (sent / "log.xlsx").unlink()
    for _ in range(2):  # the new inventory remembers them as well
        gone, less = sorted(missing(opened(sent)), key=lambda f: f.code)
        assert (gone.code, gone.where.file) == ("file gone", "log.xlsx")
        assert pounds(gone) == pytest.approx(615)
        assert (less.code, less.where.file) == ("says less than before", "late.csv")
        assert pounds(less) == pytest.approx(109 + 110 + 111)


def test_an_inventory_older_than_the_last_issue_does_not_outdo_it(sent: Path) -> None:
    """A sync service brings back the inventory of May, which knew nothing of June."""
    old = {"form": 1, "as_of": "2025-05-01", "files": [], "settled": []}
    (sent / "inventory.json").write_text(json.dumps(old))
    (sent / "log.xlsx").unlink()
    (finding,) = missing(opened(sent))
    assert finding.code == "file gone" and pounds(finding) == pytest.approx(615)


def test_a_folder_emptied_of_sheets_and_inventory_still_misses_what_was_issued(sent: Path) -> None:
    for name in ("log.xlsx", "late.csv"):
        (sent / name).unlink()
    assert sum(pounds(f) for f in missing(opened(sent))) == pytest.approx(WHOLE)


def test_every_question_is_listed_with_what_settles_it_the_heaviest_first(folder: Path) -> None:
    (folder / "late.csv").unlink()
    listed = questions(opened(folder))
    assert listed[0].about.startswith("file gone: late.csv")
    assert all(q.about and q.choices for q in listed)
