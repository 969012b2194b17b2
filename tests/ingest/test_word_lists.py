"""No word of the lists is lost: each is found, and under the one thing it stands for."""

from __future__ import annotations

from itertools import product

import pytest
from each import failing

from divert.core.units import AMBIGUOUS, SPELLINGS
from divert.ingest.cells.container import Containers
from divert.ingest.cells.date import month_words, weekday_words
from divert.ingest.cells.date import read_cell as read_date
from divert.ingest.cells.mark import is_total_label
from divert.ingest.cells.quantity import read_cell
from divert.ingest.cells.scan import Trade
from divert.ingest.coverage.notes import speaks_against
from divert.ingest.lexicon import words
from divert.ingest.tables.heading_words import norm


def test_no_heading_stands_for_two_fields() -> None:
    fields: dict[str, set[str]] = {}
    for field, phrases in words("headings")["field"].items():
        for phrase in phrases:
            fields.setdefault(norm(phrase), set()).add(field)
    assert {phrase: held for phrase, held in fields.items() if len(held) > 1} == {}


def test_every_word_for_a_total_labels_one() -> None:
    listed = (*words("marks")["total"], *words("marks")["total_word"])
    assert [phrase for phrase in listed if not is_total_label(phrase)] == []


UNITS = (*SPELLINGS, *AMBIGUOUS, *words("units")["same"], "cwt", "hundredweight")


NUMBERS, FILLS = words("numbers")["value"], words("fills")["value"]


def test_no_number_in_words_is_passed_over_as_a_word() -> None:
    def is_read(number: str) -> None:
        (read,) = read_cell(f"{number} kg", Trade())  # type: ignore[misc]
        assert read.mass_kg == pytest.approx(NUMBERS[number])

    assert failing(is_read, ((n,) for n in sorted(NUMBERS.keys() - FILLS.keys()))) == {}


def test_no_fill_in_words_is_passed_over_as_a_word() -> None:
    def is_read(fill: str) -> None:
        (read,) = read_cell(f"1 tote; {fill}", Trade())  # type: ignore[misc]
        assert read.fill == pytest.approx(FILLS[fill])

    assert failing(is_read, ((fill,) for fill in FILLS)) == {}


def test_no_unit_before_its_number_is_passed_over() -> None:
    """Its parts are written apart or together: "cu yd 3", "cu . yd 3", "cuyd 3"."""

    def is_read(unit: str, apart: str) -> None:
        (read,) = read_cell(f"{unit.replace(' ', apart)} 3", Trade())  # type: ignore[misc]
        assert read.mass_kg or read.volume_m3

    named = [u for u in UNITS if u[0].isalpha()]
    assert failing(is_read, product(named, ("", " ", " . "))) == {}


@pytest.mark.parametrize("box", ["caddy", "caddies", "Blue crates", "caddyfuls", "bucket loads"])
def test_no_container_before_its_number_is_passed_over(box: str) -> None:
    trade = Trade(containers=Containers({"caddy": (), "blue crate": ()}))
    (read,) = read_cell(f"{box}: 3", trade)  # type: ignore[misc]
    assert read.count == 3


def test_no_word_that_speaks_against_a_load_is_passed_over() -> None:
    lists = words("against")
    said = [f"{w}ed" for w in lists["begins"]] + lists["whole"] + ["duplicate row", "a doublon"]
    said += [f"{no} {done}" for no in ("not", "jamais") for done in lists["done"]]
    beside = ["{}", "the 2 {} here", "12 {}, wet"]
    assert [n for text in said for b in beside if not speaks_against(n := b.format(text))] == []


def test_what_undoes_nothing_takes_a_word_out_that_would_speak_against_a_load() -> None:
    lone = [set(phrase.split()) for phrase in words("against")["harmless"]]
    assert [
        p for p in lone if not any(speaks_against(w) or w in ("no", "not", "already") for w in p)
    ] == []


def test_no_word_around_a_date_makes_it_none() -> None:
    around = (*weekday_words(), *words("months")["around"]["words"])
    march = read_date("2025-03-04")
    assert [w for w in around if read_date(f"{w} 4 march 2025") != march] == []


def test_no_month_is_passed_over_however_its_day_is_numbered() -> None:
    def is_read(month: str, day: str) -> None:
        assert read_date(f"{day}{month} 2025") == read_date(f"2025-{month_words()[month]:02}-04")

    named = [m for m in month_words() if m != "mar"]
    assert failing(is_read, product(named, ("4 ", "4th ", "4th", "4er", "4e "))) == {}
