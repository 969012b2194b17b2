"""The statement of all yards: what it prints, in both languages, and its workbook's sums."""

from __future__ import annotations

import io
import re
from pathlib import Path

import pytest
from made_yards import AS_OF, write_region
from openpyxl import load_workbook

from divert import together
from divert.cli.output.together import region_lines
from divert.core.mark import MARK, marked_rows
from divert.region.result import RegionFigures, to_json
from divert.region.statement.workbook import region_workbook
from divert.region.statement.write import write_statement


@pytest.fixture(scope="module")
def figures(tmp_path_factory: pytest.TempPathFactory) -> RegionFigures:
    region = write_region(tmp_path_factory.mktemp("region"), 4, 30)
    (region / "yard-0002" / "site.toml").write_text("[site]\n")
    text = (region / "yards.toml").read_text().replace("[region]", '[region]\nlanguage = "fr"')
    (region / "yards.toml").write_text(text)
    return together(region / "yards.toml", "2025", AS_OF)


def test_the_page_says_the_sum_its_range_and_who_is_not_in_it(
    figures: RegionFigures, tmp_path: Path
) -> None:
    pdf, html, book = write_statement(figures, tmp_path)
    assert pdf.name == "together-saltgrass-shore-yards.pdf" and pdf.parent.name == "2025"
    assert pdf.read_bytes()[:5] == b"%PDF-" and book.suffix == ".xlsx"
    page = html.read_text(encoding="utf-8")
    assert "Ensemble, <data" not in page and "Ensemble, 3 sites" in page.replace("\u202f", " ")
    for said in ("yard-0002", "North shore", "janvier 2025", "Mois par mois", "Site par site"):
        assert said in page
    first = page.index("figurent pas, faute d")
    assert "1 (yard-0002)" in page[first : first + 200] and first < page.index("Mois par mois")
    assert "mass.diverted.low" in page and "by_group[0].diverted.central" in page


def test_the_workbook_adds_centrals_by_formula_and_carries_the_sum_s_own_range(
    figures: RegionFigures,
) -> None:
    book = load_workbook(io.BytesIO(region_workbook(figures)))
    assert MARK in {prop.name for prop in book.custom_doc_props.props}
    yards, not_read = book["Sites"], book["Non lus"]
    rows = list(yards.iter_rows(values_only=True))
    assert [row[0] for row in rows[1:4]] == ["yard-0000", "yard-0001", "yard-0003"]
    assert rows[4][4] == "=SUM(E2:E4)"
    assert rows[4][5] == figures.mass.diverted.low > sum(row[5] for row in rows[1:4])
    assert not_read["A2"].value == "yard-0002" and "name" in str(not_read["C2"].value)
    total = {row[0]: row[1] for row in book["Total"].iter_rows(min_row=2, values_only=True)}
    assert total["Détourné"] == pytest.approx(sum(row[4] for row in rows[1:4]))


def test_what_it_wrote_is_never_read_as_a_log(figures: RegionFigures) -> None:
    from divert.cli.output.together import yards_csv

    first = yards_csv(to_json(figures)).splitlines()[0].split(",")
    assert marked_rows([first])


def test_a_group_of_which_no_yard_could_be_read_is_given_no_nought(tmp_path: Path) -> None:
    region = write_region(tmp_path / "region", 3, 30)  # each in a group of its own
    (region / "yard-0001" / "site.toml").write_text("[site]\n")
    found = together(region / "yards.toml", "2025", AS_OF)
    page = write_statement(found, tmp_path, ("html",))[0].read_text(encoding="utf-8")
    table = page[page.index("Yards by group") :]
    table = table[: table.index("</table>")]
    lost = next(g.name for g in found.by_group if not g.yards)
    row = table[table.index(lost) :]
    row = re.sub("<[^>]+>", " ", row[: row.index("</tr>")]).split()
    assert row[-6:] == ["0", "1", "none", "could", "be", "read"]
    assert "Not read" in table


def test_where_no_yard_could_be_read_no_sum_is_said(tmp_path: Path) -> None:
    region = write_region(tmp_path / "region", 2, 30)
    for yard in ("yard-0000", "yard-0001"):
        (region / yard / "site.toml").write_text("[site]\n")
    found = together(region / "yards.toml", "2025", AS_OF)
    page = write_statement(found, tmp_path, ("html",))[0].read_text(encoding="utf-8")
    said = [line.say("en") for line in region_lines(found)]
    assert "None of the yards could be read" in page and "mass.diverted" not in page
    assert "yard-0001" in page
    assert len(said) == 4 and said[1].startswith("None of the yards could be read")
