"""Set in a PDF by another program, no chart's words meet, leave the sheet, or fall to another font."""

from __future__ import annotations

import io

import pypdfium2
import pytest
from drawings import DRAWINGS
from weasyprint import CSS, HTML
from weasyprint.text.fonts import FontConfiguration

from divert.report.charts.chart import Look
from divert.report.paper.fonts import faces_css, packaged

_FONTS = FontConfiguration()
_FACES = faces_css(packaged())
_PT = 72 / 25.4
_WIDTHS = (174.0, 94.0, 82.0)  # the text block of A4, a phone, and half the block


@pytest.fixture(scope="module")
def pages() -> dict[tuple[str, float], tuple[str, pypdfium2.PdfPage]]:
    """Return every drawing at each width on a page of its own size."""
    out = {}
    for width in _WIDTHS:
        charts = {name: draw(Look(width_mm=width)) for name, draw in DRAWINGS.items()}
        body = "".join(f"<div>{chart.svg}</div>" for chart in charts.values())
        css = CSS(
            string=f"{_FACES} @page {{ size: {width}mm 90mm; margin: 0 }} body {{ margin: 0 }} "
            "div { break-after: page } svg { display: block }",
            font_config=_FONTS,
        )
        data = HTML(string=body).write_pdf(stylesheets=[css], font_config=_FONTS)
        document = pypdfium2.PdfDocument(io.BytesIO(data))
        for (name, chart), page in zip(charts.items(), document, strict=False):
            out[name, width] = (chart.svg, page)
    return out


def _texts(page: pypdfium2.PdfPage) -> list[tuple[float, float, float, float]]:
    text = page.get_textpage()
    return [text.get_rect(i) for i in range(text.count_rects())]


@pytest.mark.parametrize("width", _WIDTHS)
@pytest.mark.parametrize("name", DRAWINGS)
def test_no_words_meet_or_leave_the_sheet(pages, name: str, width: float) -> None:
    svg, page = pages[name, width]
    boxes = _texts(page)
    assert svg.count("<text") > 0 and len(boxes) >= 2
    for left, _, right, _ in boxes:
        assert left >= -0.1 and right <= width * _PT + 0.1
    for i, (l1, b1, r1, t1) in enumerate(boxes):
        for l2, b2, r2, t2 in boxes[i + 1 :]:
            across, down = min(r1, r2) - max(l1, l2), min(t1, t2) - max(b1, b2)
            assert across <= 0.4 or down <= 0.4, (name, (l1, b1, r1, t1), (l2, b2, r2, t2))


def test_words_are_real_text_in_the_shipped_font(pages) -> None:
    svg, page = pages["six months beside last year", 174.0]
    text = page.get_textpage().get_text_bounded()
    for word in ("Jan", "Jun", "2,026", "1,040", "2023"):
        assert word in text
    assert "Source Sans 3" in svg
    assert "clipPath" not in svg and "<use" not in svg and " id=" not in svg
