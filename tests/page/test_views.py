"""Every view in a real browser: readable by everyone, and not moved by hostile names and cells."""

from __future__ import annotations

import datetime as dt
import re
import sys
from pathlib import Path
from urllib.parse import quote, urlsplit

import pytest
import xlsxwriter
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Browser, Page
from rounds import rounds

sys.path.insert(0, str(Path(__file__).parent))

from served import Serve, needs_chromium
from test_journey import go, read_anew

pytestmark = needs_chromium
HOSTILE = '<img src=x onerror="window.hurt=1"><script>window.hurt=1</script>"\'&{{7*7}}'
LONG = "Ungewöhnlichlangername" * 12
VIEWS = ("/files", "/yard", "/sheets", "/names", "/questions", "/numbers?period=2025", "/reports", "/sent", "/changes", "/start",
         "/numbers/trace?figure=mass.received&period=2025", "/numbers/charts?period=2025")  # fmt: skip


def hostile_yard(folder: Path) -> Path:
    """Write a yard whose names, cells, sheet and file are as bad as they may be."""
    folder.mkdir()
    (folder / "site.toml").write_text(
        "[site]\nname = 'Yard " + HOSTILE.replace("'", "") + "'\nstarted = 2025-01-01\nunits = \"us\"\n"
        "[[source]]\nname = '" + HOSTILE.replace("'", "") + "'\n[[sponsor]]\nname = '" + LONG + "'\nfunds = 0.5\n"
        "[[material]]\nname = \"food scraps\"\n",
        encoding="utf-8",
    )  # fmt: skip
    with xlsxwriter.Workbook(str(folder / "log <b>'&.xlsx")) as book:
        sheet = book.add_worksheet("<i>Jan&'\"")
        for c, head in enumerate(("Date", "From", "What", "Weight (lb)", "Notes")):
            sheet.write(0, c, head)
        rows = [
            (HOSTILE, "food scraps", 12, HOSTILE),
            (LONG, "food scraps", 12, LONG),
            ("שלום العربية", f"{HOSTILE[:40]}", 5, "‮evil"),
            (HOSTILE, LONG[:80], 3, "=1+1"),
        ]
        for r, (source, what, weight, note) in enumerate(rows, start=1):
            for c, cell in enumerate((f"2025-01-0{r}", source, what, weight, note)):
                sheet.write_string(r, c, cell) if isinstance(cell, str) else sheet.write(r, c, cell)
        sheet.write_row(6, 0, ["2025-13-45", "x", "food scraps", 4])
    return folder


@pytest.fixture(scope="module")
def hostile(serve_all: Serve, tmp_path_factory: pytest.TempPathFactory) -> tuple[str, Path]:
    """Serve one hostile yard; return its first address and its folder."""
    folder = hostile_yard(tmp_path_factory.mktemp("hostile") / "yard <u>&")
    return serve_all(str(folder), "--as-of", "2025-07-10"), folder


def speak(page: Page, folder: Path, language: str) -> None:
    """Have the yard speak a language."""
    text = (folder / "site.toml").read_text(encoding="utf-8")
    said = re.sub(
        r'units = "us"(\nlanguage = "..")?', f'units = "us"\nlanguage = "{language}"', text
    )
    (folder / "site.toml").write_text(said, encoding="utf-8")
    read_anew(page)
    go(page, "/files")
    assert page.locator("html").get_attribute("lang") == language


def open_yard(page: Page, serve: Serve, folder: Path) -> None:
    page.goto(serve(str(folder), "--as-of", "2025-07-10"))
    read_anew(page)


def test_hostile_names_and_cells_are_text(hostile: tuple[str, Path], page: Page) -> None:
    asked: list[str] = []
    page.on("request", lambda r: asked.append(urlsplit(r.url).hostname or ""))
    page.goto(hostile[0])
    read_anew(page)
    for view in VIEWS:
        page.set_viewport_size({"width": 1280, "height": 800})
        go(page, view)
        assert page.evaluate("document.documentElement.scrollWidth") <= 1280, view
        page.set_viewport_size({"width": 390, "height": 800})
        assert page.evaluate("window.hurt") is None, view
        assert (
            page.locator("main img:not(.sheet-of-paper), main script, main i, main u").count() == 0
        ), view
        assert page.evaluate("document.documentElement.scrollWidth") <= 390, view
    assert set(asked) <= {"127.0.0.1", "x", ""}
    assert "x" not in asked


def problems_of(page: Page) -> list[str]:
    found = Axe().run(page)
    return [f"{v['id']}: {v['nodes'][0]['html'][:160]}" for v in found.response["violations"]]


@pytest.mark.parametrize("language", rounds(["en"], ["en", "fr"]))
def test_axe_finds_nothing_on_any_view(
    hostile: tuple[str, Path], page: Page, language: str
) -> None:
    page.goto(hostile[0])
    read_anew(page)
    speak(page, hostile[1], language)
    chosen = f"/sheets?file={quote(chr(108) + 'og <b>' + chr(39) + '&.xlsx')}&row=2"
    widths = {"en": (1280, 390)[: rounds(1, 2)], "fr": (390, 1280)[: rounds(1, 2)]}[language]
    found = {}
    for view in (*VIEWS, chosen, "/nowhere"):
        go(page, view)
        for width in widths:  # each language at one of them, unless there is time for both
            page.set_viewport_size({"width": width, "height": 800})
            if problems := problems_of(page):
                found[view, width] = problems
    assert found == {}


def test_a_saved_sheet_is_noticed_by_a_page_that_is_open(
    serve: Serve, page: Page, tmp_path: Path
) -> None:
    folder = hostile_yard(tmp_path / "yard")
    open_yard(page, serve, folder)
    go(page, "/files")
    before = page.locator("main").inner_text()
    (folder / "late.csv").write_text(
        "Date,From,What,Weight (lb)\n2025-02-03,x,food scraps,7\n", encoding="utf-8"
    )
    page.get_by_text("late.csv").wait_for()  # nobody asked for the page again
    assert "late.csv" not in before


def test_large_sheets_come_in_pieces(serve: Serve, page: Page, tmp_path: Path) -> None:
    folder = tmp_path / "yard"
    folder.mkdir()
    (folder / "site.toml").write_text(
        '[site]\nname = "Yard"\nstarted = 2000-01-01\nunits = "us"\n', encoding="utf-8"
    )
    first = dt.date(2001, 1, 1)
    rows = [
        f"{first + dt.timedelta(days=n % 3000)},kitchen,food scraps,{n % 90 + 1}"
        for n in range(3000)
    ]
    (folder / "log.csv").write_text(
        "Date,From,What,Weight (lb)\n" + "\n".join(rows) + "\n", encoding="utf-8"
    )
    nine = "Date,From,What,Container,How many,How full,Weight (lb),Contamination,Notes\n"
    load = "2001-01-02,Mill Lane school,kitchen scraps,tote,1,3/4,25.5,0.5,heavy"
    (folder / "nine.csv").write_text(f"Yard log of January 2001,,,,,,,,\n{nine}{load}\n", "utf-8")
    open_yard(page, serve, folder)
    go(page, "/sheets?file=log.csv&from=2900")
    assert page.locator("#grid tbody tr").count() == 102  # 2900 to the last, 3001
    go(page, "/sheets?file=log.csv&from=1")
    start = page.locator("#grid tbody tr").count()
    assert start <= 300
    page.locator("#more").scroll_into_view_if_needed()
    page.locator(f"#row-{start + 20}").wait_for(state="attached")
    assert page.locator("#to").inner_text() == str(page.locator("#grid tbody tr").count())
    page.keyboard.press("End")
    page.locator("#row-3001").wait_for(state="attached")
    assert page.locator("#row-3001").evaluate(
        "row => row.getBoundingClientRect().top < innerHeight"
    )
    go(page, "/sheets?file=nine.csv&row=3")  # nine columns and a chosen line stand side by side
    assert page.locator(".side aside").is_visible()
    assert page.locator("#grid").evaluate(
        "grid => grid.scrollWidth <= grid.parentElement.clientWidth"
    )


def test_without_script_a_view_is_whole(hostile: tuple[str, Path], chromium: Browser) -> None:
    context = chromium.new_context(java_script_enabled=False)
    page = context.new_page()
    page.goto(hostile[0])
    read_anew(page)
    go(page, "/questions")
    assert page.locator("section.question").count() > 0
    go(page, "/sheets")
    assert page.locator("#grid tbody tr").count() > 0
    context.close()
