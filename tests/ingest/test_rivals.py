"""Two columns that tell the day, the source or the material of a load, and disagree, are asked about."""

from __future__ import annotations

import datetime as dt
from pathlib import Path

import pytest

from divert.core.reading import Reading
from divert.ingest.read import read_folder
from divert.site.model import SheetRule

from .corpus.book import AS_OF, LB, site
from .corpus.writers import xlsx

MARCH, APRIL = dt.date(2025, 3, 31), dt.date(2025, 4, 2)
CASES = {
    "day": (["Date", "Date received", "Source", "Material", "Weight (lb)"],
            [[MARCH, APRIL, "School", "food scraps", 40], [APRIL, APRIL, "School", "food scraps", 30]]),
    "source": (["Date", "Customer", "Source", "Material", "Weight (lb)"],
               [[MARCH, "Hotel", "School", "food scraps", 40], [APRIL, "Hotel", "Hotel", "leaves", 30]]),
    "material": (["Date", "Contents", "Source", "Material", "Weight (lb)"],
                 [[MARCH, "leaves", "School", "food scraps", 40],
                  [APRIL, "food scraps", "School", "food scraps", 30]]),
}  # fmt: skip


def read(folder: Path, name: str, **rule: object) -> Reading:
    head, rows = CASES[name]
    xlsx(folder / "log.xlsx", {"Log": [head, *rows]})
    rules = (SheetRule("log.xlsx", **rule),) if rule else ()  # type: ignore[arg-type]
    return read_folder(site(folder, sheets=rules), AS_OF)


@pytest.mark.parametrize("name", CASES)
def test_a_row_on_which_they_disagree_is_set_aside(name: str, tmp_path: Path) -> None:
    reading = read(tmp_path, name)
    assert reading.set_aside["row"].tolist() == [2]
    assert reading.entries["mass_kg"].tolist() == pytest.approx([30 * LB])
    (asked,) = [f for f in reading.findings if f.code == "not explained"]
    assert "nothing says which counts" in str(asked.message)
    assert "40 lb" in str(asked.message)


@pytest.mark.parametrize("name", CASES)
def test_what_the_hint_says_settles_it(name: str, tmp_path: Path) -> None:
    (asked,) = [f for f in read(tmp_path, name).findings if f.code == "not explained"]
    letter = str(asked.hint).split('["')[1].split('"]')[0]
    settled = read(tmp_path, name, ignore=(letter,))
    assert settled.entries["mass_kg"].tolist() == pytest.approx([40 * LB, 30 * LB])


def test_when_a_record_was_typed_is_no_rival(tmp_path: Path) -> None:
    head = ["Timestamp", "Date", "Source", "Material", "Weight (lb)"]
    xlsx(tmp_path / "log.xlsx", {"Log": [head, [APRIL, MARCH, "School", "food scraps", 40]]})
    assert read_folder(site(tmp_path), AS_OF).entries["date"].dt.date.tolist() == [MARCH]
