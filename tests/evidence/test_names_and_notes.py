"""Notes behind quantities and names of sources, found however they are spelt."""

import unicodedata

import pytest

from divert.evidence.names import in_text, naming, short_names
from divert.evidence.notes import without_note


@pytest.mark.parametrize(
    ("found", "note", "left"),
    [
        # The reader hands notes over in lower case and without the marks between their words.
        ("2 1/2 totes; ask   Xanthippe", "ask xanthippe", "2 1/2 totes"),
        ("2 totes (leaking - QZV)", "leaking qzv", "2 totes"),
        ("12kg ( wet, QZV )", "wet qzv", "12kg"),
        ("2 totes - half full, Xanthippe says", "xanthippe says", "2 totes - half full"),
        ("3 totes, call Xanthippe 5550199", "call xanthippe 5550199; seen by RT", "3 totes"),
        ("leaking: 2 totes", "leaking", "2 totes"),
        ("2 totes, 2 bags leaking", "2 bags leaking", "2 totes"),
        ("2 totes", "2 were split", "2 totes"),  # a note of another column
        ("2 totes (½ full)", "", "2 totes (½ full)"),
    ],
)
def test_a_cell_loses_the_note_it_held(found, note, left):
    assert without_note(found, note) == left


HIDER = in_text({"Lantern Row Café": "X", "lantern row": "X", "Straße": "Y", "Q": "Z"})


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("for Lantern Row Café.xlsx", "for X.xlsx"),
        ("LANTERN_ROW-cafe 2025.csv", "X 2025.csv"),
        (
            unicodedata.normalize("NFD", "Lantern Row Café") + ".csv",
            "X.csv",
        ),  # as macOS names files
        ("lantern row totes", "X totes"),
        ("lanterns", "lanterns"),
        ("straße", "Y"),
        ("Q1", "Q1"),  # too short to be told from a word
    ],
)
def test_a_name_is_taken_out_of_any_text(text, told):
    assert HIDER.cut(text) == told


def test_a_word_for_any_place_of_a_kind_names_nobody():
    names_one = naming(["Quillmarsh School kitchen", "school", "quillmarsh"])
    assert not names_one("school gardens")
    assert names_one("Quillmarsh gardens")


def test_the_first_word_of_a_name_is_a_name_where_it_means_nothing_else():
    assert short_names("Zephyrine Brewery", ["kitchen", "scraps"]) == ("Zephyrine",)
    assert short_names("Coffee Corner", ["coffee", "grounds"]) == ()
    assert short_names("Brewery Lane", []) == () and short_names("Old Ferry Hall", []) == ()
