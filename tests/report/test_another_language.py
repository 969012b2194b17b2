"""A language is a file: a catalogue that is merely put there speaks on every page, with no code for it."""

from __future__ import annotations

import io
import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from babel.messages.catalog import Catalog
from babel.messages.extract import extract_from_dir
from babel.messages.pofile import write_po
from make_workings import AS_OF, small_workings

from divert.core import words
from divert.core.findings import CannotRun
from divert.core.period import read_period
from divert.publish.job import jobs_for
from divert.publish.make import page_for
from divert.report.paper import pages
from divert.report.paper.look import look_of
from divert.site.model import Grant
from divert.site.read import read_site

ROOT = Path(__file__).parents[2]
LANGUAGE = "it"  # Babel knows its months and numbers; the project has no catalogue of it
KEYWORDS = {"N_": None, "_": None, "gettext": None, "pgettext": ((1, "c"), 2)}
# What stays as it is: the site's own names, documents, and marks of no language.
OWN = ("Alder Hollow Yard", "North School", "Soil Fund", "Kitchen scraps", "kitchen scraps",
       "Spent grain", "spent grain", "castings", "school gardens", "North kitchen", "Brewery",
       "Otter Street canteen", "Castings", "School gardens", "log.xlsx", "USD")  # fmt: skip


def _veiled(message: str) -> str:
    """Return a message as a made-up language says it: each word outside its places as "zo"."""
    parts = re.split(r"(\{\w*\}|%\(\w+\)s)", message)
    return "".join(
        part if i % 2 else re.sub(r"[A-Za-z][A-Za-z'\u2019]*", "zo", part)
        for i, part in enumerate(parts)
    )


@pytest.fixture(scope="module")
def veiled() -> bytes:
    """Return the catalogue of the made-up language: every message of the project, gathered once."""
    made = Catalog(locale=LANGUAGE)
    for folder, methods in (
        ("divert", [("**.py", "python")]),
        ("report_templates", [("**.html", "jinja2")]),
    ):
        for _, _, message, _, context in extract_from_dir(
            ROOT / folder, methods, {"**.html": {"trimmed": "true"}}, KEYWORDS
        ):
            if isinstance(message, str) and message and context is None:
                made.add(message, _veiled(message))
    file = io.BytesIO()
    write_po(file, made)
    return file.getvalue()


@pytest.fixture
def another_language(
    veiled: bytes, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> Iterator[str]:
    place = tmp_path / "locale" / LANGUAGE / "LC_MESSAGES"
    place.mkdir(parents=True)
    (place / "divert.po").write_bytes(veiled)
    monkeypatch.setattr(words, "LOCALE_FOLDER", tmp_path / "locale")
    yield LANGUAGE
    words.catalogue.cache_clear()
    words._elided_words.cache_clear()
    pages.environment.cache_clear()
    pages.style.cache_clear()


def _site(folder: Path, language: str) -> Path:
    (folder / "site.toml").write_text(
        f'[site]\nname = "A"\nunits = "us"\nstarted = 2024-01-01\nlanguage = "{language}"\n',
        encoding="utf-8",
    )
    return folder


def test_site_toml_takes_the_languages_that_have_a_catalogue(
    another_language: str, tmp_path: Path
) -> None:
    assert read_site(_site(tmp_path, another_language)).language == another_language
    with pytest.raises(CannotRun, match="it"):
        read_site(_site(tmp_path, "tlh"))


def test_without_its_catalogue_the_language_is_refused(tmp_path: Path) -> None:
    with pytest.raises(CannotRun, match="language"):
        read_site(_site(tmp_path, LANGUAGE))


@pytest.mark.parametrize("audience", ["sponsor", "grant", "board"])
def test_every_word_of_the_reports_comes_from_the_catalogue(
    audience: str, another_language: str, tmp_path: Path
) -> None:
    workings = small_workings(
        tmp_path, language=another_language, country="FR", grants=(Grant("Soil Fund"),)
    )
    label = "2025" if audience == "board" else "2025-Q2"
    period = read_period(label, as_of=AS_OF, started=workings.site.started)
    names = ["North School"] if audience == "sponsor" else None
    (job,) = jobs_for(workings, audience, period, AS_OF, names)  # type: ignore[arg-type]
    page = page_for(job, workings, look_of(workings.site)[0], screen=True).html
    assert f'<html lang="{another_language}">' in page
    shown = re.sub(r"<[^>]*>", "\n", re.sub(r"<style.*?</style>", "", page, flags=re.S))
    told = re.findall(r'(?:aria-label|alt)="([^"]*)"', page)
    text = "\n".join([shown, *told])
    assert re.search(r"aprile|apr|gen|febbraio|dicembre|dic", text)  # months by Babel's own table
    for own in OWN:
        text = text.replace(own, "")
    english = re.findall(
        r"\b(?:the|of|and|was|diverted|received|month|year|weighed|material|thrown|estimate|site|"
        r"landfill|range|total|entries|report|target)\b", text, flags=re.IGNORECASE,
    )  # fmt: skip
    allowed = {"of", "and", "report", "landfill", "material", "the"}  # titles of documents
    assert {word.lower() for word in english} <= allowed
    assert text.count("zo") > 100
