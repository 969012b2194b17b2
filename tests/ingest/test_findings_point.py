"""Findings point at their own cell, with the text found there and what may have been meant."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pandas as pd
import pytest

from divert import load_factors, work_out
from divert.core.findings import Finding
from divert.core.reading import Reading
from divert.ingest.read import read_folder
from divert.site.model import Answer, SheetRule, Site

from .corpus import writers
from .corpus.book import AS_OF, FOOD, HOTEL, LB, day, site

D = day("2025-03-03")
HEAD = ["Date", "Source", "Material", "Qty", "Contamination", "Status"]


def _read(folder: Path, *rows: list[object], head: list[str] = HEAD, **changes: object) -> Reading:
    writers.xlsx(folder / "log.xlsx", {"Log": [head, *rows]})
    described: Site = replace(site(folder), **changes)  # type: ignore[arg-type]
    return read_folder(described, AS_OF)


def _said(finding: Finding) -> tuple[str, str, str]:
    assert finding.hint is not None
    return str(finding.where), finding.found, finding.hint.say("en")


@pytest.mark.parametrize(
    ("written", "meant"), [("2 totse", "tote"), ("2 pials", "pail"), ("20 ibs", "lbs"), ("5 kgg", "kg")]
)  # fmt: skip
def test_a_misspelt_unit_or_container_is_asked_about(
    written: str, meant: str, tmp_path: Path
) -> None:
    reading = _read(tmp_path, [D, "hotel", "food scraps", written])
    (refused,) = [f for f in reading.findings if f.level == "refused"]
    assert _said(refused) == ("log.xlsx!Log!D2", written, f"Did you mean “{meant}”?")


def test_a_word_that_is_no_container_is_named_and_never_weighed(tmp_path: Path) -> None:
    head = [*HEAD, "Weight (lb)"]
    reading = _read(tmp_path, [D, "hotel", "food scraps", "2 whatsits"],
                    [D, "hotel", "food scraps", None, None, None, 20], head=head)  # fmt: skip
    assert reading.entries["mass_kg"].tolist() == pytest.approx([20 * LB])
    (refused,) = [f for f in reading.findings if f.level == "refused"]
    assert refused.message.say("en").startswith("“whatsits” is no unit that I know")
    assert str(refused.where) == "log.xlsx!Log!D2"


def test_contamination_and_a_status_in_strange_words_are_asked_about(tmp_path: Path) -> None:
    reading = _read(tmp_path, [D, "hotel", "food scraps", "20 lb", "high", "accepted"],
                    [D, "school", "coffee", "30 lb", "little", "bizarre"])  # fmt: skip
    assert len(reading.entries) == 1
    asked = {f.code: (str(f.where), f.found) for f in reading.findings if f.level != "note"}
    assert asked["contamination high"] == ("log.xlsx!Log!E2", "high")
    assert asked["not explained"] == ("log.xlsx!Log!F3", "bizarre")  # it waits for an answer


def test_a_rule_may_count_a_bare_quantity_in_containers(tmp_path: Path) -> None:
    rule = SheetRule("log.xlsx", None, None, (), (("quantity", "tote"),))
    reading = _read(tmp_path, [D, "hotel", "food scraps", 3], sheets=(rule,))
    (entry,) = reading.entries.itertuples()
    assert (entry.source, entry.material, entry.count, entry.container) == (HOTEL, FOOD, 3, "tote")


@pytest.mark.parametrize("head", ["Contamination retirée (kg)", "Retiré (kg)", "Refus (kg)"])
def test_a_table_of_nothing_but_what_was_taken_out(head: str, tmp_path: Path) -> None:
    reading = _read(tmp_path, [D, 2], [day("2025-03-04"), 1], head=["Date", head])
    assert reading.entries["kind"].tolist() == ["removed", "removed"]
    assert reading.entries["mass_kg"].tolist() == [2, 1]
    assert not [f for f in reading.findings if f.level == "refused"]


def test_a_column_taken_for_a_total_by_its_numbers_is_said(tmp_path: Path) -> None:
    rows: list[list[object]] = [["Date", "hotel", "school", "Maple House"], [D, 10, 11, 21],
                                [day("2025-03-04"), 10, 12, 22]]  # fmt: skip
    writers.xlsx(tmp_path / "log.xlsx", {"Log": [["Food scraps (lb)"], *rows]})
    reading = read_folder(site(tmp_path), AS_OF)
    assert len(reading.entries) == 4
    assert ("log.xlsx!Log!D2", "Maple House") in {(str(f.where), f.found) for f in reading.findings}


@pytest.mark.parametrize(
    ("written", "monday"),  # ISO 8601: week 1 holds the year's first Thursday
    [("2025-W10", "2025-03-03"), ("2025-W01", "2024-12-30"), ("2025-S10", "2025-03-03")],
)
def test_a_numbered_week_is_its_monday(written: str, monday: str, tmp_path: Path) -> None:
    reading = _read(tmp_path, [written, "hotel", "food scraps", 20],
                    head=["Week", "Source", "Material", "Weight (lb)"])  # fmt: skip
    assert reading.entries["date"].tolist() == [pd.Timestamp(monday)]


@pytest.mark.parametrize("written", ["2025/03/05 9:12:00 AM EST", "5 mars 2025 14:30 HNE"])
def test_a_time_zone_leaves_the_day_as_it_is(written: str, tmp_path: Path) -> None:
    reading = _read(tmp_path, [written, "hotel", "food scraps", "20 lb"])
    assert reading.entries["date"].tolist() == [pd.Timestamp("2025-03-05")]


def test_a_hundredweight_follows_the_ton_of_the_site(tmp_path: Path) -> None:
    for ton, pounds in (("short", 200), ("long", 224)):  # NIST Handbook 44, Appendix C
        reading = _read(tmp_path, [D, "hotel", "food scraps", "2 cwt"], ton=ton)
        assert reading.entries["mass_kg"].tolist() == pytest.approx([pounds * LB])
    reading = _read(tmp_path, [D, "hotel", "food scraps", "2 cwt"], ton="tonne")
    assert reading.set_aside["code"].tolist() == ["unit unknown"]


def test_an_answer_that_settles_nothing_is_said(tmp_path: Path) -> None:
    abouts = [
        "nothere.xlsx!S!D9",
        "unknown source: Zed",
        "unknown source: Nobody",
        "weekly habit broken: x",
    ]
    described = replace(site(tmp_path), answers=tuple(Answer(a, "so it is") for a in abouts))
    writers.xlsx(tmp_path / "log.xlsx", {"Log": [HEAD, [D, "Zed", "food scraps", "20 lb"]]})
    reading = read_folder(described, AS_OF)
    findings = work_out(described, reading, load_factors(tmp_path)).findings
    assert {f.found for f in findings if f.where.file == "site.toml"} == {abouts[0], abouts[2]}


def test_a_truck_weighed_in_and_out_in_texts_is_one_load(tmp_path: Path) -> None:
    (tmp_path / "x.csv").write_text(
        "Date,Source,Material,Weight in (lb),Weight out (lb)\n"
        '2025-03-03,hotel,food scraps,"5,200","4,800"\n'
    )
    (entry,) = read_folder(site(tmp_path), AS_OF).entries.itertuples()
    assert entry.mass_kg == pytest.approx(400 * LB)


def test_words_settled_by_the_site_are_asked_about_in_the_order_of_the_rows(tmp_path: Path) -> None:
    said = ["2 gal", "3 tons", "4 cwt", "5 tons", "6 gal"]
    reading = _read(tmp_path, *([D, "hotel", "leaves", text] for text in said))
    asked = [(f.name, f.found) for f in reading.findings if f.code == "unit settled by site.toml"]
    assert asked == [("gallon", "2 gal"), ("ton", "3 tons"), ("hundredweight", "4 cwt")]
