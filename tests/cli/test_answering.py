"""`divert answer`: the page's questions and answers, typed."""

from __future__ import annotations

import datetime as dt
from pathlib import Path

from divert.cli.answering import Terminal, answer_all
from divert.core.words import Text
from divert.inventory.open_site import open_site
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
