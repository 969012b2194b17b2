"""How the columns of a sheet are said on the screen."""

from __future__ import annotations

from divert.cli.output.columns import columns_line


def test_a_month_of_days_is_said_once() -> None:
    days = [(letter, str(n), "quantity") for n, letter in enumerate("BCDEF", 1)]
    columns = [("A", "Source", "source"), *days, ("G", "Total", "total (not counted)")]
    assert (
        columns_line(columns)
        == "A “Source” = source; B–F “1” … “5” = quantity; G “Total” = total (not counted)"
    )


def test_few_columns_alike_are_said_each_and_a_missing_heading_is_named() -> None:
    columns = [
        ("A", "", "date"),
        ("B", "1", "quantity"),
        ("C", "2", "quantity"),
        ("D", "Note", "note"),
    ]
    assert (
        columns_line(columns)
        == "A (no heading) = date; B “1” = quantity; C “2” = quantity; D “Note” = note"
    )


def test_french_names_its_columns_in_french() -> None:
    columns = [("A", "Date", "date"), ("B", "Poids", "gross (kg)"), ("C", "", "note")]
    assert columns_line(columns, "fr") == (
        "A «\u00a0Date\u00a0» = date\u202f; B «\u00a0Poids\u00a0» = poids avec contenant, kg\u202f; "
        "C (sans en-tête) = remarque"
    )
