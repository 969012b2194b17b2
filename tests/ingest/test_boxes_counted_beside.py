"""A column that only names boxes, and a bare "#" beside it: the "#" says how many there were."""

from __future__ import annotations

import datetime as dt
from pathlib import Path

import pytest

from divert.ingest import read_folder
from divert.site.read import read_site

TOML = """\
[site]
name = "Yard"
started = 2025-01-01
units = "metric"
[[container]]
name = "barrel"
volume = "100 L"
[[container]]
name = "bucket"
volume = "10 L"
"""


def counts(folder: Path, head: str, rows: list[tuple[str, int]]) -> list[tuple[str, float]]:
    (folder / "site.toml").write_text(TOML, encoding="utf-8")
    lines = [
        f"2025-02-{n + 3:02},mill,food scraps,{box},{many},full"
        for n, (box, many) in enumerate(rows)
    ]
    (folder / "log.csv").write_text(f"Date,From,What,{head},How full\n" + "\n".join(lines) + "\n")
    entries = read_folder(read_site(folder), dt.date(2025, 3, 1)).entries
    return [
        (str(box), float(many))
        for box, many in zip(entries["container"], entries["count"], strict=True)
    ]


@pytest.mark.parametrize("head", ["In,#", "Brought,#", "Amount,No.", "Quantity,#", "How much,No"])
def test_the_number_beside_the_name_of_a_box_counts_it(tmp_path: Path, head: str) -> None:
    rows = [("barrel", 3), ("bucket", 1), ("barrel", 2), ("blue barrel", 1), ("bucket", 2)]
    found = counts(tmp_path, head, rows)
    assert found == [("barrel", 3), ("bucket", 1), ("barrel", 2), ("barrel", 1), ("bucket", 2)]


def test_a_number_beside_amounts_that_say_how_many_counts_nothing_again(tmp_path: Path) -> None:
    rows = [("2 barrels", 1), ("1 bucket", 2), ("3 barrels", 3), ("2 buckets", 4)]
    found = counts(tmp_path, "Amount,#", rows)
    assert found == [("barrel", 2), ("bucket", 1), ("barrel", 3), ("bucket", 2)]
