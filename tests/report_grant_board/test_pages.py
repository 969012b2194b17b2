"""Set as PDF: page counts, nothing clipped, the signature never alone, PDF/UA-1 by another checker."""

from __future__ import annotations

import datetime as dt
import functools
import io

import pdfua
import pypdfium2
import pytest
import statements
from statements import board_page, grant_page

from divert.publish.make import LEAST_PAGES, MOST_PAGES
from divert.report.paper.pdf import write_pdf

PAGES = {
    ("grant", "nothing issued"): (3, 4),
    ("grant", "restated"): (3, 4),
    ("grant", "long names"): (3, 4),
    ("grant", "many materials"): (3, 4),
    ("board", "a whole year"): (4, 6),
    ("board", "two hundred sources"): (4, 6),
    ("board", "long names"): (4, 6),
    ("board", "to date"): (4, 6),
}


@functools.cache
def made(kind: str, case: str) -> bytes:
    page, _ = (grant_page if kind == "grant" else board_page)(case)
    return write_pdf(
        page, statements.look(), "en", dt.date(2025, 7, 3), most_pages=MOST_PAGES[kind],
        least_pages=LEAST_PAGES[kind],
    )  # fmt: skip


@pytest.mark.parametrize(("kind", "case"), PAGES)
def test_as_many_pages_as_promised_and_nothing_beyond_the_margin(kind: str, case: str) -> None:
    document = pypdfium2.PdfDocument(io.BytesIO(made(kind, case)))
    least, most = PAGES[kind, case]
    assert least <= len(document) <= most
    for page in document:
        width, height = page.get_size()
        text = page.get_textpage()
        assert text.count_rects() > 10
        for i in range(text.count_rects()):
            left, bottom, right, top = text.get_rect(i)
            assert left >= 49 and right <= width - 49 and bottom >= 20 and top <= height - 20


@pytest.mark.parametrize(("kind", "case"), PAGES)
def test_no_page_has_little_on_it(kind: str, case: str) -> None:
    document = pypdfium2.PdfDocument(io.BytesIO(made(kind, case)))
    for number, page in enumerate(document, start=1):
        height, text = page.get_height(), page.get_textpage()
        # 18 mm of margin hold the foot; the lowest word above them ends what is on the page.
        lowest = min(
            bottom for _, bottom, _, _ in map(text.get_rect, range(text.count_rects()))
            if bottom > 18 * 72 / 25.4
        )  # fmt: skip
        # Two thirds of the sheet; the last page may end where the report does.
        assert (height - lowest) / height > (2 / 3 if number < len(document) else 0.4), number


@pytest.mark.parametrize("case", [c for k, c in PAGES if k == "grant"])
def test_the_signature_is_on_the_last_page_and_not_alone(case: str) -> None:
    document = pypdfium2.PdfDocument(io.BytesIO(made("grant", case)))
    texts = [page.get_textpage().get_text_bounded() for page in document]
    assert "Signature" in texts[-1] and not any("Signature" in text for text in texts[:-1])
    assert len(texts[-1]) > 900  # cautions stand with it, and the last of the figures
    assert "I certify" in texts[-1]
    assert "Spent" in texts[-1] or "Promised" in texts[-1]  # figures stand with it


@pytest.mark.parametrize(("kind", "case"), [("grant", "restated"), ("board", "a whole year")])
def test_an_independent_checker_finds_no_fault(kind: str, case: str, tmp_path) -> None:
    path = tmp_path / "report.pdf"
    path.write_bytes(made(kind, case))
    report = pdfua.validate(str(path))
    assert [str(finding) for finding in report.findings] == []


@pytest.mark.parametrize(("kind", "case"), PAGES)
def test_the_same_figures_give_the_same_page(kind: str, case: str) -> None:
    page_of = grant_page if kind == "grant" else board_page
    assert page_of(case)[0] == page_of(case)[0]


def test_the_same_page_gives_the_same_bytes() -> None:
    """That of the case that is set in the fewest ways."""
    assert made.__wrapped__("board", "long names") == made("board", "long names")
