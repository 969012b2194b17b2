"""The fonts kept cut and unpacked are those that ship, and rarer letters still find theirs."""

from __future__ import annotations

import base64
import io

import pytest
from fontTools.ttLib import TTFont

from divert.core.shipped import templates_folder
from divert.report.charts.widths import width_mm
from divert.report.paper.fonts import FACES, cut_to, faces_css, for_paper, packaged, rare_letters

FONTS = templates_folder() / "fonts"
USUAL = "AZaz09 éÉœŒç–—‘’“”…\u202f\u00a0\u2009−≤≥×·₂²³½€"


@pytest.mark.parametrize("face", FACES, ids=lambda face: face.file)
def test_a_font_kept_cut_says_of_its_letters_what_the_whole_one_says(face) -> None:
    stem = face.file.removesuffix(".woff2")
    whole = TTFont(FONTS / face.file)
    for name in (f"{stem}.otf", f"{stem}.woff2"):
        kept = TTFont(FONTS / "usual" / name)
        assert {ord(c) for c in USUAL} <= kept.getBestCmap().keys()
        widths, own = whole["hmtx"].metrics, kept["hmtx"].metrics
        for code, glyph in kept.getBestCmap().items():
            assert own[glyph][0] == widths[whole.getBestCmap()[code]][0]
        for table, field in (("head", "unitsPerEm"), ("hhea", "ascent"), ("OS/2", "sxHeight")):
            assert getattr(kept[table], field) == getattr(whole[table], field)


def test_a_page_of_usual_letters_takes_the_kept_fonts_and_any_other_the_whole_ones() -> None:
    assert not rare_letters(USUAL) and rare_letters("Łódź") == set("Łź")
    assert all(address.endswith(".otf") for address in for_paper(rare=False).values())
    assert for_paper(rare=True) == packaged()
    assert "opentype" in faces_css(for_paper(rare=False))
    for text, has in (("Łódź", True), ("Alder", False)):
        address = cut_to(text)[FACES[0].file]
        font = TTFont(io.BytesIO(base64.b64decode(address.split(",", 1)[1])))
        assert (ord("Ł") in font.getBestCmap()) == has


def test_a_rare_letter_is_as_wide_as_in_the_whole_font() -> None:
    font = TTFont(FONTS / "SourceSans3-Regular.woff2")
    for letter in "aŁ":
        em = font["hmtx"].metrics[font.getBestCmap()[ord(letter)]][0] / font["head"].unitsPerEm
        assert width_mm(letter, 10) == pytest.approx(em * 10 * 25.4 / 72)
