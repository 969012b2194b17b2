"""The eye that looks over every page finds the faults that are put there on purpose."""

from __future__ import annotations

import datetime as dt

import cases
import pytest
import seen

from divert.report.paper import pdf

SOUND = "<h2>A heading</h2><p>Text that stands on its own line, with a figure of 1,330 lb.</p>"
PLANTED = {
    "overlap": '<p>The first line.</p><p style="margin-top: -13pt">The other on top of it.</p>',
    "over the margin": f'<p style="white-space: nowrap">{"far too long " * 30}</p>',
    "clipped": '<p style="width: 60pt; overflow: hidden; white-space: nowrap">Cut off in the midst</p>',
    "font": '<p style="font-family: monospace">Set in what the machine happens to have.</p>',
}


def _faults(body: str) -> list[str]:
    page = (
        f'<!doctype html><html lang="en"><head><title>t</title></head><body class="x">'
        f"<main>{body}</main></body></html>"
    )
    return seen.faults(pdf.write_pdf(page, cases.look(), "en", dt.date(2025, 7, 1)))


def test_a_sound_page_has_no_fault() -> None:
    assert _faults(SOUND) == []


@pytest.mark.parametrize("fault", PLANTED)
def test_a_planted_fault_is_found(fault: str) -> None:
    assert any(fault in found for found in _faults(SOUND + PLANTED[fault]))


def test_a_drawing_that_cuts_its_words_is_found() -> None:
    drawing = (
        '<svg width="200pt" height="30pt" viewBox="0 0 200 30">'
        '<text x="-120" y="20" font-size="9">Words that begin left of the sheet</text></svg>'
    )
    assert any("clipped" in f or "margin" in f for f in _faults(SOUND + drawing))
    inner = f'<div style="padding-left: 150pt">{drawing}</div>'
    assert any("clipped" in found for found in _faults(SOUND + inner))
