"""A sheet that names no source: whom it came from is answered on the page, and its loads are theirs."""

from __future__ import annotations

from pathlib import Path

import pytest
from two_givers import DAY, TWO_GIVERS, write_log

from divert.core.findings import CannotRun
from divert.ingest.cells_held import CellsHeld
from divert.page.again import read_again
from divert.page.questions import Signed, questions_of
from divert.page.questions.question import Question
from divert.site.change import plan, write

TOML = TWO_GIVERS + 'before = "landfill"\n'
HEAD = ("Date", "What", "Weight (kg)")
SHEETS = {"Jan": 10, "Feb": 7}  # kg of its one load


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    (tmp_path / "site.toml").write_text(TOML, encoding="utf-8")
    write_log(tmp_path, {
        name: [HEAD, (f"2025-0{month}-06", "scraps", kg)]
        for month, (name, kg) in enumerate(SHEETS.items(), 1)
    })  # fmt: skip
    return tmp_path


def asked(folder: Path) -> Question | None:
    _, workings = read_again(folder, DAY, CellsHeld(), None)
    found = [
        q
        for q in questions_of(workings, workings.findings)
        if q.first.code == "source not recorded"
    ]
    return found[0] if found else None


def answer(folder: Path, key: str, said: dict[str, str]) -> dict[str, float]:
    """Give an answer, and return the kilograms of each source afterwards."""
    question = asked(folder)
    assert question is not None
    choice = question.choice(key)
    assert choice is not None and choice.makes is not None
    write(folder, plan(folder, choice.makes(said, Signed("", DAY))))
    _, workings = read_again(folder, DAY, CellsHeld(), None)
    kg = workings.ledger.groupby("source", observed=True)["mass_kg"].sum()
    return {str(name): float(mass) for name, mass in kg.items()}


def test_a_known_source_is_a_button_and_gets_every_load_that_named_nobody(folder: Path) -> None:
    question = asked(folder)
    assert question is not None
    buttons = [
        str(c.label.values["source"]) for c in question.choices if "source" in c.label.values
    ]
    assert buttons == ["Alder Street", "Mill Lane"]
    assert answer(folder, "from-1", {"sheet": "*"}) == {"Mill Lane": 17}
    assert asked(folder) is None


def test_of_several_sheets_one_alone_may_be_meant(folder: Path) -> None:
    assert answer(folder, "from-0", {"sheet": "Feb"}) == {"Alder Street": 7, "not recorded": 10}
    assert asked(folder) is not None  # of the other sheet still


def test_somebody_new_becomes_a_source(folder: Path) -> None:
    assert answer(folder, "new", {"sheet": "*", "source": " Old  Quay"}) == {"Old Quay": 17}
    text = (folder / "site.toml").read_text(encoding="utf-8")
    assert text.count('name = "Old Quay"') == 1


def test_a_known_one_by_another_case_is_not_added_again(folder: Path) -> None:
    assert answer(folder, "new", {"sheet": "*", "source": "mill lane"}) == {"Mill Lane": 17}
    assert (folder / "site.toml").read_text(encoding="utf-8").count("[[source]]") == 2


def test_nobody_is_no_answer(folder: Path) -> None:
    question = asked(folder)
    assert question is not None
    makes = question.choice("new").makes  # type: ignore[union-attr]
    assert makes is not None
    with pytest.raises(CannotRun):
        makes({"source": "  "}, Signed("", DAY))


def test_only_blank_rows_of_a_text_file_get_the_source(folder: Path) -> None:
    (folder / "log.xlsx").unlink()
    rows = [
        "Date,From,What,Weight (kg)",
        "2025-01-06,,scraps,3",
        "2025-01-07,Alder Street,scraps,5",
    ]
    (folder / "log.csv").write_text("\n".join(rows) + "\n", encoding="utf-8")
    assert answer(folder, "from-1", {}) == {"Alder Street": 5, "Mill Lane": 3}
