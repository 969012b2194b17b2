"""Every decision about a column has a reason that a person can read, and the last one is what was done."""

from __future__ import annotations

from pathlib import Path

import pytest

from divert.cli.output.why import why_lines
from divert.core.findings import CannotRun
from divert.core.reading import Reading
from divert.ingest.read import read_folder, read_with_plans

from .corpus.book import AS_OF, CASES, Case, site
from .corpus.writers import Rows, xlsx


@pytest.mark.parametrize("case", CASES[::4], ids=lambda c: c.name)
def test_the_last_claim_of_each_column_is_what_it_was_taken_for(case: Case, tmp_path: Path) -> None:
    own = site(tmp_path, **case.make(tmp_path).site)
    reading, plans = read_with_plans(own, AS_OF)
    tables = {(p.file, p.sheet, t.headings[-1]): t for p in plans for t in p.tables if t.headings}
    for sheet in reading.sheets:
        table = tables.get((sheet.file, sheet.sheet, sheet.heading_row or 0))
        if table is None or sheet.how is not None or not sheet.why:
            continue
        stands = {claim.column: claim.role for claim in sheet.why}
        assert stands[""] == table.holds
        for column in table.columns:
            if column.at in {letter for letter, _, _ in sheet.columns}:
                assert stands[column.at] == column.role, (sheet.file, sheet.sheet, column)


def read(folder: Path, rows: Rows) -> Reading:
    xlsx(folder / "log.xlsx", {"Log": rows})
    return read_folder(site(folder), AS_OF)


ROWS = [
    ["Date", "Material", "No.", "Pounds"],
    ["March 4, 2025", "food scraps", 1, 40],
    ["March 5, 2025", "coffee grounds", 2, "none"],
    ["March 6, 2025", "food scraps", 3, "lots"],
]


@pytest.mark.parametrize(
    ("cell", "says"),
    [
        ("A", ["Log, A “Date”: date", "1.00 date: the words of its heading"]),
        (
            "C",
            [
                "0.70 id: its numbers name what they stand beside, and others say how much came",
                "The table holds: intake",
            ],
        ),
        ("D", ["0.70 weight: what its heading names: “Pounds”"]),
        ("2", ["“40 Pounds” counts as intake."]),
        ("3", ["is skipped: nothing delivered."]),
        ("D4", ["“lots” is set aside: no quantity."]),
        ("Z", ["column Z is in no table that was read"]),
    ],
)
def test_a_place_is_told_with_its_reasons(cell: str, says: list[str], tmp_path: Path) -> None:
    lines = [line.say() for line in why_lines(read(tmp_path, ROWS), f"log.xlsx!Log!{cell}")]
    for said in says:
        assert any(said in line for line in lines), lines


def test_a_row_of_a_long_empty_stretch_is_told(tmp_path: Path) -> None:
    blank: Rows = [[None] * 4 for _ in range(400)]
    reading = read(tmp_path, [*ROWS, *blank, ["March 7, 2025", "food scraps", 4, 20]])
    assert [line.say() for line in why_lines(reading, "log.xlsx!Log!300")] == [
        "log.xlsx, Log, 300: blank."
    ]


def test_a_place_that_is_none_is_one_message(tmp_path: Path) -> None:
    reading = read(tmp_path, ROWS)
    with pytest.raises(CannotRun, match=r"did you mean “log\.xlsx!Log”"):
        list(why_lines(reading, "log.xls!Log!A"))
    with pytest.raises(CannotRun, match="FILE!SHEET!COLUMN"):
        list(why_lines(reading, "A"))


def test_a_kept_plan_is_its_own_reason(tmp_path: Path) -> None:
    from divert.ingest.plan.write_file import plans_text

    xlsx(tmp_path / "log.xlsx", {"Log": ROWS})
    _, plans = read_with_plans(site(tmp_path), AS_OF)
    (tmp_path / "reading.toml").write_text(plans_text(plans), encoding="utf-8")
    lines = [line.say() for line in why_lines(read_folder(site(tmp_path), AS_OF), "log.xlsx!Log!D")]
    assert "1.00 weight: the plan kept in reading.toml says so" in lines[1]
