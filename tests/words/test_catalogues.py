"""Every word that reaches a person is in every language's catalogue, with the same places in it."""

from __future__ import annotations

import re
from collections import Counter
from functools import cache
from pathlib import Path

import pytest
from babel.messages.extract import extract_from_dir
from babel.messages.pofile import read_po

from divert.core.words import LOCALE_FOLDER, N_, Text, catalogue

ROOT = Path(__file__).parents[2]
LANGUAGES = sorted(p.name for p in LOCALE_FOLDER.iterdir() if p.is_dir())
METHODS = [("divert/**.py", "python"), ("report_templates/**.html", "jinja2")]


@cache
def spoken() -> frozenset[str]:
    """Return every message of the program and its templates, as .babel.cfg extracts them."""
    keywords = {"N_": None, "_": None, "gettext": None, "pgettext": ((1, "c"), 2)}
    found = set()
    for folder in ("divert", "report_templates"):
        methods = [(pattern.partition("/")[2], method) for pattern, method in METHODS]
        for _, _, message, _, context in extract_from_dir(
            ROOT / folder, methods, {"**.html": {"trimmed": "true"}}, keywords
        ):
            found.add(message if context is None else f"{context}: {message}")
    return frozenset(m for m in found if isinstance(m, str) and m)


@cache
def written(language: str) -> dict[str, str]:
    """Return a catalogue's translations by message; what stands in a context apart."""
    with (LOCALE_FOLDER / language / "LC_MESSAGES" / "divert.po").open("rb") as file:
        return {
            m.id if m.context is None else f"{m.context}: {m.id}": m.string
            for m in read_po(file, locale=language)
            if m.id
        }


def places(text: str) -> Counter[str]:
    """Return the places a message leaves for values."""
    return Counter(a or b for a, b in re.findall(r"\{(\w*)\}|%\((\w+)\)s", text))


def test_there_is_french() -> None:
    assert "fr" in LANGUAGES
    assert len(spoken()) > 900


@pytest.mark.parametrize("language", LANGUAGES)
def test_every_message_is_translated(language: str) -> None:
    missing = sorted(m for m in spoken() if not written(language).get(m))
    assert missing == []


@pytest.mark.parametrize("language", LANGUAGES)
def test_no_translation_has_lost_its_message(language: str) -> None:
    assert sorted(set(written(language)) - spoken()) == []


@pytest.mark.parametrize("language", LANGUAGES)
def test_translations_keep_every_place(language: str) -> None:
    wrong = [m for m, said in written(language).items() if places(m) != places(said)]
    assert wrong == []


@pytest.mark.parametrize("language", LANGUAGES)
def test_no_bare_ton_and_no_boast_in_any_language(language: str) -> None:
    for message, said in written(language).items():
        own = re.sub(r'"[^"]*"|«[^»]*»', "", said)  # the settings' own words stand in quotes
        assert not re.search(r"\btons?\b", own), message
        assert not re.search(r"certifi|neutre en carbone|carboneutre|sans pathogène", said), message


def test_french_writes_quotes_and_stops_as_french_does() -> None:
    for message, said in written("fr").items():
        assert "“" not in said and "”" not in said, message
        assert not re.search(r"(?<=\w)[;!?](?!\w)", said), message
        # An ordinary space before a mark may break the line (Lexique des règles typographiques en
        # usage à l'Imprimerie nationale, from memory).
        assert not re.search(r"« | [»:;!?](?!:)| %(?![(:])", said), message
        assert not re.search(r"\b(de|que|le|la) (un|une|il|elle)\b", said), message  # d'un, qu'elle


def test_numbers_and_dates_follow_the_language() -> None:
    import datetime as dt

    text = Text(N_("Report {number} was withdrawn already, on {day}."),
                {"number": 1234.5, "day": dt.date(2025, 3, 4)})  # fmt: skip
    assert text.say("en") == "Report 1,234.5 was withdrawn already, on March 4, 2025."
    assert text.say("fr") == "Le rapport 1\u202f234,5 a déjà été retiré, le 4 mars 2025."


def test_a_language_without_a_catalogue_speaks_english() -> None:
    assert catalogue("xx").gettext("Signature") == "Signature"


@pytest.mark.parametrize(
    ("month", "said"),
    [("avril 2025", "d'avril 2025"), ("août 2025", "d'août 2025"), ("mai 2025", "de mai 2025")],
)
def test_french_shortens_a_word_before_a_vowel(month: str, said: str) -> None:
    text = Text(N_("The last delivery on record is of {month}."), {"month": month})
    assert text.say("fr").endswith(f" {said}.")
    assert text.say("en").endswith(f" of {month}.")


@pytest.mark.parametrize(
    ("day", "said"),
    [(1, "le 1er juillet 2025"), (2, "le 2 juillet 2025"), (11, "le 11 juillet 2025")],
)
def test_french_counts_the_first_of_a_month(day: int, said: str) -> None:
    import datetime as dt

    text = Text(N_("Report {number} was withdrawn already, on {day}."),
                {"number": 3, "day": dt.date(2025, 7, day)})  # fmt: skip
    assert said in text.say("fr")
    assert f"July {day}, 2025" in text.say("en")


@pytest.mark.parametrize("language", ["en", "fr"])
def test_a_number_beyond_any_that_is_written_out_is_said_all_the_same(language: str) -> None:
    """A code under a weight, 1e300 in a cell: whole numbers are no safer than others."""
    for number in (10**300, 10**400, 1e300, -(10**22)):
        said = Text("{n} kg", {"n": number}).say(language)
        assert said in ("1e+300 kg", "1e+400 kg", "-1e+22 kg")
    assert Text("{n}", {"n": float("nan")}).say(language) == "nan"


def test_no_message_leaves_it_open_whether_there_are_several() -> None:
    """A "(s)" in any template, sentence or translation of one."""
    from divert.core.shipped import templates_folder
    from divert.core.words import LOCALE_FOLDER

    here = [*LOCALE_FOLDER.rglob("*.po"), *templates_folder().rglob("*.html")]
    texts = {path: path.read_text(encoding="utf-8") for path in here}
    assert texts
    assert [
        str(path) for path, text in texts.items() if re.search(r"\w\((?:s|es|e|x)\)", text)
    ] == []
