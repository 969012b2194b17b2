"""A crew's own total against the loads above it: a second count, asked about where it comes to another."""

from __future__ import annotations

import datetime as dt
from pathlib import Path
from typing import Any

import pytest
from processor import at_most

from divert.core.findings import Finding
from divert.core.reading import InputFile, Reading
from divert.ingest.grid import Grid, Opened
from divert.ingest.read import read_opened

from .corpus.book import AS_OF, site

HEAD = ["Date", "Source", "Material", "Weight (lb)"]
LABELS = [
    "Total",
    "TOTAL",
    "Sum",
    "Grand total",
    "Total for the month",
    "Somme",
    "Total (lb)",
    "Sous-total",
]


def _load(day: int, pounds: Any, source: str = "hotel") -> list[Any]:
    return [dt.date(2025, 3, day), source, "food scraps", pounds]


def _read(rows: list[list[Any]], **more: Any) -> Reading:
    opened = Opened(InputFile("log.xlsx", "1", 1), (Grid("log.xlsx", "Log", rows, **more),))
    return read_opened([opened], site(Path("/nowhere")), AS_OF)


def _asked(reading: Reading) -> list[tuple[str, Any, Any]]:
    found: list[Finding] = [f for f in reading.findings if f.code == "total disagrees"]
    assert all(f.level == "query" for f in found)
    return [(str(f.where), f.message.values["said"], f.message.values["read"]) for f in found]


@pytest.mark.parametrize("label", LABELS)
def test_a_total_that_is_no_sum_of_the_loads_above_is_asked_about(label: str) -> None:
    loads = [_load(3, 60), _load(4, 70), _load(5, 80)]
    reading = _read([HEAD, *loads, [label, None, None, 265]])
    assert _asked(reading) == [("log.xlsx!Log!D5", 265, 210)]
    asked = next(f for f in reading.findings if f.code == "total disagrees")
    assert asked.mass_kg == pytest.approx(55 * 0.45359237)  # NIST Handbook 44, Appendix C
    assert asked.about == f"total disagrees: log.xlsx!Log!{label}, 265"
    assert len(reading.entries) == 3  # they count: the total may be what is wrong
    assert _asked(_read([HEAD, *loads, [label, None, None, 210]])) == []


def test_a_load_typed_beside_the_columns_shows_in_the_total_of_them_all() -> None:
    rows = [HEAD, _load(3, 60), _load(4, 70), [None] * 6 + [55], ["Total", None, None, 185]]
    assert _asked(_read(rows)) == [("log.xlsx!Log!D5", 185, 130)]


SUMS = {
    "since the last one": [60, 70, "=130", 5, 6, "=11"],
    "of all so far": [60, 70, "=130", 5, 6, "=141"],
    "of one load": [60, "=60", 5, "=5", 7, 8, "=15"],
    "rounded": [60.4, 70.3, "=131"],
    "to a pound": [1050.5, 2069.75, "=3120"],
    "of plain numbers": [60, "9 kg", 70, "=130"],  # what a sheet's own sum takes
    "of all, as a person adds them": [
        60,
        "10 kg",
        70,
        "=152.05",
    ],  # 10 kg are 22.046 lb (NIST HB 44, C)
}


@pytest.mark.parametrize("how", SUMS)
def test_sums_of_any_usual_kind_are_in_order(how: str) -> None:
    rows: list[list[Any]] = [HEAD]
    for n, one in enumerate(SUMS[how], start=1):
        total = isinstance(one, str) and one.startswith("=")
        rows.append(["Total", None, None, float(one[1:])] if total else _load(n, one))
    assert _asked(_read(rows)) == []


def test_what_does_not_count_may_be_left_out_of_the_total_or_stand_in_it() -> None:
    loads = [_load(3, 60), _load(4, 70), _load(5, 80)]
    for total in (210, 140):
        rows = [HEAD, *loads, ["Total", None, None, total]]
        assert _asked(_read(rows, struck=frozenset({3}))) == []
    rows = [HEAD, *loads, ["Total", None, None, 150]]
    assert len(_asked(_read(rows, struck=frozenset({3})))) == 1


@pytest.mark.parametrize(
    "label", ["Total to date", "YTD total", "Average", "Total 2025", "Cumul", "Max"]
)
def test_what_sums_up_more_than_its_sheet_is_not_asked_about(label: str) -> None:
    rows = [HEAD, _load(3, 60), _load(4, 70), [label, None, None, 4711]]
    assert _asked(_read(rows)) == []


def test_columns_of_several_materials_have_totals_of_their_own() -> None:
    head = ["Date", "Source", "food scraps (lb)", "leaves (lb)"]
    days = [[dt.date(2025, 3, n), "hotel", n, 2 * n] for n in (3, 4, 5)]
    assert _asked(_read([head, *days, ["Total", None, 12, 24]])) == []
    assert _asked(_read([head, *days, ["Total", None, 12, 44]])) == [("log.xlsx!Log!D5", 44, 24)]


def test_a_total_under_any_column_of_a_load_is_held_against_it() -> None:
    head = ["Date", "Source", "Material", "Totes", "Weight (lb)"]
    loads = [[dt.date(2025, 3, n), "hotel", "food scraps", n, 10 * n] for n in (3, 4, 5)]
    assert _asked(_read([head, *loads, ["Total", None, None, 12, 120]])) == []
    assert _asked(_read([head, *loads, ["Total", None, None, 12, 150]])) == [
        ("log.xlsx!Log!E5", 150, 120)
    ]
    assert _asked(_read([head, *loads, ["Total", None, None, 13, 120]])) == [
        ("log.xlsx!Log!D5", 13, 12)
    ]


def test_a_total_that_was_never_filled_in_is_asked_about_without_a_mass() -> None:
    reading = _read([HEAD, _load(3, 60), _load(4, 70), ["Total", None, None, 0]])
    assert _asked(reading) == [("log.xlsx!Log!D4", 0, 130)]
    assert [f.mass_kg for f in reading.findings if f.code == "total disagrees"] == [None]


def test_a_total_for_each_of_many_days_is_told_in_a_straight_line() -> None:
    def book(days: int) -> list[list[Any]]:
        rows = [HEAD]
        for n in range(days):
            day = dt.date(2024, 1, 1) + dt.timedelta(days=n % 700)
            loads = [[day, "hotel", "food scraps", 10 + (7 * n + k * k) % 53] for k in range(9)]
            rows += [*loads, ["Total", None, None, sum(load[3] for load in loads) + 40]]
        return rows

    with at_most(5):  # 2 s and more for 2,000 of them when each went through all rows above it
        assert len(_asked(_read(book(4000)))) == 4000
