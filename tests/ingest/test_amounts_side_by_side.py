"""Amounts side by side that are several loads, one load or none: never taken for another figure in silence."""

from __future__ import annotations

from itertools import product
from pathlib import Path
from typing import Any

import pytest

from .corpus.book import LB
from .test_explain_or_ask import LEAVES, Said, counted, d, read, true_loads

_DAYS = [d("3-03"), d("3-10"), d("3-17"), d("3-24")]
_ONE, _TWO, _THREE = (40, 44, 61, 52), (22, 17, 9, 30), (12, 11, 8, 14)


def _table(over: list[list[Any]], heads: list[str], *columns: tuple[Any, ...]) -> list[list[Any]]:
    return [*over, ["Date", *heads], *map(list, zip(_DAYS, *columns, strict=True))]


@pytest.mark.parametrize("total", [True, False])
@pytest.mark.parametrize("word", ["Bin {} (lb)", "Bac {} lb", "{} cart (lb)", "Tote no. {}, lb"])
def test_numbered_boxes_are_loads_and_no_two_weighings(
    word: str, total: bool, tmp_path: Path
) -> None:
    """The first holds more than the second on each day: as a loaded and an empty truck weigh."""
    heads = [word.format(n) for n in (1, 2)]
    columns, sums = [_ONE, _TWO], [tuple(a + b for a, b in zip(_ONE, _TWO, strict=True))]
    said = _table(
        [["Food scraps"]], heads + (["Total"] if total else []), *columns, *(sums if total else [])
    )
    found = read(Said(word, said), tmp_path)
    pounds = sorted(round(kg / LB) for kg in found.entries["mass_kg"])
    assert pounds == sorted(_ONE + _TWO) or (not pounds and len(found.set_aside))


@pytest.mark.parametrize("one", ["22 lb", 22, "2 totes"])
@pytest.mark.parametrize(
    "names", [("Breakfast", "Lunch"), ("Y1", "Y2"), ("Le Bistrot", "Le Relais")]
)
def test_of_several_amounts_without_a_head_over_the_days_none_counts_alone(
    names: tuple[str, str], one: Any, tmp_path: Path
) -> None:
    """The days have no heading, so that nothing tells the row of names for one either."""
    rows = [[day, one, one, *([] if n else [None])] for n, day in enumerate(_DAYS)]
    found = read(Said("", [["Food scraps, lb"], [None, *names], *rows]), tmp_path)
    by_day = found.entries.groupby("row").size()
    assert found.entries.empty or (by_day == 2).all()
    assert len(found.entries) == 8 or len(found.set_aside)


@pytest.mark.parametrize(
    ("head", "amount"),
    [*product(["lb adj.", "Correction (lb)", "plus/minus lb", "Zwv lb"], [-5, 3, 38])],
)
def test_an_amount_of_the_same_unit_beside_one_load_holds_that_load_back(
    head: str, amount: int, tmp_path: Path
) -> None:
    rows = _table(
        [],
        ["Source", "Material", "lb", head],
        ("hotel",) * 4,
        ("leaves",) * 4,
        _ONE,
        (None, amount, None, None),
    )
    found = read(Said(head, rows), tmp_path)
    assert 3 in found.set_aside["row"].tolist()
    assert 3 not in found.entries["row"].tolist()


@pytest.mark.parametrize(
    "out", ["Totes out", "totes left there", "Totes brought back", "bacs vides"]
)
def test_boxes_beside_a_weight_are_no_second_load(out: str, tmp_path: Path) -> None:
    rows = _table([["Leaves"]], [out, "Weight lb"], (6, 5, 6, 7), _ONE)
    said = Said(
        out, rows, [(str(day), None, LEAVES, lb) for day, lb in zip(_DAYS, _ONE, strict=True)]
    )
    found = read(said, tmp_path)
    assert not counted(found.entries) - true_loads(said)


@pytest.mark.parametrize("head", ["yd3 each", "Cubic yards apiece", "m3 chacun", "yards, each"])
def test_the_volume_of_each_trip_is_multiplied_by_the_trips(head: str, tmp_path: Path) -> None:
    rows = _table([["Leaves"]], ["Trips", head], (3, 2, 4, 1), (2, 2, 1.5, 2))
    found = read(Said(head, rows), tmp_path)
    factor = 1 if head.startswith("m3") else 0.764554857984
    told = [round(v / factor, 6) for v in found.entries["volume_m3"]]
    assert told == [6, 4, 6, 2] or (not told and len(found.set_aside))


@pytest.mark.parametrize("unit", ["m3", "yd3", "gal"])
@pytest.mark.parametrize(
    ("before", "after"),
    [("Level before", "Level after"), ("level am", "level pm"), ("Niveau avant", "Niveau après")],
)
def test_levels_before_and_after_are_no_loads(
    before: str, after: str, unit: str, tmp_path: Path
) -> None:
    rows = _table(
        [["Leaves"]], [f"{before} ({unit})", f"{after} ({unit})"], (0, 2, 4.5, 6), (2, 4.5, 6, 9)
    )
    found = read(Said("", rows), tmp_path)
    assert found.entries.empty


@pytest.mark.parametrize("ours", ["us", "Here", "ici"])
def test_a_load_that_went_to_somebody_else_is_no_load_of_ours(ours: str, tmp_path: Path) -> None:
    rows = _table(
        [["Leaves"]], ["Totes", "Where to"], (2, 3, 2, 4), (ours, "Farmer Giles", ours, ours)
    )
    found = read(Said(ours, rows), tmp_path)
    assert found.entries["row"].tolist() == [3, 5, 6]
    assert found.set_aside["row"].tolist() == [4]


@pytest.mark.parametrize("first", [True, False])
@pytest.mark.parametrize(
    ("ours", "theirs"), [("Balance compost (kg)", "Balance cuisine (kg)"), ("Compost scale lb", "Food scraps scale lb"),
                         ("Compost lb", "Food scraps lb")])  # fmt: skip
def test_a_scale_called_compost_weighed_what_came(
    ours: str, theirs: str, first: bool, tmp_path: Path
) -> None:
    """About as much on either: the same loads on the kitchen's scale and on ours."""
    near = tuple(n + (1 if n % 3 else -1) for n in _ONE)
    pair = [(ours, _ONE), (theirs, near)] if first else [(theirs, near), (ours, _ONE)]
    table = _table(
        [],
        ["Source", "Material", *(h for h, _ in pair)],
        ("hotel",) * 4,
        ("food scraps",) * 4,
        *(c for _, c in pair),
    )
    found = read(Said(ours, table), tmp_path)
    assert found.entries.empty and len(found.set_aside)


@pytest.mark.parametrize(
    "heads",
    [("Start reading", "End reading"), ("Running", "Total so far")],
)
def test_loads_beside_numbers_that_nobody_knows_are_asked_about(
    heads: tuple[str, str], tmp_path: Path
) -> None:
    """A log of a giver that nobody knows, with no column of amounts that anybody does."""
    rows = _table(
        [],
        ["Source", "Material", *heads],
        ("Brewery",) * 4,
        ("food scraps",) * 4,
        (0, 410, 795, 1260),
        (410, 795, 1260, 1560),
    )
    found = read(Said("", rows), tmp_path)
    assert found.entries.empty
    assert found.set_aside["row"].tolist() == [2, 3, 4, 5]


@pytest.mark.parametrize("lacks", [(0,), (0, 1), (1, 2)])
@pytest.mark.parametrize("row", range(4))
@pytest.mark.parametrize(
    "words", [("Came off the truck (lbs.)", "Went on plates (lbs.)", "For the worms (lbs.)"), ("Zwv", "Qrm", "Plf")]
)  # fmt: skip
def test_a_load_that_lacks_one_of_the_amounts_that_nobody_can_tell_is_held_back_with_the_others(
    words: tuple[str, ...], row: int, lacks: tuple[int, ...], tmp_path: Path
) -> None:
    columns = [[475, 426, 329, 473], [255, 330, 263, 364], [222, 98, 65, 111]]
    for column in lacks:
        columns[column][row] = None  # type: ignore[call-overload]
    said = _table(
        [], ["Partner", *words], ("hotel", "school", "hotel", "ladle"), *map(tuple, columns)
    )
    found = read(Said("", said, sheet="cut flowers"), tmp_path)
    told = {int(r) for r in (*found.set_aside["row"], *found.entries["row"])}
    assert told == {2, 3, 4, 5}
    assert found.entries.empty
