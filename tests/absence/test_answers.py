"""Answers hold to what a row says, to a whole class, and every question can be settled."""

from __future__ import annotations

import datetime as dt
import json
import shutil
from pathlib import Path

import pytest

from divert.cli.commands import main
from divert.convert import Workings
from divert.core.findings import Finding
from divert.core.period import read_period
from divert.figures.compute import figures_for
from divert.inventory.open_site import open_site
from divert.inventory.questions import questions

from .yard import ROWS, TODAY, book, text, yard

SAMPLE = Path(__file__).parents[2] / "sample_data"
TWICE = (*ROWS, ROWS[3])


def answer(about: str, more: str = "") -> str:
    return f'\n[[answer]]\nabout = {json.dumps(about, ensure_ascii=False)}\nreason = "asked the crew"\n{more}'


def opened(folder: Path) -> Workings:
    return open_site(folder, as_of=TODAY)


def repeats(workings: Workings) -> list[Finding]:
    return [f for f in workings.findings if f.code == "row repeated exactly"]


def add(folder: Path, lines: str) -> None:
    with (folder / "site.toml").open("a", encoding="utf-8") as file:
        file.write(lines)


def test_an_answer_stays_with_its_row_when_rows_are_put_in_and_files_renamed(
    tmp_path: Path,
) -> None:
    folder = yard(tmp_path / "yard")
    book(folder / "log.xlsx", TWICE)
    (asked,) = repeats(opened(folder))
    assert asked.about == (
        "row repeated exactly: 2025-03-24, Fernside House, kitchen scraps, 103 lb #2"
    )
    add(folder, answer(asked.about))
    first = (dt.date(2025, 2, 3), "Alder Street", "kitchen scraps", 9)
    (folder / "log.xlsx").unlink()
    book(folder / "another name.xlsx", (first, *TWICE))
    (again,) = repeats(opened(folder))
    assert again.answer == "asked the crew" and again.where.row != asked.where.row


def test_a_cell_still_names_a_row(tmp_path: Path) -> None:
    folder = yard(tmp_path / "yard", answer("log.xlsx!Intake!D14"))
    book(folder / "log.xlsx", TWICE)
    assert [f.answer for f in repeats(opened(folder))] == ["asked the crew"]


@pytest.mark.parametrize(
    ("about", "on", "settled"),
    [
        ("row repeated exactly", "2025-06-01", 2),
        ("row repeated exactly", "2025-04-01", 1),  # what came later is asked
        ("row repeated exactly: log.xlsx", "2025-06-01", 2),
        ("row repeated exactly: log.xlsx!Intake", "2025-06-01", 2),
        ("row repeated exactly: other.xlsx", "2025-06-01", 0),
    ],
)
def test_a_class_is_settled_up_to_the_day_of_its_answer(
    tmp_path: Path, about: str, on: str, settled: int
) -> None:
    folder = yard(tmp_path / "yard", answer(about, f"on = {on}\n"))
    book(folder / "log.xlsx", (*TWICE, ROWS[8]))
    found = repeats(opened(folder))
    assert len(found) == 2 and sum(f.answer is not None for f in found) == settled


def test_a_class_never_settles_what_blocks(tmp_path: Path) -> None:
    folder = yard(tmp_path / "yard", answer("file unreadable") + answer("near copy"))
    book(folder / "log.xlsx")
    book(folder / "log copy.xlsx", ROWS[:11])
    (folder / "second.xlsx").write_bytes(b"")
    codes = {f.code for f in opened(folder).findings if f.blocks and f.answer is None}
    assert codes == {"file unreadable", "near copy"}


def test_an_answer_about_a_row_that_is_set_aside_settles_it(tmp_path: Path) -> None:
    """It stays out for good, is listed with its reason, and no longer makes the status 1."""
    folder = yard(tmp_path / "yard")
    book(
        folder / "log.xlsx",
        (*ROWS, (dt.date(2025, 5, 26), "Alder Street", "kitchen scraps", "a lot")),
    )
    (asked,) = (f for f in opened(folder).findings if f.level == "refused")

    def status() -> int:
        with pytest.raises(SystemExit) as left:
            main(["read", str(folder), "--as-of", "2025-07-01"])
        return int(left.value.code or 0)

    assert status() == 1
    add(folder, answer(asked.about))
    workings = opened(folder)
    (settled,) = (f for f in workings.findings if f.level == "refused")
    assert settled.answer == "asked the crew" and len(workings.set_aside) == 1
    assert status() == 0


def test_every_question_of_the_sample_can_be_settled_by_what_it_is_about(tmp_path: Path) -> None:
    folder = tmp_path / "sample"
    folder.mkdir()
    for path in SAMPLE.iterdir():
        if path.suffix in (".toml", ".xlsx", ".csv", ".svg"):
            shutil.copy(path, folder / path.name)
    text(
        folder / "zz extra.csv",
        [("12/24/25", "Nobody Known", "moon dust", "1/2 tote"), ("", "x", "y", 4)],
    )
    today = dt.date(2026, 7, 1)

    def asked() -> tuple[str, ...]:
        workings = open_site(folder, as_of=today)
        year = read_period("2025", as_of=today, started=workings.site.started, year_starts=1)
        found = figures_for(workings, year, today)
        return tuple(q.about for q in questions(workings, found.findings))

    abouts = asked()
    assert len(abouts) > 5 and all(abouts)
    add(folder, "".join(answer(about) for about in dict.fromkeys(abouts)))
    assert asked() == ()
