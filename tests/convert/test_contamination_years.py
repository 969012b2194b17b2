"""Contamination over whole years."""

import datetime as dt

import pandas as pd

from divert.convert.contamination import check_years
from divert.core import ledger
from divert.factors import load_factors

FACTORS = load_factors()


def loads(year, removed_kg=None, months=range(1, 13), source="Quillmarsh School kitchen"):
    return [
        {
            "kind": "intake", "date": dt.date(year, m, 5), "source": source,
            "mass_kg": 100.0, "removed_kg": removed_kg,
        }
        for m in months
    ]  # fmt: skip


def check(rows, as_of=dt.date(2026, 1, 31), year_starts=1):
    frame = ledger.tidy(pd.DataFrame(rows))
    findings = check_years(frame, FACTORS, as_of=as_of, year_starts=year_starts)
    assert all(f.level == "query" for f in findings)
    return [(f.code, f.name) for f in findings]


NEVER = "contamination exactly zero all year"


def test_never_any_all_year_is_asked_about_once_a_year():
    assert check(loads(2024) + loads(2025)) == [(NEVER, "2024"), (NEVER, "2025")]


def test_a_year_that_has_not_ended_is_not_asked_about():
    assert check(loads(2025), as_of=dt.date(2025, 12, 30)) == []
    assert check(loads(2025), as_of=dt.date(2025, 12, 31)) == [(NEVER, "2025")]


def test_a_few_months_are_not_a_year():
    assert check(loads(2025, months=range(8, 13))) == []


def test_some_contamination_is_ordinary_and_more_than_a_tenth_is_not():
    assert check(loads(2025, removed_kg=2.0)) == []
    assert check(loads(2025, removed_kg=12.0)) == [
        ("contamination high", "Quillmarsh School kitchen 2025")
    ]


def test_removed_that_came_with_no_load_counts():
    school = "Quillmarsh School kitchen"

    def alone(kilograms, year=2025):
        return [{"date": dt.date(year, 3, 9), "source": school, "removed_kg": kilograms}]

    assert check(loads(2025) + alone(5.0)) == []
    assert check(loads(2025) + alone(150.0)) == [("contamination high", f"{school} 2025")]
    assert check(loads(2024) + alone(150.0)) == [(NEVER, "2024")]  # of another year


def test_only_the_source_with_much_of_it_is_named():
    rows = loads(2025, removed_kg=30.0) + loads(2025, source="Fernhollow Stables")
    assert check(rows) == [("contamination high", "Quillmarsh School kitchen 2025")]


def test_reporting_years_start_when_the_site_says():
    rows = loads(2024, months=range(7, 13)) + loads(2025, months=range(1, 7))
    assert check(rows, as_of=dt.date(2025, 6, 30), year_starts=7) == [(NEVER, "2025")]
    assert check(rows, as_of=dt.date(2025, 6, 29), year_starts=7) == []


def test_the_question_in_words():
    frame = ledger.tidy(pd.DataFrame(loads(2025, removed_kg=12.0)))
    (finding,) = check_years(frame, FACTORS, as_of=dt.date(2026, 1, 1))
    message = str(finding.message)
    assert message.startswith("12 % of what “Quillmarsh School kitchen” sent in 2025")
    assert "up to 10 %" in message
