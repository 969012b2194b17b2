"""Weights that something beside them says more of: a note on how they were weighed, a total, a bin's name."""

from __future__ import annotations

from itertools import product
from pathlib import Path
from typing import Any

import pytest

from .test_explain_or_ask import FOOD, HOTEL, SCHOOL, Said, counted, d, read, true_loads

_DAYS = [d("3-03"), d("3-10"), d("3-17"), d("3-24")]
_HOTEL, _SCHOOL = (40, 44, 61, 52), (12, 17, 9, 30)


def _notes(*notes: str | None) -> list[list[Any]]:
    rows = [
        [day, "hotel", "food scraps", lb, note]
        for day, lb, note in zip(_DAYS, _HOTEL, notes, strict=False)
    ]
    return [["Date", "Source", "Material", "lb", "Notes"], *rows]


BOXES = ("the tote", "bucket", "bac", "its pail")
SAYINGS = ("weighed with {box}", "{box} included", "{box} weighs 2 lb", "{box} (1 kg) compris", "gross, {box} on",
           "tare of {box} 3 lb")  # fmt: skip


@pytest.mark.parametrize(("saying", "box"), [*product(SAYINGS, BOXES)])
def test_a_note_that_a_box_was_weighed_too_holds_back_its_load(
    saying: str, box: str, tmp_path: Path
) -> None:
    found = read(Said("", _notes(None, saying.format(box=box), None, None)), tmp_path)
    assert found.entries["row"].tolist() == [2, 4, 5]
    assert found.set_aside["row"].tolist() == [3]


@pytest.mark.parametrize(
    "note",
    [
        "2 totes",
        "came in the blue bin",
        "bucket left at the gate",
        "weighed wet",
        "net, without tote",
    ],
)
def test_a_box_in_a_note_says_nothing_of_a_weight(note: str, tmp_path: Path) -> None:
    found = read(Said("", _notes(None, note, None, None)), tmp_path)
    assert len(found.entries) == 4


@pytest.mark.parametrize(
    "note", ["plus 5 lb of bread", "3 lb trash removed", "about 10 lb of it ice"]
)
def test_a_weight_in_a_note_is_asked_about(note: str, tmp_path: Path) -> None:
    found = read(Said("", _notes(None, note, None, None)), tmp_path)
    asked = [f for f in found.findings if f.code == "notes not understood"]
    assert [(f.rows, f.where.row) for f in asked] == [(1, 3)]


def _with_total(head: str, off: int, first: bool) -> list[list[Any]]:
    sums = [a + b + off * n for n, (a, b) in enumerate(zip(_HOTEL, _SCHOOL, strict=True))]
    parts = zip(_DAYS, _HOTEL, _SCHOOL, sums, strict=True)
    rows = [[day, t, a, b] if first else [day, a, b, t] for day, a, b, t in parts]
    heads = [head, "hotel", "school"] if first else ["hotel", "school", head]
    return [["Food scraps"], ["Date", *heads], *rows]


@pytest.mark.parametrize("first", [False, True])
@pytest.mark.parametrize("head", ["Total lb", "All (lb)", "Sum, pounds"])
def test_the_unit_of_a_total_is_that_of_what_it_sums(
    head: str, first: bool, tmp_path: Path
) -> None:
    pairs = [(HOTEL, _HOTEL), (SCHOOL, _SCHOOL)]
    loads = [
        (str(day), s, FOOD, lb) for s, lbs in pairs for day, lb in zip(_DAYS, lbs, strict=True)
    ]
    said = Said("", _with_total(head, 0, first), loads)
    assert counted(read(said, tmp_path).entries) == true_loads(said)


def test_a_total_that_sums_nothing_lends_no_unit(tmp_path: Path) -> None:
    found = read(Said("", _with_total("Total lb", 5, False)), tmp_path)
    assert found.entries.empty and len(found.set_aside)


STREAMS = (
    ("Compost", "Recycling", "Trash"),
    ("Compost", "Landfill"),
    ("Compost", "Recyclage", "Poubelle"),
    ("Garbage", "Compost"),
)


@pytest.mark.parametrize("unit", [" (lb)", " lb", ""])
@pytest.mark.parametrize("heads", STREAMS, ids="-".join)
def test_compost_beside_rubbish_is_a_bin_and_no_product_of_the_site(
    heads: tuple[str, ...], unit: str, tmp_path: Path
) -> None:
    rows = [
        [day, "hotel", *range(20 + 9 * n, 20 + 9 * n + 5 * len(heads), 5)]
        for n, day in enumerate(_DAYS)
    ]
    over = [] if unit else [["Weight per week (lb)"]]
    table = [*over, ["Week of", "Source", *(h + unit for h in heads)], *rows]
    found = read(Said("", table), tmp_path)
    assert found.entries.empty
    assert any(f.level == "refused" for f in found.findings)
