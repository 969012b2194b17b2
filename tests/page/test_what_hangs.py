"""How much hangs on a question, and what may be answered where a container was never described."""

from __future__ import annotations

import datetime as dt
from pathlib import Path

from divert.core.findings import Finding, Where
from divert.core.range import Range
from divert.core.words import Text
from divert.figures.numbers.printed import Printer
from divert.ingest.cells_held import CellsHeld
from divert.page.again import read_again
from divert.page.amounts import Amounts
from divert.page.questions import Signed, questions_of
from divert.page.questions.mass import hanging
from divert.site.change.apply import edited
from divert.site.read import read_site

TOML = """\
[site]
name = "Yard"
started = 2025-01-01
units = "metric"
[[source]]
name = "mill"
"""


def read(folder: Path, log: str):  # type: ignore[no-untyped-def]
    (folder / "site.toml").write_text(TOML, encoding="utf-8")
    (folder / "log.csv").write_text(log, encoding="utf-8")
    return read_again(folder, dt.date(2025, 3, 1), CellsHeld(), None)[1]


def test_a_finding_of_many_lines_weighs_what_so_many_loads_weigh(tmp_path: Path) -> None:
    log = "Date,From,What,Weight (kg)\n" + "".join(
        f"2025-02-{n:02},mill,food scraps,{7 * n % 11}\n" for n in range(1, 11)
    )
    workings = read(tmp_path, log)
    at_the_first = Where("log.csv", None, 2, "A")
    many = Finding("query", "source not recorded", Text("x"), at_the_first, rows=4)
    one = Finding("query", "source not recorded", Text("x"), at_the_first)
    # Ten loads of 1 to 10 kg weigh 5.5 kg on average; four of them 22 kg. The first line alone is 7 kg.
    about = hanging(workings, [many])
    assert (about.kg, about.rough) == (22.0, True)
    assert (hanging(workings, [one]).kg, hanging(workings, [one]).rough) == (7.0, False)


def test_a_container_that_nobody_described_is_asked_for_its_empty_weight(tmp_path: Path) -> None:
    workings = read(
        tmp_path,
        "Date,From,What,Container,How many,Gross (kg)\n2025-02-03,mill,food scraps,tub,2,50\n",
    )
    question = next(
        q
        for q in questions_of(workings, workings.findings)
        if q.first.code == "empty weight not known"
    )
    (usual,) = [c for c in question.choices if c.usual]
    assert usual.makes is not None
    assert [f.name for f in usual.needs if f.required] == ["volume", "tare"]
    edits = usual.makes({"volume": "60 L", "tare": "4 kg"}, Signed("", dt.date(2025, 3, 1)))
    (tub,) = read_site(tmp_path, edited(workings.site.toml, edits)).containers
    assert (tub.name, round(tub.volume_m3, 6), tub.tare_kg) == ("tub", 0.06, 4.0)


def test_totals_that_are_compared_stand_in_one_unit() -> None:
    amounts = Amounts(Printer("en", "metric"))
    small, large = Range(217.0, 210.0, 224.0), Range(10810.0, 10700.0, 10900.0)
    assert amounts.central("mass", small) == "217\u202fkg"
    assert amounts.central("mass", small, large.central).endswith("\u202ftonnes")
