"""The formulas give the figures: recalculated by another program, and by our own second route."""

from __future__ import annotations

import datetime as dt
import math
import re

import pytest
from made_up import AS_OF, OWN, SITE, reading, site, workings
from recalculated import needs_office, recalculated, sheets, summary, unlike

from divert.convert import work_out
from divert.core.period import read_period
from divert.factors import load_factors
from divert.figures.as_json import to_json
from divert.figures.compute import figures_for
from divert.figures.figure_path import is_range, leaves
from divert.site.model import Source
from divert.workbook.book import evidence_workbook

SCHOOL = "Quillmarsh School"
# Counted or agreed, not summed: they stand as values and the sheet says so.
STAND = ("rows", "weeks", "harvests_set_aside", "targets", "beds", "densities", "factors", "released_share",
         "stock.counted_kg", "feed_mix.materials",
         "standing.landfill", "previous.weeks", "same_period_last_year.weeks")  # fmt: skip
# What others gave in a sponsor's quarters is no figure of the sponsor's.
NO_SUMS = re.compile(r".*\.(?:year|change)$|supported\.by_quarter\[\d+\]\.(?:received|weighed_kg)")


def period(label):
    return read_period(label, as_of=AS_OF, started=SITE.started)


def made(label, audience, sponsor=None, found=None):
    found = found or workings()
    figures = figures_for(found, period(label), AS_OF, sponsor)
    return to_json(figures), evidence_workbook(found, {"period": figures}, audience, sponsor)


def central(figures):
    """Return every central figure by its path, as the sheet of every figure names it."""
    out = {}
    for leaf in leaves({k: v for k, v in figures.items() if k != "findings"}):
        if leaf.path.endswith(".central"):
            out[leaf.path.removesuffix(".central")] = leaf.value
        elif not leaf.path.endswith((".low", ".high", ".mean")):
            out[leaf.path] = leaf.value
    return out


def compared(figures, lines, leave_out=()):
    """Assert that every summed central figure is in the lines and agrees; return how many."""
    count = 0
    for path, value in central(figures).items():
        if path.startswith((*STAND, *leave_out)) or NO_SUMS.fullmatch(path):
            continue
        line = lines["period", path]
        assert math.isclose(line["value"], value, rel_tol=1e-9, abs_tol=1e-7), (path, value, line)
        assert line["how"].startswith("Formula"), (path, line)
        count += 1
    return count


# Wildcards, comparisons, numbers, dates, formulas, quotes, and names that differ by case: names that
# spreadsheet programs would take for something else.
ODD = ["*", "a?c", "<5", "=1+1", "TRUE", "12", "3 May", 'say "ah"', "~x", "@home", "été & co",
       "north gate", "North Gate", "SORT(2", "x" * 80]  # fmt: skip


def oddly_named():
    rows = [
        {"kind": "intake", "date": dt.date(2025, 5, 1 + n), "source": name, "mass_kg": 10.0 + n,
         "material": "kitchen scraps", "file": "log.xlsx", "sheet": "S", "row": n + 2}
        for n, name in enumerate(ODD)
    ]  # fmt: skip
    rows.append({"kind": "residue", "date": dt.date(2025, 5, 30), "mass_kg": 4.0, "file": "log.xlsx",
                 "sheet": "Out", "row": 2})  # fmt: skip
    strange = site(sources=tuple(Source(name) for name in ODD if name != "north gate"))
    return work_out(strange, reading(rows), load_factors())


THEIRS = ("by_source", "previous.by_source", "same_period_last_year.by_source", "money",
          "activities", "by_quarter", "by_year",
          "contamination", "feed_mix", "volume_reduction", "participation", "stock", "process_log")  # fmt: skip


@pytest.fixture(scope="module")
def books():
    """Board, a period that cuts months in two, two sponsors, a French site in kilograms, odd names."""
    french = work_out(site(language="fr", units="metric", country="FR"), reading(), load_factors())
    return {
        "board": made("2025-Q2", "board"),
        "cut months": made("2025-03-15/2025-06-01", "board"),
        "school": made("2025-Q2", "sponsor", SCHOOL),
        "bank": made("2025-03-15/2025-06-01", "sponsor", "Two Oaks Credit Union"),
        "french": made("2024", "grant", found=french),
        "odd": made("2025-Q2", "board", found=oddly_named()),
    }


@pytest.fixture(scope="module")
def again(books, tmp_path_factory):
    workbooks = {name: workbook for name, (_, workbook) in books.items()}
    return recalculated(workbooks, tmp_path_factory.mktemp("office"))


@needs_office
@pytest.mark.parametrize("name", ["board", "cut months", "school", "bank", "french", "odd"])
def test_recalculated_every_cell_is_what_the_file_brought_along(books, again, name):
    assert unlike(sheets(books[name][1]), again[name]) == []


@needs_office
@pytest.mark.parametrize("name", ["board", "cut months", "school", "bank", "odd"])
def test_recalculated_every_central_figure_is_the_one_that_is_printed(books, again, name):
    left_out = THEIRS if name in ("school", "bank") else ()
    assert compared(books[name][0], summary(again[name]), left_out) > 100


@needs_office
def test_names_that_spreadsheets_would_take_for_something_else(books, again):
    lines = summary(again["odd"])
    by_source = {p["source"]: n for n, p in enumerate(books["odd"][0]["by_source"])}
    for n, name in enumerate(ODD):
        line = lines["period", f"by_source[{by_source[name]}].received"]
        assert line["value"] == pytest.approx(10.0 + n), name


def test_results_stand_in_the_file_for_viewers_that_do_not_calculate(books):
    figures, workbook = books["board"]
    assert compared(figures, summary(sheets(workbook))) > 200


def test_ranges_stand_as_values_and_the_sheet_says_so(books):
    figures, workbook = books["board"]
    line = summary(sheets(workbook))["period", "mass.diverted"]
    spread = figures["mass"]["diverted"]
    assert is_range(spread)
    assert (line["low"], line["high"]) == (
        pytest.approx(spread["low"]), pytest.approx(spread["high"]),
    )  # fmt: skip
    assert "10,000 draws" in line["how"]


def test_the_checks_on_the_first_sheet_come_to_nothing(books):
    _, workbook = books["board"]
    checks = [row for row in sheets(workbook)["Every figure"] if "(0:" in str(row[1])]
    assert [row[5] for row in checks] == [0.0, 0.0]


def test_a_site_with_nothing_logged_has_a_workbook():
    found = work_out(SITE, reading([{"kind": "activity", "date": dt.date(2025, 5, 2), "name": "x",
                                     "amount": 1.0, "unit": "h"}]), load_factors())  # fmt: skip
    figures, workbook = made("2025-Q2", "board", found=found)
    assert summary(sheets(workbook))["period", "mass.received"]["value"] == 0.0
    assert figures["mass"]["received"]["central"] == 0.0


def test_the_school_has_rows_of_its_own():
    assert any(p.name == OWN for p in figures_for(workings(), period("2025-Q2"), AS_OF).by_source)


@needs_office
@pytest.mark.parametrize("name", ["board", "school"])
def test_what_each_standing_carries_is_a_table_that_adds_up(books, again, name):
    """By links to the sheet of every figure; nobody's but a board's or a grant's."""
    rows = [[str(c) for c in row[:1]] + row[1:] for row in again[name]["Method"]]
    head = next((n for n, row in enumerate(rows) if row[0] == "What the result rests on"), None)
    if name == "school":
        assert head is None
        return
    told = {row[0]: row[1] for row in rows[head + 1 :] if row[0]}
    assert told["Weighed"] == pytest.approx(books[name][0]["standing"]["mass"]["weighed"])
    assert sum(told.values()) == pytest.approx(1)
