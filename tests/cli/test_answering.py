"""`divert answer`: the page's questions and answers, typed."""

from __future__ import annotations

import datetime as dt
from pathlib import Path

import pytest

from divert.cli.answering import Terminal, answer_all
from divert.cli.earlier import bring_back, earlier_lines
from divert.core.findings import CannotRun
from divert.core.words import Text
from divert.inventory.open_site import open_site
from divert.page.questions import questions_of
from divert.site.read import read_site

TOML = """\
[site]
name = "Yard"
started = 2025-01-01
units = "us"
[landfill]
gas_captured = 0.5
[[source]]
name = "Hollow Oak kitchen"
[[material]]
name = "food scraps"
before = "landfill"
"""
LOG = """\
Date,From,What,Weight (lb)
2025-02-03,Hollow Oak kitchen,food scraps,10
2025-02-04,Hollow Oak kitchen,food scrapz,12
2025-02-31,Hollow Oak kitchen,food scraps,14
"""


def answered(folder: Path, typed: list[str]) -> str:
    (folder / "site.toml").write_text(TOML, encoding="utf-8")
    (folder / "log.csv").write_text(LOG, encoding="utf-8")
    heard: list[str] = []

    def ask(text: Text) -> str:
        heard.append(str(text))
        return typed.pop(0)

    day = dt.date(2025, 3, 1)
    answer_all(
        open_site(folder, as_of=day), day, "KB", Terminal(ask, lambda t: heard.append(str(t)))
    )
    return "\n".join(heard)


def test_a_slip_of_the_pen_becomes_another_spelling(tmp_path: Path) -> None:
    heard = answered(tmp_path, ["1", "y", "q"])
    assert '+ also = ["food scrapz"]' in heard
    (scraps,) = read_site(tmp_path).materials
    assert scraps.also == ("food scrapz",)


def test_a_line_without_a_day_is_left_out_with_a_reason_and_signed(tmp_path: Path) -> None:
    answered(tmp_path, ["", "2", "nobody knows the day", "y", "q"])
    (answer,) = read_site(tmp_path).answers
    assert (answer.reason, answer.by, answer.on) == (
        "nobody knows the day",
        "KB",
        dt.date(2025, 3, 1),
    )
    left = open_site(tmp_path, as_of=dt.date(2025, 3, 1)).findings
    assert [f.answer for f in left if f.code == "no date"] == ["nobody knows the day (KB)"]


def test_what_is_not_agreed_to_is_not_written(tmp_path: Path) -> None:
    answered(tmp_path, ["", "2", "why not", "n", "q"])
    assert (tmp_path / "site.toml").read_text(encoding="utf-8") == TOML


def test_a_name_near_to_none_is_asked_for_in_the_terminal_and_may_be_left_out(
    tmp_path: Path,
) -> None:
    (tmp_path / "site.toml").write_text(TOML, encoding="utf-8")
    (tmp_path / "log.csv").write_text(
        "Date,From,What,Container,How many\n"
        + "".join(
            f"2025-02-0{n},Hollow Oak kitchen,food scraps,{box},1\n"
            for n, box in enumerate(("firkin", "barrow", "firkin", "firkin", "firkin"), start=3)
        ),
        encoding="utf-8",
    )
    day = dt.date(2025, 3, 1)
    heard: list[str] = []
    workings = open_site(tmp_path, as_of=day)
    every = questions_of(workings, workings.findings, every_name=True)
    # Four lines of one name are one question, and another name in the same sheet is another.
    assert sorted((str(q.title), q.rows) for q in every if q.first.code == "unknown container") == [
        ("What is a “barrow”?", 1),
        ("What is a “firkin”?", 4),
    ]
    place = next(n for n, q in enumerate(every) if "firkin" in str(q.title))
    leave = next(n for n, c in enumerate(every[place].choices, start=1) if c.key == "leave")
    typed = ["", *[""] * (place - 1), str(leave), "y", "q"] if place else [str(leave), "y", "q"]

    def ask(text: Text) -> str:
        heard.append(str(text))
        return typed.pop(0)

    answer_all(workings, day, "KB", Terminal(ask, lambda t: heard.append(str(t))))
    left = open_site(tmp_path, as_of=day).findings
    boxes = [(f.message.values["name"], f.answer) for f in left if f.code == "unknown container"]
    assert sorted(boxes, key=str) == [("barrow", None), *[("firkin", "left out (KB)")] * 4]


def test_an_earlier_text_is_listed_and_brought_back(tmp_path: Path) -> None:
    answered(tmp_path, ["1", "y", "q"])
    changed = (tmp_path / "site.toml").read_text(encoding="utf-8")
    assert changed != TOML
    (line,) = earlier_lines(tmp_path)
    assert str(line).startswith("1  what site.toml said until ")
    said: list[str] = []
    assert not bring_back(tmp_path, 1, Terminal(lambda t: "n", lambda t: said.append(str(t))))
    assert (tmp_path / "site.toml").read_text(encoding="utf-8") == changed
    assert any(one.startswith("    - also") for one in said)
    assert bring_back(tmp_path, 1, Terminal(lambda t: "y", lambda t: None))
    assert (tmp_path / "site.toml").read_text(encoding="utf-8") == TOML
    with pytest.raises(CannotRun, match="no earlier version “7”"):
        bring_back(tmp_path, 7, Terminal(lambda t: "y", lambda t: None))
