"""Letters that no font can draw are named; those of the fonts that ship never are."""

from __future__ import annotations

import pytest

from divert.report.paper import glyphs


def test_a_letter_that_no_font_has_is_named(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(glyphs, "_here", lambda letter: False)
    # Latin, Greek and Cyrillic are in the fonts that ship (Source Sans 3); Han is not.
    assert glyphs.unseen_letters(["Café Žižkov Ωμέγα Кухня", "柳街 Yard"]) == ("柳", "街")
    monkeypatch.setattr(glyphs, "_here", lambda letter: True)
    assert glyphs.unseen_letters(["柳街"]) == ()


def test_nothing_is_said_where_the_machine_cannot_be_asked(monkeypatch: pytest.MonkeyPatch) -> None:
    glyphs._here.cache_clear()
    monkeypatch.setattr(glyphs.shutil, "which", lambda tool: None)
    assert glyphs.unseen_letters(["柳街"]) == ()
    glyphs._here.cache_clear()
