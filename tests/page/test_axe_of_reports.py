"""What the other tests of views leave out, in both languages: reports, what was sent, answers, the ends."""

from __future__ import annotations

import datetime as dt
import sys
from pathlib import Path
from urllib.parse import urlencode

import pikepdf
import pytest
from playwright.sync_api import Page
from rounds import rounds

sys.path.insert(0, str(Path(__file__).parent))
sys.path.insert(0, str(Path(__file__).parents[1] / "register"))

from served import Serve, needs_chromium
from test_journey import go, read_anew
from test_views import problems_of

from divert.inventory.open_site import open_site

pytestmark = needs_chromium
TODAY = dt.date(2025, 7, 5)
ROWS = "Date,From,What,Weight (kg)\n2025-04-03,North kitchen,kitchen scraps,10\n"
ASKED = urlencode({"audience": "sponsor", "name": "North School", "period": "2025-Q2"})
WORDS = {  # one of each view that no other language has
    "en": ("Did you send it?", "Sent and remembered", "Take it back", "Your initials", "ivert is closed"),
    "fr": ("L'avez-vous envoyé", "Envoyé et gardé", "Le reprendre", "Vos initiales", "ivert est fermé"),
}  # fmt: skip


def sent_yard(folder: Path, language: str) -> None:
    """Write a yard whose sponsor's report was sent, and would say something else today."""
    from yard import issue, said

    folder.mkdir()
    (folder / "site.toml").write_text(
        f'[site]\nname = "Yard"\nstarted = 2025-01-01\nunits = "metric"\nlanguage = "{language}"\n'
        '[[source]]\nname = "North kitchen"\n[[sponsor]]\nname = "North School"\n'
        'supplies = ["North kitchen"]\n[[material]]\nname = "kitchen scraps"\nlike = "food-scraps"\n',
        encoding="utf-8",
    )
    (folder / "log.csv").write_text(ROWS, encoding="utf-8")
    workings = open_site(folder, as_of=TODAY)
    issue(workings, said(workings, "2025-Q2", audience="sponsor", name="North School"))
    (folder / "log.csv").write_text(
        ROWS + "2025-04-04,North kitchen,kitchen scraps,20\n", encoding="utf-8"
    )
    made = folder / "reports" / "2025-Q2"
    made.mkdir(parents=True)
    with pikepdf.new() as paper:
        paper.add_blank_page(page_size=(612, 792))
        paper.save(made / "sponsor-north-school.pdf")


@pytest.mark.parametrize("language", rounds(["en"], ["en", "fr"]))
def test_axe_finds_nothing_on_what_is_sent_and_answered(
    serve: Serve, page: Page, tmp_path: Path, language: str
) -> None:
    sent_yard(tmp_path / "yard", language)
    page.goto(serve(str(tmp_path / "yard"), "--as-of", TODAY.isoformat()))
    read_anew(page)
    found: dict[str, list[str]] = {}
    shown: list[str] = []
    # Each language at one width, unless there is time for both.
    looked_at = {"en": (1280, 390), "fr": (390, 1280)}[language][: rounds(1, 2)]

    def look(view: str, what: str) -> None:
        assert what in page.locator("main").inner_text(), view
        for width in (1280, 390):
            page.set_viewport_size({"width": width, "height": 800})
            if width in looked_at and (problems := problems_of(page)):
                found[f"{view} at {width}"] = problems
            assert page.evaluate("document.documentElement.scrollWidth") <= width, view
        shown.append(view)

    preview, issued, sent, answer, closed = WORDS[language]
    go(page, f"/reports/look?{ASKED}")
    look("report", preview)
    go(page, f"/reports/issued?{ASKED}")
    look("issued", issued)
    go(page, "/sent/2025-0001")
    look("sent", sent)
    go(page, "/questions")
    page.locator(
        "button[name=choice][value=elsewhere], button[name=choice][value=other]"
    ).first.click()
    look("answer", answer)
    page.locator("footer form[action='/close'] button").click()
    page.locator("header nav").wait_for(state="detached")
    look("closed", closed)
    assert found == {} and len(shown) == 5


def test_axe_finds_nothing_on_the_welcome(serve: Serve, page: Page) -> None:
    page.goto(serve())
    for width in (1280, 390):
        page.set_viewport_size({"width": width, "height": 800})
        assert problems_of(page) == []
