"""From an empty folder and three messy workbooks to a sponsor report that is sent and remembered."""

from __future__ import annotations

import os
import sys
import time
from pathlib import Path
from urllib.parse import urlsplit

import pytest
from playwright.sync_api import Browser, Page

from divert.register import read_register
from divert.report.paper.pdf import NoPango, weasyprint
from divert.site.read import read_site

sys.path.insert(0, str(Path(__file__).parent))

from hands import Hand, Keyboard, Mouse
from messy import TODAY, write_messy
from served import SECONDS, Serve, needs_chromium

MOUSE = Mouse()
SHOWN = "button.usual[name=write]"  # what writes the lines that are shown


def with_pango() -> bool:
    try:
        weasyprint()
    except NoPango:
        return False
    return True


def go(page: Page, view: str) -> None:
    parts = urlsplit(page.url)
    page.goto(f"{parts.scheme}://{parts.netloc}{view}")


def read_anew(page: Page) -> None:
    """Wait until the page shows the reading of the folder as it is."""
    parts = urlsplit(page.url)
    for _ in range(600):
        state = page.request.get(f"{parts.scheme}://{parts.netloc}/state").json()
        if state["reading"] and not state["busy"] and not state["old"]:
            return
        time.sleep(0.1)
    raise AssertionError(f"it is not read: {state}")


def write_them(page: Page, hand: Hand) -> None:
    """Write the lines that are shown, and wait until the folder is read with them."""
    hand.press(page, SHOWN)
    page.locator(SHOWN).wait_for(state="detached")
    read_anew(page)


def journey(
    page: Page, hand: Hand, folder: Path, brought: list[Path], language: str, *, send: bool
) -> None:
    """Go the whole way; every step is taken by ``hand``, and no line of TOML is written by it.

    ``send``: make the report, look at it and remember it as sent, which takes most of the time.
    """
    hand.write(page, "#new", str(folder))
    hand.press(page, "button[value=new]")
    page.wait_for_url("**/files")

    page.set_input_files("#bring", [str(p) for p in brought])
    hand.press(page, "#drop button")
    page.locator("table.list tbody tr").nth(2).wait_for()
    read_anew(page)

    go(page, "/yard")
    assert page.locator("#yard-started").input_value() == "2025-01-06"  # the earliest line
    assert page.locator("#yard-units").input_value() == "us"  # Weight (lb)
    hand.write(page, "#yard-name", "Hollow Oak yard")
    hand.choose(page, "#yard-language", language)
    hand.press(page, "main form button.usual")
    write_them(page, hand)

    go(page, "/names")
    # Materials are known; two spellings of a kitchen and a crate are not.
    hand.choose(page, "#what-source-1", "new")
    hand.choose(page, "#what-source-2", "same: Hollow Oak kitchen")
    hand.choose(page, "#what-container-1", "new")
    hand.press(page, "#names button.usual")
    hand.write(page, "#container-1-f1", "10 gal")
    hand.press(page, "#names button.usual")
    write_them(page, hand)
    site = read_site(folder)
    assert [(s.name, s.also) for s in site.sources][:1] == [
        ("Hollow Oak kitchen", ("Hollow Oak kitchin",))
    ]
    assert [c.name for c in site.containers] == ["crate"]

    go(page, "/yard")
    hand.press(page, "details:has(input[value=sponsor]) summary")
    hand.write(page, "#sponsor-name", "Juniper Trust")
    hand.choose(page, "#sponsor-supplies", "Hollow Oak kitchen")
    hand.press(page, "details:has(input[value=sponsor]) button")
    write_them(page, hand)

    # The 14 loads of 10 lb from April to June.
    go(page, "/numbers?period=2025-Q2&sponsor=Juniper+Trust")
    assert "130" in page.locator("main table").first.inner_text()
    hand.press(page, "main table a")
    page.wait_for_url("**/numbers/trace**")
    assert page.locator("main tbody tr").count() >= 13

    go(page, "/reports")
    if not send:
        assert "Juniper Trust" in page.locator("main table").inner_text()
        return
    hand.press(page, "main table a.button")
    page.locator("img.sheet-of-paper").first.wait_for(timeout=3 * SECONDS)
    hand.press(page, "form[action^='/reports/issue'] button.usual")
    page.locator("h1 em").wait_for(timeout=3 * SECONDS)
    assert page.locator("h1 em").inner_text() == "2025-0001"
    (entry,) = read_register(folder).entries
    assert (entry.audience, entry.name, entry.label) == ("sponsor", "Juniper Trust", "2025-Q2")

    go(page, "/sent")
    assert "2025-0001" in page.locator("main table").inner_text()


@needs_chromium
@pytest.mark.skipif(not with_pango(), reason="Pango, which sets PDFs, is not installed")
@pytest.mark.parametrize(
    "hand, language, width",
    [(MOUSE, "en", 1280), (Keyboard(), "en", 1280), (MOUSE, "fr", 390)],
    ids=["mouse", "keyboard", "french-390"],
)
def test_the_whole_journey(
    serve: Serve, chromium: Browser, tmp_path: Path, hand: Hand, language: str, width: int
) -> None:
    send = bool(os.environ.get("DIVERT_LONG"))  # as .ci/run does: it makes PDFs, twice
    if hand is MOUSE and language == "en" and not send:
        pytest.skip("keyboard and small page go the same way; this one too with DIVERT_LONG=1")
    context = chromium.new_context(
        viewport={"width": width, "height": 800}, locale=f"{language}-US"
    )
    context.set_default_timeout(SECONDS)
    page = context.new_page()
    problems: list[str] = []
    page.on("console", lambda m: problems.append(m.text) if m.type == "error" else None)
    page.on("pageerror", lambda e: problems.append(str(e)))
    page.goto(serve("--as-of", TODAY.isoformat()))
    journey(
        page, hand, tmp_path / "our yard", write_messy(tmp_path / "brought"), language, send=send
    )
    assert page.evaluate("document.documentElement.scrollWidth") <= width
    assert page.locator("html").get_attribute("lang") == language
    assert problems == []
    context.close()
