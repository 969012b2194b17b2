"""The sponsor's page in French: dates, names of the built-in list, places that stay in the house."""

from __future__ import annotations

import datetime as dt
import re
from dataclasses import replace

import cases
import pytest
from cases import plain
from told import tells

from divert.factors import load_factors
from divert.figures.history import History
from divert.figures.numbers.printed import Printer
from divert.report.sponsor.page import sponsor_view
from divert.report.wording.dates import month_name, span
from divert.report.wording.material_names import LISTED, material_name


def test_days_and_months() -> None:
    assert span(dt.date(2026, 4, 1), dt.date(2026, 5, 20), "fr", "FR") == "1er avril au 20 mai 2026"
    assert span(dt.date(2026, 4, 1), dt.date(2026, 6, 30), "fr", "FR") == "avril à juin 2026"
    # CLDR, French: abbreviated months carry a full stop where letters are left out.
    names = [month_name(f"2025-{n:02}", "fr") for n in (1, 3, 5, 7)]
    assert names == ["janv.", "mars", "mai", "juil."]
    assert Printer("fr", "metric", country="CA").date(dt.date(2024, 4, 1)) == "1er avril 2024"


def test_every_material_of_the_list_has_a_name_to_translate() -> None:
    listed = {entry.name for entry in load_factors(None).materials.values()}
    assert set(LISTED) == listed


@pytest.mark.parametrize(
    ("name", "own", "shown"),
    [
        ("leaves", (), "feuilles mortes"),
        ("leaves", ("leaves",), "leaves"),  # a site's own name is no one's to change
        ("restes de la cantine", (), "restes de la cantine"),
        ("", (), "non noté"),
    ],
)
def test_material_names(name: str, own: tuple[str, ...], shown: str) -> None:
    printer = Printer("fr", "metric", own_names=own)
    if shown == "feuilles mortes":
        assert material_name(name, printer).startswith("feuilles")
    else:
        assert material_name(name, printer) == shown
    assert material_name("leaves", Printer("en", "us")) == "leaves"


def test_the_first_sentences_read_as_french() -> None:
    view = cases.view_of(cases.supported(), language="fr", units="metric")
    # A quarter of 5,358 lb is 607.6 kg.
    assert plain(view.headline) == (
        "Votre soutien a évité la décharge à environ trois cinquièmes de tonne de matières (kitchen scraps, "
        "juice pulp, cut flowers et d'autres) ce trimestre."
    ).replace("'", "&#39;")
    assert plain(view.thanks) == "Merci : votre soutien fait vivre ce travail."
    empty = cases.view_of(cases.nothing_this_quarter(), language="fr", units="metric")
    assert plain(empty.about) == "Votre dernier apport noté date de mars 2025."
    assert not re.search(r"\b(of|the|and)\b", plain(view.about) + plain(view.short_note))


@pytest.mark.parametrize(("language", "words"), [("en", "to others"), ("fr", "à d'autres")])
def test_a_place_that_names_somebody_else_is_not_named(language: str, words: str) -> None:
    figures = cases.supplied()
    place = "the beds of Tern Street Kitchen"
    harvest = tuple(replace(h, destination=place) for h in figures.harvest)
    printer = Printer(language, "us")
    view = sponsor_view(
        replace(figures, harvest=harvest), History(), printer, cases.look(), kept_back=[place]
    )
    assert view.harvest
    assert all("Tern Street" not in went.what for went in view.harvest)
    assert any(words in went.what for went in view.harvest)


def test_long_lists_of_harvests_are_cut_short_and_say_so() -> None:
    figures = cases.supplied()
    long = "given to the gardens of the friends and neighbours of the lower water meadows " * 2
    harvest = tuple(
        replace(figures.harvest[0], product=f"lot {i}", destination=long) for i in range(6)
    )
    view = cases.view_of(replace(figures, harvest=harvest))
    assert len(view.harvest) == 3
    assert tells(view.harvest[-1].what, "other lots|the evidence")


def test_phrases_are_parted_as_the_language_parts_them() -> None:
    # A thin space before a semicolon (Lexique des règles typographiques en usage à l'Imprimerie
    # nationale, from memory).
    assert Printer("fr", "metric").phrases(["a, b", "c"]) == "a, b\u202f; c"
    assert Printer("en", "us").phrases(["a, b", "c"]) == "a, b; c"
    view = cases.view_of(cases.supported(), language="fr", units="metric")
    said = " ".join(plain(note.text) for note in view.notes)
    assert " ; " in said  # plain() writes thin spaces wide
    assert not re.search(r"\w; ", re.sub(r"&#?\w+;", "", said))
