"""What our printers write reads back to the same value, and no text makes a cell reader raise."""

from __future__ import annotations

import datetime as dt
import math

import pytest
from babel.dates import format_date
from babel.numbers import format_decimal, format_percent
from hypothesis import given, settings
from hypothesis import strategies as st

from divert.ingest.cells import date, fill, mark, money, number, quantity, share, unit
from divert.ingest.cells.container import Containers
from divert.ingest.cells.problem import Problem
from divert.ingest.cells.quantity_spellings import _RULES
from divert.ingest.cells.scan import Trade
from divert.ingest.cells.unit import Meaning
from divert.ingest.sheet import as_text

# NIST Handbook 44, Appendix C: exact.
LB, GAL, YD3 = 0.45359237, 0.003785411784, 0.764554857984
MEANING = Meaning()
BOXES = Containers({"tote": ("blue tote",), "pail": ("5 gal pail", "seau")}, {"pail": (5 * GAL,)})
TRADE, FRENCH = Trade(MEANING, BOXES), Trade(MEANING, BOXES, comma=True)
amounts = st.decimals(min_value="0.01", max_value="999999", places=2).map(float)
days = st.dates(dt.date(2001, 1, 1), dt.date(2099, 12, 31))
anything = st.one_of(
    st.text(max_size=60),
    st.text(alphabet="0123456789 .,/-+x½¾%#()'\"lbkgtoesfudemi", max_size=30),
    st.floats(),
    st.integers(),
    st.booleans(),
    st.datetimes(),
    st.dates(),
    st.times(),
    st.none(),
)


@given(amounts, st.sampled_from(["en", "fr"]))
def test_a_printed_number_reads_back(value: float, language: str) -> None:
    written = format_decimal(value, locale=language)
    assert number.read_cell(written, comma=language == "fr") == pytest.approx(value)


@given(amounts)
def test_a_number_as_we_show_a_cell_reads_back(value: float) -> None:
    assert number.read_cell(as_text(value)) == pytest.approx(value)


@given(
    st.from_regex(r"[1-9][0-9]{0,3}(\.[0-9]{1,2})?", fullmatch=True),
    st.sampled_from([TRADE, FRENCH]),
)
def test_a_bare_number_says_what_it_says_with_a_space_behind_it(text: str, trade: Trade) -> None:
    assert quantity.read_cell(text, trade) == quantity.read_cell(f"{text} ", trade)


@given(st.from_regex(r"(19|20|21|99)[0-9]{2}-[01][0-9]-[0-3][0-9]", fullmatch=True))
def test_a_date_as_programs_write_it_says_what_it_says_with_slashes(text: str) -> None:
    assert date.read_cell(text) == date.read_cell(text.replace("-", "/"))


@given(
    amounts,
    st.sampled_from(["lb", "kg", "yd³", "L", "tonnes", "short tons"]),
    st.sampled_from(["en", "fr"]),
)
def test_a_printed_measure_reads_back(value: float, word: str, language: str) -> None:
    kg_or_m3 = {
        "lb": LB,
        "kg": 1.0,
        "yd³": YD3,
        "L": 0.001,
        "tonnes": 1000.0,
        "short tons": 2000 * LB,
    }
    written = f"{format_decimal(value, locale=language)} {word}"
    read = quantity.read_cell(written, FRENCH if language == "fr" else TRADE)
    assert not isinstance(read, Problem)
    found = read[0].volume_m3 if word in ("yd³", "L") else read[0].mass_kg
    assert found == pytest.approx(value * kg_or_m3[word])


@given(st.integers(1, 999), st.sampled_from(["totes", "blue totes", "seaux", "5 gal pails"]))
def test_a_count_reads_back(count: int, word: str) -> None:
    read = quantity.read_cell(f"{count} {word}", TRADE)
    assert not isinstance(read, Problem)
    assert (read[0].count, read[0].container) == (count, "tote" if "tote" in word else "pail")


@given(days, st.sampled_from(["en", "fr"]), st.sampled_from(["medium", "long", "full"]))
def test_a_printed_date_reads_back(day: dt.date, language: str, shape: str) -> None:
    read = date.read_cell(format_date(day, shape, locale=language))
    assert not isinstance(read, Problem) and read.sure
    assert read.readings[0][1] == date.Day(day.year, day.month, day.day)


@given(days)
def test_dates_as_dates_iso_texts_and_serial_numbers_are_the_same_day(day: dt.date) -> None:
    serial = (day - date.SERIAL_EPOCH).days
    for written in (
        day,
        dt.datetime.combine(day, dt.time(9, 30)),
        day.isoformat(),
        serial,
        str(serial),
        f"{day:%Y%m%d}",
    ):
        read = date.read_cell(written)
        assert not isinstance(read, Problem)
        assert read.readings[0][1] == date.Day(day.year, day.month, day.day)


@given(days)
def test_a_slashed_date_is_sure_only_where_one_order_is_possible(day: dt.date) -> None:
    read = date.read_cell(f"{day.month}/{day.day}/{day.year}")
    assert not isinstance(read, Problem)
    readings = dict(read.readings)
    assert readings["month first"] == date.Day(day.year, day.month, day.day)
    assert ("day first" in readings) == (day.day <= 12)


@given(st.integers(0, 150), st.sampled_from(["en", "fr"]))
def test_a_printed_share_reads_back_as_a_fill(percent: int, language: str) -> None:
    assert fill.read_cell(format_percent(percent / 100, locale=language)) == pytest.approx(
        percent / 100
    )


@given(st.integers(1, 7), st.sampled_from([2, 4, 8]))
def test_a_fraction_is_a_fill_even_when_taken_for_a_date(top: int, bottom: int) -> None:
    if top >= bottom:
        return
    assert fill.read_cell(f"{top}/{bottom}") == top / bottom
    assert fill.read_cell(f"{top}/{bottom} full") == top / bottom
    assert fill.read_cell(dt.date(2025, top, bottom)) == top / bottom
    assert fill.read_cell(dt.date(2025, bottom, top)) == top / bottom


@given(st.integers(0, 100), st.sampled_from(["en", "fr"]))
def test_a_printed_share_reads_back_as_contamination(percent: int, language: str) -> None:
    read = share.read_cell(format_percent(percent / 100, locale=language), MEANING)
    assert not isinstance(read, Problem) and read.share == pytest.approx(percent / 100)


@given(amounts)
def test_money_reads_back(value: float) -> None:
    for written in (f"${value:,.2f}", f"{value:.2f} $", f"USD {value:,.2f}"):
        read = money.read_cell(written)
        assert not isinstance(read, Problem) and read.amount == pytest.approx(value)


@settings(max_examples=400)
@given(anything)
def test_nothing_makes_a_reader_raise(value: object) -> None:
    number.read_cell(value)
    quantity.read_cell(value, TRADE)
    quantity.read_cell(value, FRENCH)
    fill.read_cell(value)
    date.read_cell(value)
    share.read_cell(value, MEANING)
    money.read_cell(value)
    if isinstance(value, str):
        mark.read_cell(value)
        mark.read_start(value)
        mark.is_total_label(value)
        unit.read_cell(value, MEANING)
        fill.read_note(value)


@given(anything)
def test_a_quantity_is_finite(value: object) -> None:
    read = quantity.read_cell(value, TRADE)
    for one in () if isinstance(read, Problem) else read:
        for name in ("number", "count", "fill", "volume_m3", "mass_kg"):
            found = getattr(one, name)
            assert found is None or math.isfinite(found)


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("n/a", "nothing"), ("-", "nothing"), ("None", "nothing"), ("aucun", "nothing"),
        ("Closed", "closed"), ("fermé", "closed"), ("Jour férié", "closed"),
        ('"', "ditto"), ("ditto", "ditto"), ("idem", "ditto"), ("″", "ditto"),
        ("?", "unknown"), ("scale broken", "unknown"), ("VOID", "void"), ("Refusé", "rejected"),
        ("food scraps", None), ("north bin", None), ("Dora", None), ("12", None),
    ],
)  # fmt: skip
def test_marks(text: str, expected: str | None) -> None:
    assert mark.read_cell(text) == expected


@pytest.mark.parametrize(
    "text",
    [
        "30-40 lb",
        "2-3 totes",
        "11/2",
        "40+ lb",
        "(40)",
        "totes",
        "3 3/4 full",
        "2 totes, 1 half full",
        "3 totes minus 1",
        "bin 3",
        ">40",
        "1,2,3",
    ],
)
def test_what_a_person_could_not_tell_is_not_read(text: str) -> None:
    assert isinstance(quantity.read_cell(text, TRADE), Problem)


@pytest.mark.parametrize("text", ["40 quintals", "3 pecks"])
def test_a_unit_without_a_size_is_an_unknown_unit(text: str) -> None:
    read = quantity.read_cell(text, TRADE)
    assert isinstance(read, Problem) and read.code == "unit unknown"


@given(st.integers(100, 99999), st.integers(0, 4), st.sampled_from("OoIlSBZ|"))
def test_a_letter_among_the_digits_is_never_read_as_a_number(
    whole: int, at: int, letter: str
) -> None:
    digits = str(whole)
    at = min(at, len(digits) - 2)  # "120l" would be litres
    for text in (digits[:at] + letter + digits[at + 1 :], digits[:at] + letter + digits[at:]):
        assert isinstance(quantity.read_cell(text, TRADE), Problem), text
        assert isinstance(number.read_cell(text), Problem), text


@given(st.integers(2, 999), st.sampled_from(["lbss", "kgg", "ib", "gk", "lbb", "poundss", "totse", "tottes", "piall"]))  # fmt: skip
def test_a_misspelt_unit_or_container_is_never_a_note(count: int, word: str) -> None:
    assert isinstance(quantity.read_cell(f"{count} {word}", TRADE), Problem)


@given(st.integers(1, 500), st.sampled_from(["<{} lb", "up to {} lb", "less than {} lb", "{}+ lb", "{0}-{0}9 lb", "{0} or {0}9 lb", "{} lb??"]))  # fmt: skip
def test_an_amount_nobody_can_be_sure_of_is_not_read(number_written: int, shape: str) -> None:
    assert isinstance(quantity.read_cell(shape.format(number_written), TRADE), Problem)


SPELT = (
    "'", "ii", "|||", "(", ")", " ", "12", "3", "1.5", "50", "6.5", "-", "minus", "lb", "kg", "ish",
    "est.", "approx", "env", "bag", "liners", "sac", "with", "+", "three", "/", "4", "%", "full",
    "aux", "500", "x", "ea", "of a", "d'un", "quarts", "de", "une", "an", "l b", "k g", "yd", "tare", "?",
)  # fmt: skip


@given(st.lists(st.sampled_from(SPELT), max_size=9).map("".join))
def test_a_rule_of_spelling_is_passed_over_only_where_it_finds_nothing(text: str) -> None:
    for parts, pattern, _ in _RULES:
        assert any(part in text for part in parts) or not pattern.search(text)
