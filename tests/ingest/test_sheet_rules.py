"""[[sheet]] of site.toml says what a plan can: each key on a sheet that is asked about or misread without it."""

from __future__ import annotations

import datetime as dt
from pathlib import Path

import pytest

from divert.core.reading import Reading
from divert.ingest.read import read_folder
from divert.site.model import SheetRule

from .corpus.book import AS_OF, COFFEE, FOOD, GAL, HOTEL, LB, SCHOOL, site
from .corpus.writers import Rows, xlsx

D1, D2 = dt.date(2025, 3, 4), dt.date(2025, 3, 5)


def read(folder: Path, cells: Rows, /, **rule: object) -> Reading:
    xlsx(folder / "log.xlsx", {"Log": cells})
    rules = (SheetRule("log.xlsx", **rule),) if rule else ()  # type: ignore[arg-type]
    return read_folder(site(folder, sheets=rules), AS_OF)


def test_a_column_that_is_nothing_is_left_out(tmp_path: Path) -> None:
    """Two weights that differ are set aside, and what the hint says to write settles them."""
    rows = [
        ["Date", "Source", "Material", "Weight (lb)", "Pounds"],
        [D1, "School", "food scraps", 40, 31],
    ]
    asked = read(tmp_path, rows)
    assert asked.entries.empty
    hints = [str(f.hint) for f in asked.findings if f.level == "refused"]
    assert any("ignore" in hint for hint in hints)
    settled = read(tmp_path, rows, ignore=("E",))
    assert settled.entries["mass_kg"].tolist() == pytest.approx([40 * LB])
    assert settled.set_aside.empty
    assert not [f for f in settled.findings if f.where.column == "E"]


def test_source_and_material_of_a_file(tmp_path: Path) -> None:
    rows = [["Date", "Weight (lb)"], [D1, 40], [D2, 12]]
    reading = read(tmp_path, rows, source="hotel", material="coffee")
    assert reading.entries["source"].tolist() == [HOTEL, HOTEL]
    assert reading.entries["material"].tolist() == [COFFEE, COFFEE]


def test_year_and_month_of_days_without_them(tmp_path: Path) -> None:
    rows = [["Day", "Source", "Material", "Weight (lb)"], [4, "School", "food scraps", 40]]
    reading = read(tmp_path, rows, year=2024, month=11)
    assert reading.entries["date"].dt.date.tolist() == [dt.date(2024, 11, 4)]


def test_the_row_of_the_heading(tmp_path: Path) -> None:
    """A heading in words nobody knows is found where the rule says that it stands."""
    rows = [
        ["Kestrel", "our own sheet", "of 2025", "x"],
        ["Jour J", "Chez", "Chose", "Combien"],
        [D1, "School", "food scraps", "40 lb"],
    ]
    reading = read(
        tmp_path, rows, headings=(2,),
        columns=(("date", "A"), ("source", "B"), ("material", "C"), ("weight", "D")),
    )  # fmt: skip
    assert reading.entries["mass_kg"].tolist() == pytest.approx([40 * LB])
    assert reading.sheets[0].heading_row == 2


def test_the_rows_that_hold_data(tmp_path: Path) -> None:
    """What stands below the log, here somebody's plan for next week, is no part of it."""
    head = ["Date", "Source", "Material", "Weight (lb)"]
    rows = [head, [D1, "School", "food scraps", 40], [D2, "Hotel", "food scraps", 99]]
    reading = read(tmp_path, rows, rows=(2, 2))
    assert reading.entries["row"].tolist() == [2]
    assert reading.seen == 3


def test_the_order_of_dates(tmp_path: Path) -> None:
    rows = [
        ["Date", "Source", "Material", "Weight (lb)"],
        ["3/4/2025", "School", "food scraps", 40],
    ]
    assert read(tmp_path, rows).set_aside["code"].tolist() == ["date order ambiguous"]
    reading = read(tmp_path, rows, dates="day first")
    assert reading.entries["date"].dt.date.tolist() == [dt.date(2025, 4, 3)]


@pytest.mark.parametrize(
    ("head", "unit", "kg", "m3"),
    [
        (["Date", "food scraps", "coffee grounds"], "lb", [40 * LB, 12 * LB], [None, None]),
        (["Date", "food scraps", "coffee grounds"], "gal", [None, None], [40 * GAL, 12 * GAL]),
    ],
)
def test_the_unit_of_amounts_across(
    head: list[str], unit: str, kg: list[float | None], m3: list[float | None], tmp_path: Path
) -> None:
    """Materials across with bare numbers: no unit is known until the rule gives one."""
    rows = [head, [D1, 40, 12]]
    assert read(tmp_path, rows, source="school").entries.empty
    entries = read(tmp_path, rows, source="school", units=(("quantity", unit),)).entries
    assert entries["material"].tolist() == [FOOD, COFFEE]
    assert entries["source"].tolist() == [SCHOOL, SCHOOL]
    for name, values in (("mass_kg", kg), ("volume_m3", m3)):
        for got, value in zip(entries[name], values, strict=True):
            assert got == pytest.approx(value) if value is not None else got != got


def test_containers_counted_in_days_across(tmp_path: Path) -> None:
    rows = [["Source", "Mar 4, 2025", "Mar 5, 2025"], ["School", 2, 3], ["Hotel", 1, None]]
    reading = read(tmp_path, rows, material="food scraps", units=(("quantity", "tote"),))
    found = sorted(zip(reading.entries["date"].dt.date, reading.entries["count"], strict=True))
    assert found == [(D1, 1), (D1, 2), (D2, 3)]
    assert set(reading.entries["container"]) == {"tote"}


def test_a_month_written_with_spaces(tmp_path: Path) -> None:
    rows = [
        ["Month", "Source", "Material", "Weight (lb)"],
        ["2025 / 10", "School", "food scraps", 40],
    ]
    assert read(tmp_path, rows).entries["date"].dt.date.tolist() == [dt.date(2025, 10, 1)]
