"""Rows that sum others, and rows that take another back: which rows, worked out by hand."""

from __future__ import annotations

import datetime as dt
from pathlib import Path

import numpy as np
import pandas as pd
import pytest

from divert.core import ledger as books
from divert.core.reading import Reading
from divert.ingest import read_folder
from divert.ingest.amounts.sums import equals_sum
from divert.ingest.checks.corrections import corrections
from divert.site.read import read_site

TOML = """
[site]
name = "Kestrel Bend Community Farm"
units = "metric"
started = 2025-01-01

[[source]]
name = "North kitchen"

[[source]]
name = "South kitchen"

[[material]]
name = "kitchen scraps"
like = "food-scraps"
before = "landfill"
"""


def read(folder: Path, rows: str) -> Reading:
    (folder / "site.toml").write_text(TOML)
    (folder / "log.csv").write_text(rows, encoding="utf-8")
    return read_folder(read_site(folder), dt.date(2025, 4, 1))


def test_a_row_is_a_sum_only_where_each_of_its_filled_cells_is() -> None:
    first, second = np.array([2.0, 3.0, 5.0, np.nan]), np.array([1.0, np.nan, 1.0, 7.0])
    above = np.array([0, 1])
    assert equals_sum([first, second], above, 2)  # 2 + 3 = 5, and 1 = 1
    assert not equals_sum([first, second], above, 3)  # of the second alone: 1 is not 7
    assert not equals_sum([first], above, 3)  # nothing is filled in, so nothing says sum
    assert not equals_sum([second], np.array([1]), 2)  # a cell above which there is nothing


@pytest.mark.parametrize(
    ("loads", "sums"),
    [((20, 22), (42,)), ((20, 22, 5, 6), (42, None, 11)), ((20, 22, 9), (42, None, 9))],
)  # fmt: skip
def test_a_bare_amount_that_sums_two_loads_or_more_is_no_load(
    loads: tuple[int, ...], sums: tuple[int | None, ...], tmp_path: Path
) -> None:
    """A sum of one load alone is taken for one only where another sums two."""
    rows = ["Date,Source,Material,Weight (kg)"]
    rows += [
        f"2025-03-0{n + 3},North kitchen,kitchen scraps,{kg}" for n, kg in enumerate(loads[:2])
    ]
    rows.append(f",,,{sums[0]}")
    rows += [f"2025-03-1{n},South kitchen,kitchen scraps,{kg}" for n, kg in enumerate(loads[2:])]
    rows += [f",,,{sums[-1]}"] if len(sums) > 1 else []
    found = read(tmp_path, "\n".join(rows) + "\n")
    assert found.entries["mass_kg"].tolist() == list(loads)


@pytest.mark.parametrize("gap", ["", ",,,\n"])
@pytest.mark.parametrize("head", ["Date", "Day"])
@pytest.mark.parametrize("pairs", [((20, 20),), ((20, 20), (31, 31)), ((20, 20), (31, 12))])
def test_a_bare_amount_under_one_load_of_the_same_amount_may_be_its_total(
    pairs: tuple[tuple[int, int], ...], head: str, gap: str, tmp_path: Path
) -> None:
    """It names nothing of a load, so its day is not that of the load above either."""
    rows = [f"{head},Source,Material,Weight (kg)\n"]
    for n, (load, under) in enumerate(pairs):
        day = f"2025-03-0{n + 3}" if head == "Date" else n + 3
        rows.append(f"{day},North kitchen,kitchen scraps,{load}\n,,,{under}\n{gap}")
    (tmp_path / "site.toml").write_text(TOML)
    (tmp_path / "March 2025.csv").write_text("".join(rows), encoding="utf-8")
    found = read_folder(read_site(tmp_path), dt.date(2025, 4, 1))
    assert found.entries["mass_kg"].tolist() == [load for load, _ in pairs]
    assert len(found.set_aside) == len(pairs)


LOADS = """Date,Source,Material,Weight (kg)
2025-03-03,North kitchen,kitchen scraps,20
2025-03-04,North kitchen,kitchen scraps,22
"""


def test_a_row_without_a_day_that_names_less_than_a_load_and_sums_the_loads_is_their_total(
    tmp_path: Path,
) -> None:
    found = read(tmp_path, LOADS + ",North kitchen,,42\n")
    assert found.entries["mass_kg"].tolist() == [20, 22]
    assert found.set_aside.empty
    assert found.skipped.query("reason == 'total or subtotal'")["row"].tolist() == [4]


def test_one_that_names_all_that_a_load_names_is_a_load_without_a_day(tmp_path: Path) -> None:
    found = read(tmp_path, LOADS + ",North kitchen,kitchen scraps,42\n")
    assert found.entries["mass_kg"].tolist() == [20, 22]
    assert found.set_aside["row"].tolist() == [4]


@pytest.mark.parametrize("between", ["soon", "12"])
def test_a_day_without_a_year_has_that_of_the_rows_before_whatever_stands_between(
    tmp_path: Path, between: str
) -> None:
    found = read(tmp_path, f"""Date,Source,Material,Weight (kg)
3/3/2025,North kitchen,kitchen scraps,20
{between},North kitchen,kitchen scraps,21
3/17,North kitchen,kitchen scraps,22
""")  # fmt: skip
    days = dict(zip(found.entries["mass_kg"], found.entries["date"], strict=True))
    days.pop(21, None)
    assert {kg: f"{day:%Y-%m-%d}" for kg, day in days.items()} == {
        20: "2025-03-03",
        22: "2025-03-17",
    }


FIELDS = {"kind": "intake", "source": "North kitchen", "material": "kitchen scraps", "sheet": ""}


def left(*rows: tuple[str, str, float]) -> list[int]:
    """Return which of the entries given as file, day and kg are left, counted from 0."""
    frame = books.tidy(
        pd.DataFrame(
            [{**FIELDS, "file": file, "date": dt.date.fromisoformat(day), "mass_kg": kg, "row": n,
              "column": "D", "found": f"{kg:g}"} for n, (file, day, kg) in enumerate(rows)]
        )
    )  # fmt: skip
    kept, *_ = corrections(frame)
    return [int(row) for row in kept["row"]]


def test_a_correction_takes_back_the_latest_entry_by_then() -> None:
    assert left(("a", "2025-03-03", 20), ("a", "2025-03-05", 20), ("a", "2025-03-07", 20),
                ("a", "2025-03-06", -20)) == [0, 2]  # fmt: skip


@pytest.mark.parametrize(("own", "other"), [("a", 1), ("b", 0)])
def test_of_two_of_one_day_it_takes_that_of_its_own_file(own: str, other: int) -> None:
    rows = (("a", "2025-03-03", 20.0), ("b", "2025-03-03", 20.0), (own, "2025-03-04", -20.0))
    assert left(*rows) == [other]


def test_of_two_of_one_file_it_takes_the_nearer_row() -> None:
    assert left(("a", "2025-03-03", 20), ("a", "2025-03-03", 20), ("a", "2025-03-03", 21),
                ("a", "2025-03-03", -20)) == [0, 2]  # fmt: skip
