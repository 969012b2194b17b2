"""The PDF: tagged, titled, fonts embedded, two pages, nothing clipped or overlapping, same bytes."""

from __future__ import annotations

import functools
import io
from pathlib import Path

import cases
import pikepdf
import pypdfium2
import pytest
from PIL import Image

from divert.report import pdf
from divert.report.pictures import load


@functools.cache
def _made(case: str) -> bytes:
    figures = cases.CASES[case]()
    page, _ = cases.page_of(figures)
    return pdf.write_pdf(page, cases.look(), "en", figures.as_of, most_pages=2)


def _elements(document: pikepdf.Pdf) -> list[pikepdf.Dictionary]:
    found, waiting = [], [document.Root.StructTreeRoot]
    while waiting:
        here = waiting.pop()
        if isinstance(here, pikepdf.Array):
            waiting += list(here)
        elif isinstance(here, pikepdf.Dictionary) and "/MCID" not in here:
            if "/S" in here:
                found.append(here)
            if "/K" in here and not isinstance(here.K, int):
                waiting.append(here.K)
    return found


@pytest.mark.parametrize("case", cases.CASES)
def test_pages_fit_and_nothing_runs_over_the_margin_or_another_line(case: str) -> None:
    document = pypdfium2.PdfDocument(_made(case))
    assert len(document) == 2
    for page in document:
        width, height = page.get_size()
        assert (width, height) == (612, 792)  # US Letter in points
        text = page.get_textpage()
        boxes = [text.get_rect(i) for i in range(text.count_rects())]
        assert len(boxes) > 10
        for left, bottom, right, top in boxes:
            assert left >= 50 and right <= width - 50 and bottom >= 20 and top <= height - 20
        for i, one in enumerate(boxes):
            for other in boxes[i + 1 :]:
                assert _shared(one, other) < 0.25


Box = tuple[float, float, float, float]


def _shared(one: Box, other: Box) -> float:
    """Return the shared area of two boxes as a share of the smaller."""
    wide = min(one[2], other[2]) - max(one[0], other[0])
    high = min(one[3], other[3]) - max(one[1], other[1])
    if wide <= 0 or high <= 0:
        return 0.0
    sizes = [(b[2] - b[0]) * (b[3] - b[1]) for b in (one, other)]
    return wide * high / max(min(sizes), 0.01)


@pytest.mark.parametrize("case", ["both", "below_zero", "long_names"])
def test_an_independent_checker_finds_no_fault(case: str, tmp_path: Path) -> None:
    # pdfua: a PDF/UA-1 (ISO 14289-1) checker from PyPI, not of this project.
    from pdfua import validate

    path = tmp_path / "report.pdf"
    path.write_bytes(_made(case))
    assert not validate(str(path)).findings


def test_what_a_screen_reader_needs_is_there() -> None:
    with pikepdf.open(io.BytesIO(_made("both"))) as document:
        root = document.Root
        assert str(root.Lang) == "en"
        assert bool(root.MarkInfo.Marked)
        assert bool(root.ViewerPreferences.DisplayDocTitle)
        assert str(document.docinfo.Title) == (
            "Kestrel Bend Community Farm: report for Tern Street Kitchen, Second quarter 2025"
        )
        with document.open_metadata() as metadata:
            assert metadata["pdfuaid:part"] == "1"
        elements = _elements(document)
        heads = [e for e in elements if e.S == "/TH"]
        # ISO 32000-1, table 349: Scope is Row, Column or Both.
        assert sorted(str(e.A.Scope) for e in heads) == ["/Column"] * 5 + ["/Row"] * 4
        drawings = [e for e in elements if e.S == "/Figure"]
        assert len(drawings) == 4
        assert all(len(str(e.Alt)) > 40 for e in drawings)
        assert any("diverted 960" in str(e.Alt) for e in drawings)
        assert [str(e.S) for e in elements if str(e.S) in ("/H1",)] == ["/H1"]


@pytest.mark.parametrize("case", ["both", "long_names"])
def test_every_letter_is_set_in_the_fonts_that_ship(case: str) -> None:
    with pikepdf.open(io.BytesIO(_made(case))) as document:
        fonts = {}
        for thing in document.objects:
            if isinstance(thing, pikepdf.Dictionary) and thing.get("/Type") == "/FontDescriptor":
                fonts[str(thing.FontName).split("+")[1]] = (
                    "/FontFile2" in thing or "/FontFile3" in thing
                )
    assert all(name.startswith(("Source-Sans-3", "Source-Serif-4")) for name in fonts)
    assert all(fonts.values())


def test_marks_that_some_fonts_lack_are_in_ours() -> None:
    from fontTools.ttLib import TTFont

    from divert.report.fonts import FACES, packaged
    from divert.shipped import templates_folder

    assert set(packaged()) == {face.file for face in FACES}
    for face in FACES:
        with TTFont(templates_folder() / "fonts" / face.file, lazy=True) as font:
            has = set(font.getBestCmap())
        missing = [c for c in "≥≤−–²³₂₄\u202f\u2009\u00a0½×·’“”…€éÉœçĀŵ" if ord(c) not in has]
        assert not missing


def test_the_same_page_gives_the_same_bytes(monkeypatch: pytest.MonkeyPatch) -> None:
    figures = cases.both()
    page, _ = cases.page_of(figures)
    again = pdf.write_pdf(page, cases.look(), "en", figures.as_of, most_pages=2)
    assert again == _made("both")
    monkeypatch.setenv("SOURCE_DATE_EPOCH", "86400")
    pdf.write_pdf(page, cases.look(), "en", figures.as_of)
    import os

    assert os.environ["SOURCE_DATE_EPOCH"] == "86400"


@pytest.mark.parametrize(
    "address",
    [
        "http://x.example/a.png",
        "https://x.example/a.png",
        "ftp://x.example/a",
        "file:///etc/hostname",
        "file://host.example/etc/hostname",
        "file:///{fonts}/../style.css",
        "file:///{fonts}/..%2fbase.html",
        "attachment.png",
    ],
)
def test_nothing_is_fetched_but_the_fonts_that_ship(address: str) -> None:
    from divert.shipped import templates_folder

    fonts = str(templates_folder() / "fonts").lstrip("/")
    with pytest.raises(ValueError):
        pdf._fetcher()(address.format(fonts=fonts))


@pytest.mark.parametrize("name", ["yard.png", "yard.jpg"])
def test_logo_and_picture_stand_in_the_page_with_their_words(name: str, tmp_path: Path) -> None:
    from dataclasses import replace

    from divert.report.page_text import page_drawings

    Image.new("RGB", (1200, 800), "olive").save(tmp_path / name)
    picture, _ = load(tmp_path, name, "picture")
    look = replace(cases.look(), logo=picture, picture=picture)
    figures = cases.both()
    page, _ = cases.page_of(figures, shown=look)
    made = pdf.write_pdf(page, look, "en", figures.as_of, most_pages=2)
    with pikepdf.open(io.BytesIO(made)) as document:
        assert len(document.pages) == 2
        words = {str(e.Alt) for e in _elements(document) if e.S == "/Figure"}
    assert {"Kestrel Bend Community Farm", "A picture from Kestrel Bend Community Farm"} <= words
    assert len(page_drawings(made)) == 2  # the record of a page holds photographs too


def test_a4_where_letter_is_not_the_usual_paper() -> None:
    figures = cases.supported()
    page, _ = cases.page_of(figures, language="fr", units="metric", country="FR")
    made = pdf.write_pdf(page, cases.look(country="FR"), "fr", figures.as_of, most_pages=2)
    width, height = pypdfium2.PdfDocument(made)[0].get_size()
    assert (round(width), round(height)) == (595, 842)  # ISO 216 A4: 210 x 297 mm
    with pikepdf.open(io.BytesIO(made)) as document:
        assert str(document.Root.Lang) == "fr"
