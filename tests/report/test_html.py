"""The HTML: one file, semantic, no scroll sideways on a phone or a desk, no error on the console."""

from __future__ import annotations

import re
import shutil
import subprocess
from html import escape
from pathlib import Path

import cases
import pytest

from divert.report.paper.pages import for_screen, self_contained

CHROMIUM = shutil.which("chromium") or shutil.which("chromium-browser")


def _file(case: str) -> str:
    page, _ = cases.page_of(cases.CASES[case](), screen=True)
    return self_contained(page, cases.look(), "en")


def test_the_file_needs_nothing_else() -> None:
    html = _file("both")
    assert not re.search(r"(?:src|href)=\"(?!data:|#)", html)
    assert not re.search(r"url\((?!data:|#)", html)
    assert "<script" not in html and "http-equiv" not in html
    assert html.count("data:font/woff2") == 6
    assert len(html) < 400_000


def test_it_is_semantic_html() -> None:
    html = _file("both")
    assert html.startswith("<!doctype html>")
    assert '<html lang="en">' in html
    for tag in ("header", "main", "footer", "h1", "h2", "table", "thead"):
        assert f"<{tag}" in html
    assert html.count("<h1>") == 1
    assert not re.search(r"<th(?![^>]*\bscope=)[ >]", html.replace("<thead", ""))
    assert all("aria-label=" in svg for svg in re.findall(r"<svg[^>]*>", html))


def test_the_screen_has_the_sizes_of_the_page_in_the_readers_own() -> None:
    assert for_screen("p { font: 400 9.6pt/14.4pt x; margin: 0 4.8pt }") == (
        "p { font: 400 1rem/1.5rem x; margin: 0 0.5rem }"
    )


def test_printed_from_a_browser_it_carries_its_running_heads() -> None:
    # Browsers have no string() of CSS Generated Content for Paged Media: the words stand there.
    html = _file("both")
    assert "string(" not in html.split("@media screen")[0].replace("string-set", "")
    written = re.findall(r'content: "([^"]*)"', html.split("@media screen")[0])
    told = [re.sub(r"\\([0-9a-f]+) ", lambda m: chr(int(m[1], 16)), text) for text in written]
    assert "Kestrel Bend Community Farm · Second quarter 2025" in told
    assert "For Tern Street Kitchen" in told


def test_a_name_cannot_leave_the_style_sheet() -> None:
    page, _ = cases.page_of(cases.both())
    bad = page.replace(
        'data-to="', 'data-to="&quot;}&lt;/style&gt;&lt;script&gt;alert(1)&lt;/script&gt;'
    )
    assert "<script" not in self_contained(bad, cases.look(), "en")


def test_letters_beyond_the_usual_ones_are_in_the_fonts_too() -> None:
    page, _ = cases.page_of(cases.both())
    look = cases.look()
    plain = self_contained(page, look, "en")
    rare = self_contained(page.replace("Tern Street", "Žižkov Θ"), look, "en")
    assert len(rare) > len(plain)


@pytest.mark.skipif(CHROMIUM is None, reason="Debian's chromium is not installed")
def test_no_sideways_scroll_at_390_and_1280_pixels_and_no_console_error(tmp_path: Path) -> None:
    frames = "".join(
        f'<iframe width="{width}" height="9000" data-case="{case}" srcdoc="{escape(_file(case))}">'
        "</iframe>"
        for case in ("both", "long_names", "below_zero")
        for width in (390, 1280)
    )
    harness = tmp_path / "harness.html"
    harness.write_text(
        "<!doctype html><meta charset=utf-8><style>iframe{border:0}</style>"
        + frames
        + "<pre></pre>"
        "<script>onload=()=>{const said=[];for(const f of document.querySelectorAll('iframe')){"
        "const d=f.contentDocument,w=d.documentElement.scrollWidth;let over=[];"
        "for(const e of d.body.querySelectorAll('h1,h2,p,li,svg,table')){"
        "const r=e.getBoundingClientRect();if(r.width&&r.right>f.clientWidth+1)over.push(e.tagName)}"
        "const cols=getComputedStyle(d.querySelector('.columns')).display;"
        "said.push([f.dataset.case,f.clientWidth,w,cols,over.join('+')].join(' '))}"
        "document.querySelector('pre').textContent='<<'+said.join('|')+'>>'}</script>",
        encoding="utf-8",
    )
    done = subprocess.run(
        [str(CHROMIUM), "--headless", "--no-sandbox", "--disable-gpu", "--no-first-run",
         "--disable-background-networking", "--disable-component-update", "--disable-sync",
         "--disable-dev-shm-usage", f"--user-data-dir={tmp_path / 'profile'}",
         "--enable-logging=stderr", "--virtual-time-budget=4000", "--dump-dom",
         harness.as_uri()],
        capture_output=True, text=True, timeout=120, check=False,
    )  # fmt: skip
    found = re.search(r"&lt;&lt;(.*?)&gt;&gt;", done.stdout)
    assert found, done.stderr[-2000:]
    rows = [row.split(" ") for row in found[1].split("|")]
    assert len(rows) == 6
    for case, width, scroll, columns, over in rows:
        assert scroll == width, f"{case} at {width} pixels scrolls to {scroll}"
        assert over == "", f"{case} at {width} pixels: {over} runs over"
        assert columns == ("block" if width == "390" else "flex")
    assert "CONSOLE" not in done.stderr
