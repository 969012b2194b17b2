"""Two tabs and a command on one folder at the same time: nothing is lost, and what was refused is shown."""

from __future__ import annotations

import datetime as dt
import os
import subprocess
import sys
from pathlib import Path

from playwright.sync_api import Page

sys.path.insert(0, str(Path(__file__).parent))

from served import SECONDS, Serve, needs_chromium
from test_journey import go, read_anew

from divert.inventory.open_site import open_site
from divert.site.read import read_site

pytestmark = needs_chromium
TOML = """\
[site]
name = "Yard"
started = 2025-01-01
units = "us"
[[material]]
name = "food scraps"
before = "landfill"
[[source]]
name = "Alder Street"  # a comment that stays
"""
LOG = """\
Date,From,What,Weight (lb)
2025-01-06,Alder Street,food scraps,10
2025-01-07,Aldr Street,food scraps,4
2025-01-08,Alder Street,stable manure,4
"""
TODAY = "2025-07-10"


def yard(folder: Path) -> Path:
    folder.mkdir()
    (folder / "site.toml").write_text(TOML, encoding="utf-8")
    (folder / "log.csv").write_text(LOG, encoding="utf-8")
    return folder


def begin(page: Page, label: str) -> None:
    """Come to the lines that an answer writes, and leave them on the screen."""
    go(page, "/questions")
    page.get_by_role("button", name=label, exact=True).click()
    if page.locator("#by").count():
        page.locator("main form button.usual").click()
    page.locator("button[name=write]").wait_for()


def command(folder: Path) -> None:
    """Say of the manure, by the command, that it was spread on land: the first answer of its question."""
    asked = subprocess.run(
        [sys.executable, "-P", "-m", "divert", "answer", str(folder), "--as-of", TODAY],
        input="\n" * 9, capture_output=True, text=True, check=False, env=environment(),
    ).stdout  # fmt: skip
    questions = [line for line in asked.splitlines() if "Question " in line]
    place = next(n for n, line in enumerate(questions) if "before it came to you" in line)
    keys = "\n" * place + "1\n\ny\nq\n"
    subprocess.run(
        [sys.executable, "-P", "-m", "divert", "answer", str(folder), "--as-of", TODAY],
        input=keys, capture_output=True, text=True, check=False, env=environment(),
    )  # fmt: skip


def environment() -> dict[str, str]:
    return os.environ | {"PYTHONPATH": os.pathsep.join(p for p in sys.path if p)}


def test_two_tabs_and_a_command_lose_nothing(serve: Serve, page: Page, tmp_path: Path) -> None:
    folder = yard(tmp_path / "yard")
    page.goto(serve(str(folder), "--as-of", TODAY))
    read_anew(page)
    other = page.context.new_page()
    other.set_default_timeout(SECONDS)
    other.goto(page.url)

    begin(page, "Yes, Alder Street")
    go(other, "/yard")
    other.locator("#yard-name").fill("The other tab's yard")
    other.locator("main form button").first.click()
    other.locator("button[name=write]").click()
    other.locator("button[name=write]").wait_for(state="detached")
    command(folder)
    between = (folder / "site.toml").read_text(encoding="utf-8")

    # What was on the first tab's screen was planned on a text that is gone: refused, and shown.
    page.locator("button[name=write]").click()
    page.get_by_role("alert").wait_for()
    assert (folder / "site.toml").read_text(encoding="utf-8") == between
    shown = page.locator("main").inner_text()
    assert "The other tab's yard" in shown and 'before = "spread on land"' in shown

    page.locator("button[name=write]").click()
    page.locator("button[name=write]").wait_for(state="detached")
    site = read_site(folder)
    assert site.name == "The other tab's yard"
    assert [s.also for s in site.sources] == [("Aldr Street",)]
    assert "spread on land" in {m.before for m in site.materials}
    assert "# a comment that stays" in (folder / "site.toml").read_text(encoding="utf-8")


def test_a_file_takes_the_place_of_the_one_of_its_name_which_is_kept(
    serve: Serve, page: Page, tmp_path: Path
) -> None:
    folder = yard(tmp_path / "yard")
    open_site(folder, as_of=dt.date.fromisoformat(TODAY), remember=True)  # the last time
    page.goto(serve(str(folder), "--as-of", TODAY))
    read_anew(page)
    newer = tmp_path / "newer" / "log.csv"
    newer.parent.mkdir()
    newer.write_text(LOG + "2025-02-03,Alder Street,food scraps,7\n", encoding="utf-8")
    go(page, "/files")
    page.locator("input[name=replace]").check()
    page.set_input_files("#bring", str(newer))
    page.locator("#drop button").click()
    page.get_by_text("it took the place of the earlier file").wait_for()
    assert (folder / "log.csv").read_bytes() == newer.read_bytes()
    assert (folder / ".divert/replaced/log (1).csv").read_text(encoding="utf-8") == LOG
    read_anew(page)
    go(page, "/files")
    # What is new since the folder was read before: one line.
    page.locator(".since summary").wait_for()
    assert "one line more" in page.locator(".since summary").inner_text()
    assert page.locator("table.list tbody tr").count() == 1
