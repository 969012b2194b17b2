"""Text that would act, in every place a stranger can put it: it ends as text, and leads nowhere."""

from __future__ import annotations

import csv
import datetime as dt
import io
import re
from html.parser import HTMLParser
from pathlib import Path

import pytest
from click.testing import CliRunner

from divert.cli.commands import main_group
from divert.core.safe_files import csv_text
from divert.inventory.open_site import open_site, period_of
from divert.publish.write import write_reports

ACTS = '<img src="file:///etc/passwd" onerror=x()><script>x()</script>{{7*7}}\''
SOURCES = (
    '=HYPERLINK("http://kestrel.example","x")',
    "</style><script>x()</script>",
    "a}body{background:url(//kestrel.example)}",
    "@SUM(A1) " + "n" * 300,
)
SPONSORS = ("../../x", "CON", "a/b", "n" * 300, "Ферма", "农场", "=cmd|x", "</title><b>")
DAY = dt.date(2025, 12, 31)


def _quoted(text: str) -> str:
    return '"' + text.replace("\\", "\\\\").replace('"', '\\"') + '"'


@pytest.fixture(scope="module")
def site(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("hostile") / "site"
    folder.mkdir()
    parts = [f'[site]\nname = {_quoted("Yard " + ACTS)}\nunits = "us"\nstarted = 2025-01-01\n',
             f"[report]\nprepared_by = {_quoted(ACTS)}\nshare_notes = true\n",
             f'[[material]]\nname = {_quoted("=1+1 " + ACTS)}\nlike = "food-scraps"\n'
             f'before = "landfill"\nproof = {_quoted(ACTS)}\n',
             f"[[grant]]\nname = {_quoted('../' + ACTS)}\nnumber = {_quoted('=1+1')}\n"]  # fmt: skip
    parts += [f"[[source]]\nname = {_quoted(name)}\n" for name in SOURCES]
    for number, name in enumerate(SPONSORS):
        supplies = f"supplies = [{_quoted(SOURCES[number])}]\n" if number < len(SOURCES) else ""
        parts.append(f'[[sponsor]]\nname = {_quoted(name)}\n{supplies}funds = 0.01\n'
                     'email = "a@kestrel.example"\n')  # fmt: skip
    (folder / "site.toml").write_text("".join(parts), encoding="utf-8")
    rows = [("Date", "Source", "Material", "Weight (lb)", "Notes")]
    for n in range(24):
        day = dt.date(2025, 1 + n % 12, 3)
        rows.append((str(day), SOURCES[n % 4], "=1+1 " + ACTS, str(20 + n), f"=2+2 {ACTS}"))
    rows.append(("2025-05-05", "\x1b]0;owned\x07 new", f"strange {ACTS}", "4 \x1b[2Jlots", ""))
    text = io.StringIO()
    csv.writer(text).writerows(rows)
    (folder / "log <b>\x1b[31m.csv").write_text(text.getvalue(), encoding="utf-8")
    return folder


class Acts(HTMLParser):
    """Gathers what a page would do or fetch."""

    def __init__(self) -> None:
        super().__init__()
        self.found: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        if tag in ("script", "iframe", "object", "embed", "base", "link", "form"):
            self.found.append(tag)
        for name, value in attrs:
            outside = not (value or "").startswith(("data:", "#"))
            if name.startswith("on") or (name.endswith(("src", "href", "action")) and outside):
                self.found.append(f"{tag} {name}={value}")
            if name == "style" and "url(" in (value or ""):
                self.found.append(f"{tag} {name}={value}")


@pytest.mark.parametrize(
    ("audience", "period"), [("sponsor", "2025-Q2"), ("grant", "2025"), ("board", "2025")]
)
def test_pages_show_hostile_text_and_do_nothing(site: Path, audience: str, period: str) -> None:
    workings = open_site(site, as_of=DAY)
    out = site.parent / audience
    made = write_reports(
        workings, audience, period_of(workings, period, DAY), DAY, formats=("html",), out=out
    )
    assert len(made) == len(set(made)) >= (len(SPONSORS) if audience == "sponsor" else 1)
    for path in made:
        assert path.resolve().is_relative_to(out.resolve())
        assert re.fullmatch(r"[a-z0-9-]{1,100}\.[a-z]+", path.name)
        assert path.name.split(".")[0] not in ("con", "sponsor-")
    for path in out.rglob("*.html"):
        page = path.read_text(encoding="utf-8")
        acts = Acts()
        acts.feed(page)
        assert acts.found == []
        style = "".join(re.findall(r"<style.*?</style>", page, re.DOTALL))
        assert "kestrel.example" not in style
        assert not re.search(r"url\((?![\"']?data:)|@import", style)
        assert "{{7*7}}" in page or "49" not in page
    for path in out.rglob("*.csv"):
        cells = [cell for row in csv.reader(path.open(encoding="utf-8-sig")) for cell in row]
        assert not [c for c in cells if c[:1] in ("=", "+", "@", "\t") or re.match(r"-[^\d]", c)]


def test_what_is_printed_cannot_steer_the_terminal(site: Path) -> None:
    ledger = site.parent / "ledger.csv"
    for more in ([], ["--every"], ["--json"], ["--ledger", str(ledger)]):
        done = CliRunner().invoke(main_group, ["read", str(site), "--as-of", str(DAY), *more])
        assert done.exit_code == 1, done.output  # the strange row is set aside
        assert not re.search(r"[\x00-\x08\x0b-\x1f\x7f\u202a-\u202e]", done.output)
    with ledger.open(encoding="utf-8-sig", newline="") as file:
        cells = [cell for row in csv.reader(file) for cell in row]
    assert any(cell.startswith("'=HYPERLINK") for cell in cells)
    assert not [cell for cell in cells if cell[:1] in ("=", "+", "-", "@", "\t", "\r")]


def test_a_naive_table_would_have_held_a_formula() -> None:
    """What the checks above look for is there when text is written as it is."""
    plain = io.StringIO()
    csv.writer(plain).writerow([SOURCES[0]])
    assert next(csv.reader([plain.getvalue()]))[0].startswith("=")
    assert next(csv.reader([csv_text([SOURCES[0]], [])]))[0].startswith("'=")
    acts = Acts()
    acts.feed(ACTS)
    assert acts.found == ["img src=file:///etc/passwd", "img onerror=x()", "script"]
