"""A running head is whole words of a long name, or as much of one very long word as has room."""

from __future__ import annotations

import pytest

from divert.report.charts.widths import width_mm
from divert.report.paper.pages import Frame

WORD = "Untrennbarlangesgenossenschaftskantinenverpflegungswerk"


def head(name: str) -> str:
    return Frame("", "", name, "", name, "", "", "2025-06-30").head_to


@pytest.mark.parametrize(
    ("name", "said"),
    [
        ("For North School", "For North School"),
        (
            f"For {WORD}",
            f"For {WORD}",
        ),  # one word wider than 34 letters, and narrower than the room
        ("For The Association of Friends and Neighbors", "For The Association of Friends…"),
    ],
)
def test_a_head_names_somebody(name: str, said: str) -> None:
    assert head(name) == said


def test_a_word_wider_than_half_a_line_is_cut_where_the_room_ends() -> None:
    said = head(f"For {WORD}{WORD}")
    assert said.startswith(f"For {WORD[:30]}") and said.endswith("…")
    assert width_mm(said, 8) <= 80 < width_mm(said[:-1] + "mm…", 8)  # A4 less its margins is 174 mm
