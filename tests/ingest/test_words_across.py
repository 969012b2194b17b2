"""Several weights on one row under words that name nothing: never added up, asked about instead."""

from __future__ import annotations

import datetime as dt
import random
from pathlib import Path

import pytest

from divert.core.reading import Reading
from divert.ingest.read import read_folder

from .corpus import writers
from .corpus.book import AS_OF, LB, site

# Words as crews write them over a second weight. None is of the reader's own lists by intent: some
# may be, and then one column counts, but never the sum of the two.
_WORDS = (
    "wet", "dry", "low", "best", "high", "guess", "yard", "kitchen", "booked", "planned", "prior",
    "whole", "half", "rough", "clean", "kept", "shipped", "claimed", "came in", "given away",
    "composted", "landfilled", "cooked", "served", "burned", "fed", "sold", "screened", "loose",
    "packed", "Ana", "Bo", "budget", "revised", "typed", "median", "peak",
)  # fmt: skip


def _read(folder: Path, heads: list[str], amounts: list[list[float]]) -> Reading:
    rows = [["Date", "Source", "Material", *heads]]
    days = [dt.date(2025, 3, 3) + dt.timedelta(days=n) for n in range(len(amounts))]
    rows += [[day, "hotel", "food scraps", *a] for day, a in zip(days, amounts, strict=True)]
    writers.xlsx(folder / "log.xlsx", {"Log": rows})
    return read_folder(site(folder), AS_OF)


def _pounds(reading: Reading) -> float:
    return float(reading.entries["mass_kg"].sum() / LB)


@pytest.mark.parametrize("seed", range(12))
def test_two_weights_under_words_that_name_nothing_are_never_added(
    seed: int, tmp_path: Path
) -> None:
    draw = random.Random(seed)
    heads = [f"{word} (lb)" for word in draw.sample(_WORDS, 2 + seed % 2)]
    amounts = [[float(draw.randint(20, 90)) for _ in heads] for _ in range(4)]
    reading = _read(tmp_path, heads, amounts)
    got = _pounds(reading)
    columns = [sum(column) for column in zip(*amounts, strict=True)]
    assert any(got == pytest.approx(one) for one in (0, *columns)), (heads, got, columns)
    if got == 0:
        asked = [f for f in reading.findings if f.code == "not explained"]
        assert len(asked) == 1 and asked[0].where.file == "log.xlsx", heads


def test_last_years_pounds_beside_this_years_are_not_this_years(tmp_path: Path) -> None:
    reading = _read(tmp_path, ["2024 lb", "2025 lb"], [[15, 20], [30, 40]])
    assert _pounds(reading) == pytest.approx(60)
    asked = [f for f in reading.findings if f.code == "not explained"]
    assert [(f.where.column, f.where.row) for f in asked] == [("D", 2)]


def test_pounds_under_a_box_that_is_none_of_the_sites_are_asked_about(tmp_path: Path) -> None:
    rows = [["Date", "Source", "Food scraps (lb)", "Cans (lb)"]]
    rows += [[dt.date(2025, 3, 3), "hotel", 20, 4], [dt.date(2025, 3, 4), "hotel", 40, 2]]
    writers.xlsx(tmp_path / "log.xlsx", {"Log": rows})
    reading = read_folder(site(tmp_path), AS_OF)
    assert _pounds(reading) == pytest.approx(60)
    assert [f.where.column for f in reading.findings if f.code == "not explained"] == ["D"]


def test_numbers_without_a_unit_that_follow_the_weight_are_asked_about(tmp_path: Path) -> None:
    reading = _read(tmp_path, ["Pounds", "Kept"], [[20, 20], [45, 40], [30, 30]])
    asked = [f for f in reading.findings if f.code == "not explained"]
    assert _pounds(reading) == 0 and [f.where.column for f in asked] == ["E"]


def test_guests_and_the_same_weight_written_twice_are_nothing_to_ask_about(tmp_path: Path) -> None:
    reading = _read(tmp_path, ["Pounds", "Guests"], [[20, 31], [45, 12], [30, 30]])
    assert _pounds(reading) == pytest.approx(95)
    assert not [f for f in reading.findings if f.level == "refused"]


def test_a_share_under_a_known_name_is_no_load(tmp_path: Path) -> None:
    rows = [["Date", "Food scraps (lb)", "Hotel %", "School %"], [dt.date(2025, 3, 3), 60, 40, 60]]
    writers.xlsx(tmp_path / "log.xlsx", {"Log": rows})
    reading = read_folder(site(tmp_path), AS_OF)
    assert _pounds(reading) == pytest.approx(60) and len(reading.entries) == 1


@pytest.mark.parametrize(("title", "pounds"), [("All weights in kg", 0), ("All weights in lb", 60)])
def test_a_title_that_gives_another_unit_than_the_heading_is_asked_about(
    title: str, pounds: float, tmp_path: Path
) -> None:
    rows = [[title], ["Date", "Source", "Material", "Lbs"]]
    rows += [[dt.date(2025, 3, 3), "hotel", "food scraps", 20]]
    rows += [[dt.date(2025, 3, 4), "hotel", "food scraps", 40]]
    writers.xlsx(tmp_path / "log.xlsx", {"Log": rows})
    reading = read_folder(site(tmp_path), AS_OF)
    assert _pounds(reading) == pytest.approx(pounds)
    asked = [f.where.column for f in reading.findings if f.code == "not explained"]
    assert asked == ([] if pounds else ["D"])


# 3 and 4 April 2025 were a Thursday and a Friday, 4 and 5 March a Tuesday and a Wednesday.
@pytest.mark.parametrize(
    ("weekdays", "pounds"),
    [(("Tue", "Wed"), 60), (("Thu", "Fri"), 0), (("Tue", "Fri"), 60)],
)
def test_weekdays_of_other_dates_are_asked_about(
    weekdays: tuple[str, str], pounds: float, tmp_path: Path
) -> None:
    rows = [["Date", "Weekday", "Source", "Material", "Lbs"]]
    rows += [["3/4/2025", weekdays[0], "hotel", "food scraps", 20]]
    rows += [["3/5/2025", weekdays[1], "hotel", "food scraps", 40]]
    writers.xlsx(tmp_path / "log.xlsx", {"Log": rows})
    reading = read_folder(site(tmp_path, dates="month first"), AS_OF)
    assert _pounds(reading) == pytest.approx(pounds)


def test_pails_of_so_many_pounds_each_weigh_their_product(tmp_path: Path) -> None:
    reading = _read(tmp_path, ["Pails", "lb each"], [[2, 10], [4, 10]])
    assert _pounds(reading) == pytest.approx(60)


def test_each_without_a_unit_is_asked_about(tmp_path: Path) -> None:
    reading = _read(tmp_path, ["Pails", "Each"], [[2, 10], [4, 10]])
    assert not len(reading.entries)
    assert {f.code for f in reading.findings if f.level == "refused"} == {"unit unknown"}


def test_bin_a_beside_bin_b_is_a_bin_and_no_count(tmp_path: Path) -> None:
    rows = [["Date", "Source", "Bin A", "Bin B"], [dt.date(2025, 3, 3), "hotel", 12, 8]]
    rows += [[dt.date(2025, 3, 4), "hotel", 25, 15]]
    writers.xlsx(tmp_path / "log.xlsx", {"Food scraps in pounds": rows})
    reading = read_folder(site(tmp_path), AS_OF)
    assert sorted(reading.entries["mass_kg"] / LB) == pytest.approx([8, 12, 15, 25])
