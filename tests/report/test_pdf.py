"""The PDF: tagged, titled, fonts embedded, two pages, nothing clipped or overlapping, same bytes."""

from __future__ import annotations

import functools
import io
import os
from dataclasses import replace
from pathlib import Path

import cases
import pikepdf
import pypdfium2
import pytest
import seen
from PIL import Image
from told import tells

from divert.report.paper import pdf
from divert.report.paper.pictures import load


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
def test_pages_fit_and_nothing_is_cut_off_or_runs_over_the_margin_or_another_line(
    case: str,
) -> None:
    document = pypdfium2.PdfDocument(_made(case))
    assert len(document) == 2
    for page in document:
        assert page.get_size() == (612, 792)  # US Letter in points
        assert page.get_textpage().count_rects() > 10
    assert seen.faults(_made(case)) == []


@pytest.mark.parametrize("case", ["both", "long_names", "nothing_this_quarter"])
def test_the_same_holds_in_french_on_a4(case: str) -> None:
    figures = cases.CASES[case]()
    page, _ = cases.page_of(figures, language="fr", units="metric", country="FR")
    made = pdf.write_pdf(page, cases.look(country="FR"), "fr", figures.as_of, most_pages=2)
    document = pypdfium2.PdfDocument(made)
    assert len(document) == 2
    width, height = document[0].get_size()
    assert (round(width), round(height)) == (595, 842)  # ISO 216 A4: 210 x 297 mm
    assert seen.faults(made) == []
    with pikepdf.open(io.BytesIO(made)) as tagged:
        assert str(tagged.Root.Lang) == "fr"


def test_long_names_are_cut_in_running_heads_and_whole_on_the_first_page() -> None:
    first, second = pypdfium2.PdfDocument(_made("long_names"))
    whole = " ".join(first.get_textpage().get_text_range().split())
    assert cases.LONG in whole
    head = " ".join(second.get_textpage().get_text_range().split())
    assert "The Compost Yard of Friends and…" in head
    assert "For The Association of Friends…" in head


def test_a_report_with_little_to_say_stands_on_one_page() -> None:
    figures = cases.nothing_this_quarter()
    own = figures.supplied
    assert own is not None
    never = tuple(
        replace(m, received=cases.NOTHING, diverted=cases.NOTHING,
                same_month_last_year=cases.NOTHING)
        for m in own.history
    )  # fmt: skip
    figures = replace(
        figures, harvest=(), supplied=replace(own, history=never, by_month=never[-3:])
    )
    page, _ = cases.page_of(figures)
    made = pdf.write_pdf(page, cases.look(), "en", figures.as_of, most_pages=2)
    assert len(pypdfium2.PdfDocument(made)) == 1
    assert seen.faults(made) == []


@pytest.mark.parametrize("case", ["both", "long_names"])
def test_running_heads_and_feet_are_no_part_of_what_is_read_out(case: str) -> None:
    # ISO 14289-1, 7.8: running headers and footers are marked as artifacts.
    with pikepdf.open(io.BytesIO(_made(case))) as document:
        parents = {
            int(page): list(held)
            for page, held in zip(*[iter(document.Root.StructTreeRoot.ParentTree.Nums)] * 2,
                                  strict=True)
            if isinstance(held, pikepdf.Array)
        }  # fmt: skip
        for number, page in enumerate(document.pages):
            read, furniture = set(), 0
            for operands, operator in pikepdf.parse_content_stream(page):
                if str(operator) == "BDC" and "/MCID" in operands[1]:
                    read.add(int(operands[1].MCID))
                furniture += str(operator) == "BDC" and str(operands[0]) == "/Artifact"
            tagged = {n for n, parent in enumerate(parents[number]) if parent is not None}
            assert read == tagged  # all that is marked as text hangs on the tree
            assert furniture >= (2 if number == 0 else 4)  # foot and number; then two heads more


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
        title = "Kestrel Bend Community Farm|Tern Street Kitchen|Second quarter 2025"
        assert tells(document.docinfo.Title, title)
        with document.open_metadata() as metadata:
            assert metadata["pdfuaid:part"] == "1"
        elements = _elements(document)
        heads = [e for e in elements if e.S == "/TH"]
        # ISO 32000-1, table 349: Scope is Row, Column or Both.
        assert sorted(str(e.A.Scope) for e in heads) == ["/Column"] * 5 + ["/Row"] * 4
        drawings = [e for e in elements if e.S == "/Figure"]
        assert len(drawings) == 5
        assert all(len(str(e.Alt)) > 40 for e in drawings)
        assert any("diverted 960" in str(e.Alt) for e in drawings)
        assert [str(e.S) for e in elements if str(e.S) in ("/H1",)] == ["/H1"]


def test_marks_that_some_fonts_lack_are_in_ours() -> None:
    from fontTools.ttLib import TTFont

    from divert.core.shipped import templates_folder
    from divert.report.paper.fonts import FACES, packaged

    assert set(packaged()) == {face.file for face in FACES}
    for face in FACES:
        with TTFont(templates_folder() / "fonts" / face.file, lazy=True) as font:
            has = set(font.getBestCmap())
        missing = [c for c in "≥≤−–²³₂₄\u202f\u2009\u00a0½×·’“”…€éÉœçĀŵ" if ord(c) not in has]
        assert not missing


def test_rare_letters_are_set_after_a_page_without_any() -> None:
    _made("both")  # with the fonts cut to the usual letters
    page, _ = cases.page_of(cases.both())
    named = page.replace("Tern Street", "Žižkov Street")
    made = pdf.write_pdf(named, cases.look(), "en", cases.both().as_of, most_pages=2)
    assert seen.faults(made) == []


def test_the_same_page_gives_the_same_bytes(monkeypatch: pytest.MonkeyPatch) -> None:
    first = _made("both")
    monkeypatch.setenv("SOURCE_DATE_EPOCH", "86400")  # neither heard nor changed
    figures = cases.both()
    page, _ = cases.page_of(figures)
    assert pdf.write_pdf(page, cases.look(), "en", figures.as_of, most_pages=2) == first
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
    from divert.core.shipped import templates_folder

    fonts = str(templates_folder() / "fonts").lstrip("/")
    with pytest.raises(ValueError):
        pdf._fetcher()(address.format(fonts=fonts))


@pytest.mark.parametrize("name", ["yard.png", "yard.jpg"])
def test_logo_and_picture_stand_in_the_page_with_their_words(name: str, tmp_path: Path) -> None:
    from divert.evidence.page_text import page_drawings

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
