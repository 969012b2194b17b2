"""Words and numbers that name: trips beside amounts, notes where materials stand, givers under another's file.

Each class is made from words and amounts, read as it is and once more through its kept plan.
"""

from __future__ import annotations

from itertools import cycle, product
from pathlib import Path
from typing import Any

import pytest

from divert.ingest.read import read_with_plans

from .corpus import writers
from .corpus.book import AS_OF, site
from .test_explain_or_ask import COFFEE, FOOD, HOTEL, LEAVES, SCHOOL, Said, counted, d, true_loads
from .test_kept_plans import keep_read

DAYS = [d(f"3-{n:02}") for n in (3, 5, 5, 8, 12, 12, 12, 15)]
POUNDS = [41, 27, 88, 13, 60, 35, 92, 19]  # in no order
ORDER_OF_DAY = [1, 1, 2, 1, 1, 2, 3, 1]
FOR_EACH_DAY = [1] * 8
ON_A_ROLL = [4403, 4404, 4405, 4406, 4407, 4408, 4409, 4410]
SO_FAR = [sum(POUNDS[: n + 1]) for n in range(8)]

AMOUNTS: dict[str, tuple[list[str], list[list[Any]]]] = {
    "named": (["food scraps (lb)"], [[n] for n in POUNDS]),
    "weighed": (["Weight (lb)"], [[n] for n in POUNDS]),
    "unit beside": (["Amount", "Unit"], [[n, "lb"] for n in POUNDS]),
    "in the cell": (["Amount"], [[f"{n} lb"] for n in POUNDS]),
    "so far": (["lb so far"], [[n] for n in SO_FAR]),
    "to date, of a name": (["food scraps, pounds to date"], [[n] for n in SO_FAR]),
}
WORDS = (
    "Voyage",
    "Load",
    "Trip",
    "Run",
    "Haul",
    "Lift",
    "Truck",
    "Chargement",
    "Barrel",
    "Benne",
    "Scale ticket #",
)
NUMBERS = {"of the day": ORDER_OF_DAY, "one a day": FOR_EACH_DAY, "on a roll": ON_A_ROLL}


def _holds(folder: Path, said: Said) -> None:
    """Read a sheet as it is and through its kept plan: nothing counts that it does not say."""
    writers.xlsx(folder / said.file, {said.sheet: said.rows, **said.more})
    first, plans = read_with_plans(site(folder), AS_OF)
    keep_read(folder, first, plans)
    for reading in (first, read_with_plans(site(folder), AS_OF)[0]):
        true, got = true_loads(said), counted(reading.entries)
        assert not got - true
        if said.must:
            assert true == got
        else:
            assert true == got or len(reading.set_aside)
        assert reading.set_aside.equals(first.set_aside)


@pytest.mark.parametrize("amount", AMOUNTS)
@pytest.mark.parametrize("word", WORDS)
def test_numbers_under_a_word_for_an_event_are_no_amounts(
    word: str, amount: str, tmp_path: Path
) -> None:
    heads, cells = AMOUNTS[amount]
    for place, numbers in enumerate(NUMBERS.values()):
        named = amount in ("named", "to date, of a name")
        what = [[]] * 8 if named else [["food scraps"]] * 8
        whose = cycle(("hotel", "school"))
        rows = [
            [day, next(whose), *m, number, *cell]
            for day, m, number, cell in zip(DAYS, what, numbers, cells, strict=True)
        ]
        folder = tmp_path / str(place)
        folder.mkdir()
        head = ["Date", "Source", *([] if named else ["Material"]), word, *heads]
        loads = [
            (day.isoformat(), (HOTEL, SCHOOL)[n % 2], FOOD, pounds)
            for n, (day, pounds) in enumerate(zip(DAYS, POUNDS, strict=True))
        ]
        _holds(folder, Said(word, [head, *rows], loads, sheet="Food scraps" if named else "Log"))


REMARKS = ("What happened", "How it went", "Ce qui s'est passé", "Qui a dit quoi")
WROTE = ("after the gala", "picked up late", "two helpers", "short route")


@pytest.mark.parametrize("head", REMARKS)
def test_notes_where_names_are_lent_are_neither_materials_nor_sources(
    head: str, tmp_path: Path
) -> None:
    told = [
        (day, who, pounds)
        for day, who, pounds in zip(DAYS, cycle(("hotel", "school")), POUNDS, strict=False)
    ]
    written = cycle(WROTE)
    loads = [
        (day.isoformat(), {"hotel": HOTEL, "school": SCHOOL}[who], LEAVES, n)
        for day, who, n in told
    ]
    sheets = {
        "of a tab": [["Date", "Source", "lb", head], *([a, b, c, next(written)] for a, b, c in told)],
        "of a heading": [["Date", "Source", "leaves (lb)", head], *([a, b, c, next(written)] for a, b, c in told)],
        "of a column": [["Date", "Source", "Kind", "lb", head], *([a, b, "leaves", c, next(written)] for a, b, c in told)],
    }  # fmt: skip
    for name, rows in sheets.items():
        (folder := tmp_path / name).mkdir()
        tab = "leaves" if name == "of a tab" else "Log"
        _holds(folder, Said(name, rows, loads, must=True, sheet=tab))


@pytest.mark.parametrize("head", REMARKS)
@pytest.mark.parametrize("known", range(1, 6))
def test_a_column_that_names_givers_outdoes_a_question_word(
    head: str, known: int, tmp_path: Path
) -> None:
    """However few of the givers are known; and where too few are, it is asked about."""
    names = [*("hotel", "school", "hotel", "school", "hotel")[:known], *GIVERS]
    rows = [
        [day, name, "coffee", n, note]
        for day, name, n, note in zip(DAYS, names, POUNDS, cycle(WROTE), strict=False)
    ]
    loads = [
        (day.isoformat(), {"hotel": HOTEL, "school": SCHOOL}.get(name, name), COFFEE, n)
        for day, name, _, n, _ in rows
    ]
    said = Said(head, [["Date", "Carried up by", "Material", "lb", head], *rows], loads)
    _holds(tmp_path, said)


GIVERS = ("Pine Grove Cafe", "Unit 4B", "Senior Center")
UNDER = ("Dropped off by", "Delivered for", "Collected, who", "Zone")


@pytest.mark.parametrize("head", UNDER)
def test_names_of_others_under_a_file_named_for_a_source_are_asked_about(
    head: str, tmp_path: Path
) -> None:
    names = ["hotel", *GIVERS, "school"]
    rows = [[day, name, "coffee", n] for day, name, n in zip(DAYS, names, POUNDS, strict=False)]
    loads = [
        (day.isoformat(), {"hotel": HOTEL, "school": SCHOOL}.get(name, name), COFFEE, n)
        for day, name, _, n in rows
    ]
    said = Said(head, [["Date", head, "Material", "lb"], *rows], loads, file="From the school.xlsx")
    _holds(tmp_path, said)


CARRIED = ("What we had", "Jan's pile", "Before the new log", "Ce qu'on avait")


@pytest.mark.parametrize(("words", "column"), list(product(CARRIED, range(1, 5))))
def test_a_row_of_no_name_with_words_that_no_other_bears_is_asked_about(
    words: str, column: int, tmp_path: Path
) -> None:
    """However small the amount, and however few the loads."""
    rows = [
        [day, who, "leaves", run, meals, n]
        for day, who, run, meals, n in zip(
            DAYS, ("hotel", "school", "hotel"), (1, 2, 3), (200, 310, 120), POUNDS, strict=False
        )
    ]
    odd: list[Any] = [d("3-01"), None, None, None, None, 20]
    odd[column] = words
    head = ["Date", "Source", "Material", "Run", "Meals", "lb"]
    loads = [
        (day.isoformat(), {"hotel": HOTEL, "school": SCHOOL}[who], LEAVES, n)
        for day, who, _, _, _, n in rows
    ]
    for place, some in enumerate((rows[:1], rows)):
        (folder := tmp_path / str(place)).mkdir()
        _holds(folder, Said(words, [head, odd, *some], loads[: len(some)]))


def test_each_row_of_two_amounts_of_which_one_is_asked_about_waits(tmp_path: Path) -> None:
    """One of them may be blank somewhere: what stands alone there is no surer than beside the other."""
    rows = [[day, "hotel", "leaves", bought, used] for day, bought, used in
            zip(DAYS, (90, 120, None, 150), (70, 80, 60, 110), strict=False)]  # fmt: skip
    said = Said("", [["Date", "Source", "Material", "Bought (lb)", "Used (lb)"], *rows])
    _holds(tmp_path, said)


@pytest.mark.parametrize(
    "remark", ["short crew", "moved to the new yard", "sold the old scale", "trash day"]
)
@pytest.mark.parametrize("file", ["log", "End of trash", "Sold on compost"])
def test_a_load_under_a_day_and_its_own_heading_is_one(
    file: str, remark: str, tmp_path: Path
) -> None:
    """And no title, not even under names that head columns elsewhere ("school"); a remark says no kind."""
    head = ["From", "Stuff", "Amount"]
    rows: list[list[Any]] = []
    loads = []
    names = {"school": SCHOOL, "hotel": HOTEL}
    for day, (who, what), n in zip(
        DAYS[3:],
        product((*names, "Pine Grove Cafe"), ("coffee", "soy okara")),
        POUNDS,
        strict=False,
    ):
        rows += [[f"{day} - {remark}"], head, [who, what, f"{n} lb"]]
        loads.append((day.isoformat(), names.get(who, who), {"coffee": COFFEE}.get(what, what), n))
    _holds(tmp_path, Said("", rows, loads, must=True, file=f"{file}.xlsx"))


@pytest.mark.parametrize("off", [0, 7])  # a load was taken out since, or never
@pytest.mark.parametrize("tab", ["Year so far", "For the board"])
def test_sums_of_loads_are_no_disposal_whatever_their_file_is_called(
    tab: str, off: int, tmp_path: Path
) -> None:
    rows = [[day, "hotel", "leaves", n] for day, n in zip(DAYS, POUNDS, strict=True)]
    loads = [(day.isoformat(), HOTEL, LEAVES, n) for day, _, _, n in rows]
    said = Said(
        "", [["Date", "Source", "Material", "lb"], *rows], loads, file="End of trash 2025.xlsx",
        sheet="2025-03 pickups", more={tab: [["Month", "lb"], ["March", sum(POUNDS) + off], ["Total", sum(POUNDS) + off]]},
    )  # fmt: skip
    _holds(tmp_path, said)


@pytest.mark.parametrize("small", [(5, 10), (10, 5), (3, 8)])
def test_two_scales_are_asked_about_though_small_loads_differ_most(
    small: tuple[int, int], tmp_path: Path
) -> None:
    pairs = [small, (113, 118), (203, 203), (189, 188), (31, 30)]
    rows = [[day, "hotel", "leaves", *two] for day, two in zip(DAYS, pairs, strict=False)]
    head = ["Date", "Source", "Material", "Our scale lbs", "Hauler's slip lbs"]
    _holds(tmp_path, Said("", [head, *rows]))


@pytest.mark.parametrize("title", ["Weighing log", "Weigh days", "Cahier de pesée", "Pesages"])
def test_counts_under_a_title_for_weighings_are_loads(title: str, tmp_path: Path) -> None:
    """However few of the givers are known, for nothing was weighed that could teach a density."""
    rows = [[day, giver, "coffee", n] for day, giver, n in zip(DAYS, GIVERS, (2, 5, 1), strict=False)]  # fmt: skip
    writers.xlsx(
        tmp_path / "log.xlsx", {"Log": [[title], ["Date", "Kitchen", "Was", "Totes"], *rows]}
    )
    entries = read_with_plans(site(tmp_path), AS_OF)[0].entries
    assert [*entries["kind"]] == ["intake"] * 3
    assert [*entries["source"]] == list(GIVERS)
    assert [*entries["count"]] == [2, 5, 1]


DAYS_AS = {
    "numbers": "{0.month}/{0.day}/{0.year}",
    "iso": "{0:%Y-%m-%d}",
    "words": "{0:%b} {0.day}, {0.year}",
}
DAY_HEADS = ("Day picked up", "Collected", "Picked up", "Came in", "Ramassé", "Pickup")
BETWEEN = ("Holiday week", "ask Ana about the lids", "closed for the thaw", "(second page)")


@pytest.mark.parametrize("written", DAYS_AS)
@pytest.mark.parametrize("between", BETWEEN)
def test_a_load_of_a_month_keeps_its_own_day(between: str, written: str, tmp_path: Path) -> None:
    """However few there are in its month's file, and whatever stands between them."""
    for head in DAY_HEADS:
        rows = [[DAYS_AS[written].format(d("3-26")), "school", "coffee", 40], [between]]
        said = Said(head, [[head, "From", "What", "lb"], *rows], [("2025-03-26", SCHOOL, COFFEE, 40)], file="log March 2025.xlsx")  # fmt: skip
        (folder := tmp_path / head).mkdir()
        _holds(folder, said)


@pytest.mark.parametrize("all_of_it", ["All together", "Sum of it", "tout compris"])
@pytest.mark.parametrize("head", ["Day picked up", "Day", "Jour", "Date of pickup"])
def test_a_day_of_the_month_is_one_however_few_there_are_among_remarks_and_sums(
    head: str, all_of_it: str, tmp_path: Path
) -> None:
    for count in (1, 2):
        days = (12, 25)[:count]
        rows: list[list[Any]] = [
            [head, "From", "What", "lb"],
            *[[day, "school", "coffee", 40 + day] for day in days],
            ["Moved to the new yard"],
            ["ask Ana about the lids"],
            [all_of_it, None, None, sum(40 + day for day in days)],
        ]
        loads = [(f"2025-03-{day}", SCHOOL, COFFEE, 40 + day) for day in days]
        (folder := tmp_path / str(count)).mkdir()
        _holds(folder, Said(head, rows, loads, file="log March 2025.xlsx"))


@pytest.mark.parametrize("word", ["Voyage", "Trip", "Load", "Benne"])
@pytest.mark.parametrize(
    "meter", ["leaves, kilos à ce jour", "leaves (lb) jour après jour", "lb of leaves day by day"]
)
def test_a_meter_whose_words_speak_of_days_is_no_weekday(
    meter: str, word: str, tmp_path: Path
) -> None:
    rows = [
        [day, "hotel", "leaves", number, n]
        for day, number, n in zip(DAYS, FOR_EACH_DAY, SO_FAR, strict=True)
    ]
    head = ["Date", "Source", "Material", word, meter]
    _holds(tmp_path, Said("", [head, *rows]))


@pytest.mark.parametrize(
    "heads",
    [
        ("Bathroom scale (lb)", "Ticket lb"),
        ("Dock scale (lb)", "Notes"),
        ("Bathroom scale (lb)", "Covers"),
    ],
)
@pytest.mark.parametrize("whose", ["Dropped off by", "Delivered for"])
def test_a_scale_names_no_giver_where_a_column_names_who_came(
    whose: str, heads: tuple[str, str], tmp_path: Path
) -> None:
    names = ["hotel", *GIVERS, "school"]
    rows = [[day, name, "coffee", n, n] for day, name, n in zip(DAYS, names, POUNDS, strict=False)]
    loads = [
        (day.isoformat(), {"hotel": HOTEL, "school": SCHOOL}.get(name, name), COFFEE, n)
        for day, name, _, n, _ in rows
    ]
    _holds(tmp_path, Said(whose, [["Date", whose, "Material", *heads], *rows], loads))


@pytest.mark.parametrize("giver", ["hotel", "Pine Grove Cafe"])
@pytest.mark.parametrize("as_text", [True, False])
def test_a_load_between_a_title_and_the_next_is_one(
    giver: str, as_text: bool, tmp_path: Path
) -> None:
    rows: list[list[Any]] = []
    loads = []
    for what, day, n in zip(("coffee", "leaves", "food scraps"), DAYS, POUNDS, strict=False):
        rows += [
            [what],
            ["When", "Stop", "Amount"],
            [f"{day:%b} {day.day}, {day.year}" if as_text else day, giver, f"{n} lb"],
        ]
        named = {"coffee": COFFEE, "food scraps": FOOD}.get(what, what)
        loads.append((day.isoformat(), {"hotel": HOTEL}.get(giver, giver), named, n))
    _holds(tmp_path, Said(giver, rows, loads, must=True))


@pytest.mark.parametrize("file", ["What we kept out of the garbage", "Sold on compost"])
@pytest.mark.parametrize(
    ("sheet", "other", "what"), [("food scraps", "From", "hotel"), ("hotel", "What", "leaves")]
)
def test_what_a_giver_sold_of_all_it_had_is_no_product_and_no_disposal(
    sheet: str, other: str, what: str, file: str, tmp_path: Path
) -> None:
    rows = [
        [day, what, had, sold, had - sold]
        for day, had, sold in zip(DAYS, (90, 120, 150), (70, 80, 110), strict=False)
    ]
    head = ["Date", other, "On hand (lb)", "Sold (lb)", "Left (lb)"]
    _holds(tmp_path, Said("", [head, *rows], file=f"{file}.xlsx", sheet=sheet))


@pytest.mark.parametrize("heading", ["What", "Type of scraps", "Product"])
@pytest.mark.parametrize("file", ["What we kept out of the garbage", "Sold on compost"])
def test_nor_where_columns_name_the_giver_and_what_came_in(
    file: str, heading: str, tmp_path: Path
) -> None:
    rows = [
        [day, who, what, had, sold, had - sold]
        for day, who, what, had, sold in zip(
            DAYS, ("hotel", "school", "hotel"), ("leaves", "coffee", "leaves"), (90, 120, 150),
            (70, 80, 110), strict=False,
        )
    ]  # fmt: skip
    head = ["Date", "Where from", heading, "On hand (lb)", "Sold (lb)", "Left (lb)"]
    _holds(tmp_path, Said("", [head, *rows], file=f"{file}.xlsx", sheet="data"))


@pytest.mark.parametrize("carried", ["Carried over from last sheet", "Solde reporté", "as before"])
@pytest.mark.parametrize("written", DAYS_AS)
def test_words_beside_the_only_day_of_a_month_are_no_load_of_it(
    written: str, carried: str, tmp_path: Path
) -> None:
    for head in DAY_HEADS:
        rows = [[carried, None, 1598], [DAYS_AS[written].format(d("3-26")), "school", 179]]
        heads = [head, "Which site?", "food scraps (lb)"]
        loads = [("2025-03-26", SCHOOL, FOOD, 179)]
        (folder := tmp_path / head).mkdir()
        _holds(folder, Said(head, [heads, *rows], loads, file="log March 2025.xlsx"))
