"""The formulas give the figures: recalculated by another program, and by our own second route."""

from __future__ import annotations

import datetime as dt
import math

import pytest
from made_up import AS_OF, OWN, SITE, site, workings
from recalculated import needs_office, recalculated, sheets, summary

from divert.convert import work_out
from divert.factors import load_factors
from divert.figure_path import is_range, leaves
from divert.figures import to_json
from divert.period import read_period
from divert.report.evidence import evidence_workbook
from divert.site import Source
from divert.tally import figures_for

SCHOOL = "Quillmarsh School"
# Counted or agreed, not summed: they stand as values and the sheet says so.
STAND = ("rows", "weeks", "targets", "beds", "densities", "factors", "released_share")


def period(label):
    return read_period(label, as_of=AS_OF, started=SITE.started)


def made(label, audience, sponsor=None, found=None):
    found = found or workings()
    figures = figures_for(found, period(label), AS_OF, sponsor)
    return to_json(figures), evidence_workbook(found, {"period": figures}, audience, sponsor)


def central(figures):
    """Return every central figure by its path, as the Summary sheet names it."""
    out = {}
    for leaf in leaves({k: v for k, v in figures.items() if k != "findings"}):
        if leaf.path.endswith(".central"):
            out[leaf.path.removesuffix(".central")] = leaf.value
        elif not leaf.path.endswith((".low", ".high")):
            out[leaf.path] = leaf.value
    return out


def compared(figures, lines, leave_out=()):
    """Assert that every summed central figure is in the lines and agrees; return how many."""
    count = 0
    for path, value in central(figures).items():
        if path.startswith((*STAND, *leave_out)) or path.endswith(".year"):
            continue
        line = lines["period", path]
        assert math.isclose(line["value"], value, rel_tol=1e-9, abs_tol=1e-7), (path, value, line)
        assert line["how"].startswith("Formula"), (path, line)
        count += 1
    return count


@needs_office
@pytest.mark.parametrize("label", ["2025-Q2", "2025-03-15/2025-06-01"])
def test_recalculated_every_central_figure_is_the_one_that_is_printed(label, tmp_path):
    figures, workbook = made(label, "board")
    assert compared(figures, summary(recalculated(workbook, tmp_path))) > 200


@needs_office
def test_recalculated_the_sums_of_a_sponsors_workbook_give_its_figures(tmp_path):
    figures, workbook = made("2025-Q2", "sponsor", SCHOOL)
    theirs = ("by_source", "previous.by_source", "same_period_last_year.by_source", "money",
              "activities", "by_quarter", "by_year")  # fmt: skip
    assert compared(figures, summary(recalculated(workbook, tmp_path)), theirs) > 200


@needs_office
def test_names_that_spreadsheets_would_take_for_something_else(tmp_path):
    """Wildcards, comparisons, numbers, dates, formulas, quotes, and names that differ by case."""
    odd = ["*", "a?c", "<5", "=1+1", "TRUE", "12", "3 May", 'say "ah"', "~x", "@home", "été & co",
           "north gate", "North Gate", "x" * 80]  # fmt: skip
    rows = [
        {"kind": "intake", "date": dt.date(2025, 5, 1 + n), "source": name, "mass_kg": 10.0 + n,
         "material": "kitchen scraps", "file": "log.xlsx", "sheet": "S", "row": n + 2}
        for n, name in enumerate(odd)
    ]  # fmt: skip
    from made_up import reading

    strange = site(sources=tuple(Source(name) for name in odd if name != "north gate"))
    found = work_out(strange, reading(rows), load_factors())
    figures, workbook = made("2025-Q2", "board", found=found)
    lines = summary(recalculated(workbook, tmp_path))
    by_source = {p["source"]: n for n, p in enumerate(figures["by_source"])}
    for n, name in enumerate(odd):
        line = lines["period", f"by_source[{by_source[name]}].received"]
        assert line["value"] == pytest.approx(10.0 + n), name


def test_results_stand_in_the_file_for_viewers_that_do_not_calculate():
    figures, workbook = made("2025-Q2", "board")
    assert compared(figures, summary(sheets(workbook))) > 200


def test_ranges_stand_as_values_and_the_sheet_says_so():
    figures, workbook = made("2025-Q2", "board")
    line = summary(sheets(workbook))["period", "mass.diverted"]
    spread = figures["mass"]["diverted"]
    assert is_range(spread)
    assert (line["low"], line["high"]) == (
        pytest.approx(spread["low"]), pytest.approx(spread["high"]),
    )  # fmt: skip
    assert "10,000 draws" in line["how"]


def test_the_checks_on_the_first_sheet_come_to_nothing():
    _, workbook = made("2025-Q2", "board")
    checks = [row for row in sheets(workbook)["Summary"] if "(0:" in str(row[1])]
    assert [row[5] for row in checks] == [0.0, 0.0]


def test_a_site_with_nothing_logged_has_a_workbook():
    from made_up import reading

    found = work_out(SITE, reading([{"kind": "activity", "date": dt.date(2025, 5, 2), "name": "x",
                                     "amount": 1.0, "unit": "h"}]), load_factors())  # fmt: skip
    figures, workbook = made("2025-Q2", "board", found=found)
    assert summary(sheets(workbook))["period", "mass.received"]["value"] == 0.0
    assert figures["mass"]["received"]["central"] == 0.0


def test_the_school_has_rows_of_its_own():
    assert any(p.name == OWN for p in figures_for(workings(), period("2025-Q2"), AS_OF).by_source)
