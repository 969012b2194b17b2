"""What every report must keep to, read off the text of reports at the edges (stress_sites)."""

from __future__ import annotations

import datetime as dt
import io
import re
from dataclasses import asdict
from functools import cache
from html import unescape
from pathlib import Path
from tempfile import mkdtemp

import pytest
import stress_sites
from python_calamine import CalamineWorkbook
from rounds import rounds
from stress_sites import STRESS, Wanted
from told import tells

from divert import open_site, period_of
from divert.convert import Workings
from divert.evidence.plan import as_json
from divert.factors import load_factors
from divert.figures.contract import Figures
from divert.figures.numbers.printed import Printed
from divert.figures.numbers.rounding import steps
from divert.figures.numbers.scales import FACTOR
from divert.publish.job import Job, jobs_for
from divert.publish.make import Page, page_for
from divert.recheck.figures import Evidence, check_figure
from divert.recheck.inputs import inputs_of
from divert.report.grant.sources import STANDINGS
from divert.report.paper.look import look_of
from divert.workbook.book import evidence_workbook

# Ten years of sixty sources take a minute: they are made by look_at_stress.py, with all the others.
SITES = [
    "one row", "empty quarter", "French metric", "negative net", "residue only", "nothing weighed",
    "a trace", "no intake", "July year", "half set aside", "fate not stated", "other scripts",
    "a trace burned", "heavily fed beds",
]  # fmt: skip


@cache
def _workings(name: str, as_of: dt.date) -> Workings:
    site = STRESS[name]()
    folder = stress_sites.write_site(site, Path(mkdtemp(prefix="stress-")))
    return open_site(folder, as_of=as_of)


@cache
def _pages(name: str) -> tuple[tuple[Wanted, Job, Page, str], ...]:
    """Return every report of a site with its page and the words on it."""
    made = []
    for wanted in STRESS[name]().reports:
        workings = _workings(name, wanted.as_of)
        period = period_of(workings, wanted.period, wanted.as_of)
        look, _ = look_of(workings.site)
        for job in jobs_for(workings, wanted.audience, period, wanted.as_of, wanted.names):
            page = page_for(job, workings, look, screen=False)
            made.append((wanted, job, page, _words(page.html)))
    return tuple(made)


def _words(html: str) -> str:
    body = re.sub(r"<style.*?</style>|<svg.*?</svg>", " ", html.split("<body", 1)[1], flags=re.S)
    return " ".join(unescape(re.sub(r"<[^>]+>", " ", body)).split())


def _as_printed(figure: Printed) -> float:
    count = steps(figure.value / FACTOR[figure.unit], figure.quantum)
    return count * figure.quantum * FACTOR[figure.unit]


@pytest.mark.parametrize("name", SITES)
def test_nothing_diverted_prints_above_what_was_received(name: str) -> None:
    for _, _, page, _ in _pages(name):
        printed = {one.key: one for one in page.printed}
        for key, diverted in printed.items():
            received = printed.get(key.replace(".diverted.central", ".received.central"))
            if key.endswith(".diverted.central") and received is not None:
                assert _as_printed(diverted) <= _as_printed(received) + 1e-9, key


# Those that say what the others do not; all of them with DIVERT_LONG=1.
_CHECKED = ["half set aside", "fate not stated", "residue only"]


@pytest.mark.parametrize("name", rounds(_CHECKED, SITES))
def test_the_evidence_gives_every_figure_that_is_printed(name: str) -> None:
    """As whoever was sent the report works it out again; the PDFs of all sites are checked by hand."""
    for _, job, page, _ in _pages(name):
        workings = _workings(name, job.figures.as_of)
        sponsor = job.name if job.audience == "sponsor" else None
        book = evidence_workbook(
            workings, job.all_sets, job.audience, sponsor, printed=page.printed
        )
        sets = as_json(job.all_sets)
        opened = CalamineWorkbook.from_filelike(io.BytesIO(book))
        cells = {
            n: opened.get_sheet_by_name(n).to_python(skip_empty_area=False)
            for n in opened.sheet_names
        }
        evidence = Evidence(inputs_of(cells), sets)
        language = workings.site.language
        for one in page.printed:
            found = check_figure(asdict(one), evidence, sets, language, None)
            assert found.holds, (job.audience, one.key, str(found.why))


@pytest.mark.parametrize("name", SITES)
def test_one_figure_has_one_text(name: str) -> None:
    said: dict[tuple[str, str, str], set[str]] = {}
    for wanted, job, page, _ in _pages(name):
        for one in page.printed:
            of = (f"{wanted.audience} {wanted.period} {job.name}", one.key, one.unit)
            said.setdefault(of, set()).add(one.text)
    assert {key: texts for key, texts in said.items() if len(texts) > 1} == {}


@pytest.mark.parametrize("name", SITES)
def test_more_and_less_are_said_only_where_the_difference_leaves_out_zero(name: str) -> None:
    for _, job, _, words in _pages(name):
        for more, wanted in (
            (True, "more than a year earlier"),
            (False, "less than a year earlier"),
        ):
            if wanted in words:
                change = _change(job.figures)
                assert change is not None and (change[0] > 0 if more else change[1] < 0)


def _change(figures: Figures) -> tuple[float, float] | None:
    then = figures.same_period_last_year
    if figures.supplied is not None:
        then = figures.supplied.same_period_last_year
    return None if then is None or then.change is None else (then.change.low, then.change.high)


@pytest.mark.parametrize("name", SITES)
def test_words_that_no_report_may_carry(name: str) -> None:
    slugs = sorted({m for m in load_factors(None).materials if "-" in m})
    assert "stable-manure" in slugs
    for wanted, _, _, words in _pages(name):
        assert not re.search(r"(?<!short )(?<!long )\btons?\b(?!nes?)", words), words[:80]
        assert [slug for slug in slugs if slug in words] == []
        assert not re.search(r"\b0\u202f% (of|was)", words)  # none was weighed, not 0 %
        if wanted.audience == "sponsor":
            assert [s for s in STANDINGS.values() if s in words] == []
            assert not re.search(r"DOCf|\bMCF\b|\bOX\b|adjustment|from memory", words)


@pytest.mark.parametrize("name", SITES)
def test_every_section_has_a_heading_that_becomes_a_bookmark(name: str) -> None:
    for _, _, page, _ in _pages(name):
        assert "<caption" not in page.html
        for part in re.findall(r'<section class="part[^"]*">(.*?)</section>', page.html, re.S):
            inner = re.sub(r"<svg.*?</svg>", "", part, flags=re.S)
            assert "<h2" in inner or "thanks" in inner, inner[:200]


@pytest.mark.parametrize("name", SITES)
def test_alternative_texts_have_no_gap_and_no_word_twice(name: str) -> None:
    for _, _, page, _ in _pages(name):
        for told in re.findall(r'aria-label="([^"]*)"', page.html):
            text = unescape(told)
            assert not re.search(r"\b([A-Za-zé]{3,}) \1\b|  |\{|\}| ,|\(\)|: \.|\.\.", text), text


def test_a_quarter_without_entries_gives_a_nil_return() -> None:
    words = {wanted.audience: text for wanted, _, _, text in _pages("empty quarter")}
    assert tells(words["grant"], "No delivery was written|period")
    assert "A year earlier it was 0" not in words["sponsor"]


def test_a_trace_is_under_a_pound_and_nothing_is_a_zero() -> None:
    words = [text for wanted, _, _, text in _pages("a trace") if wanted.audience == "sponsor"]
    assert all("under 1" in text for text in words)


def test_what_nobody_has_told_is_not_said_to_be_known() -> None:
    for wanted, _, _, words in _pages("fate not stated"):
        assert "would not have been thrown away" not in words
        if wanted.audience == "sponsor":
            assert "Nobody has told us yet" in words
        else:
            assert "Of stable manure nobody has told yet where it went before" in words
        if wanted.audience == "grant":
            assert "spread on land before, as stated or" in words
            assert "less what is not claimed" in words


def test_the_first_page_says_so_where_half_of_the_entries_could_not_be_used() -> None:
    parts = {
        "sponsor": ("<body", 'class="behind'), "board": ("Main points", "</section>"),
        "grant": ("<body", "By reporting year"),
    }  # fmt: skip
    met = set()
    for wanted, _, page, _ in _pages("half set aside"):
        met.add(wanted.audience)
        start, end = parts[wanted.audience]
        part = page.html.split(start, 1)[1].split(end, 1)[0]
        first = _words(f"<body {part}").replace("’", "'")
        assert "of the entries in the site's whole log could not be used" in first
    assert met == set(parts)


def test_less_than_a_pound_does_not_turn_a_landfill_into_an_incinerator() -> None:
    # 0.1 lb of some 1,100 lb was bound for an incinerator: under one printed unit decides nothing.
    seen = 0
    for wanted, _, page, words in _pages("a trace burned"):
        if wanted.audience == "sponsor":
            seen += 1
            assert "out of the landfill" in words
            assert "incinerat" not in _words(page.html.split('class="behind', 1)[0])
    assert seen == 2


def test_a_board_asks_for_another_source_only_where_no_bed_is_above_its_band() -> None:
    # Two kitchens bring some 350 lb a week to 84 ft²: 4 lb/ft² a week; ordinary is up to 3.5.
    words = next(text for _, _, _, text in _pages("heavily fed beds"))
    assert "above the ordinary" in words and "Can the beds take it?" in words
    assert "room for another" not in words and "within the ordinary band" not in words


# Words that an English sentence does without only by chance, and a French one never has.
_ENGLISH = re.compile(r"\b(the|of|and|with|was|were|which|from|received|diverted|weighed)\b")


def test_a_french_report_has_no_english_word() -> None:
    # What is cited keeps its own title.
    cited = re.compile(
        r"(GIEC|IPCC|US EPA|EPA|ANSI|Merseyside|Goldstein|Guidelines|Handbook|Survey|Organics|UK Government)"
        r"[^;]*[;.]"
    )
    for _, _, page, _ in _pages("French metric"):
        told = " ".join(unescape(t) for t in re.findall(r'aria-label="([^"]*)"', page.html))
        html = re.sub(r'<ol class="sources">.*?</ol>', " ", page.html, flags=re.S)
        for text in (*(cited.sub(" ", t) for t in re.split(r"(?<=[.;]) ", _words(html))), told):
            found = _ENGLISH.search(text)
            assert found is None, text[max(0, found.start() - 80) : found.end() + 40]


def test_an_independent_checker_finds_no_fault(tmp_path: Path) -> None:
    # pdfua: a PDF/UA-1 (ISO 14289-1) checker from PyPI, not of this project.
    from pdfua import validate

    from divert.report.paper.pdf import write_pdf

    for name in ("other scripts",):
        wanted, job, page, _ = next(p for p in _pages(name) if p[0].audience == "grant")
        look, _ = look_of(_workings(name, wanted.as_of).site)
        path = tmp_path / "report.pdf"
        path.write_bytes(write_pdf(page.html, look, "en", job.figures.as_of))
        assert not validate(str(path)).findings
