"""What is said of a published number is in the reader's language; what is printed in it is quoted."""

from __future__ import annotations

import pytest

from divert.figures.numbers.factor_words import ends_said, standing_said, unit_said


@pytest.mark.parametrize(
    ("unit", "english", "french"),
    [
        ("kg CO2 per litre", "kg CO₂ per L", "kg CO₂ par litre"),
        ("share", "share", "part"),
        ("CAD per kg", "CAD per kg", "CAD par kg"),
        ("kg of an unknown thing", "kg of an unknown thing", "kg of an unknown thing"),
    ],
)
def test_units_are_spelled_as_reports_print_them(unit: str, english: str, french: str) -> None:
    assert (unit_said(unit, "en"), unit_said(unit, "fr")) == (english, french)


def test_how_far_each_end_was_checked_is_said_in_words() -> None:
    assert standing_said("low quoted; high read", "en") == (
        "low: as quoted elsewhere; high: read in the document"
    )
    assert standing_said("low quoted; high read", "fr") == (
        "bas\u00a0: tel que cité ailleurs\u202f; haut\u00a0: lu dans le document"
    )
    assert standing_said("measured", "fr") == "mesuré par ce site"


def test_only_the_ends_names_of_a_source_are_translated() -> None:
    source = "low: A Table of Weights; typical: Low: a study; high: A Table of Weights"
    assert ends_said(source, "en") == source
    assert ends_said(source, "fr") == (
        "bas\u00a0: A Table of Weights\u202f; typique\u00a0: Low: a study\u202f; "
        "haut\u00a0: A Table of Weights"
    )
