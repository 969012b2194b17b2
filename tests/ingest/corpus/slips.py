"""Slips of the pen and unsure amounts: set aside, never read as another amount."""

from __future__ import annotations

import datetime as dt
from pathlib import Path

from divert.site.model import SheetRule

from . import writers
from .book import COFFEE, FOOD, HOTEL, LADLE, LB, OZ, SCHOOL, WEIGHED, YD3, Entry, Truth, case, day


@case("quantity unreadable", "slips in numbers")
def slips_in_a_weight_column(folder: Path) -> Truth:
    d = day("2025-03-03")
    slips = [
        "3O.5", "l2", "2 totse", "1O", "12,5O", "3..5", "1.2.3", "--4", "5 kgg", "7 ib", "6 pialls", "<5", "up to 5",
        "20 or 30", "20??", "3 (one half full)", "40+", "5-6",
    ]  # fmt: skip
    plain = [("33?", 33), ("'12", 12), ("30ish", 30), ("~ 14", 14), ("18 wet", 18), ("19 RT", 19)]
    rows = [[d, "hotel", "food scraps", text] for text in (*slips, *(t for t, _ in plain))]
    writers.xlsx(folder / "slips.xlsx", {"Log": [WEIGHED, *rows]})
    return Truth(
        [Entry(d, HOTEL, FOOD, kg=n * LB) for _, n in plain],
        aside={"quantity unreadable": len(slips)},
    )


@case("ways to write an amount")
def amounts_anyone_could_tell(folder: Path) -> Truth:
    d = day("2025-03-04")
    cells: list[tuple[str, dict[str, object]]] = [
        ("1 tote, ¾", {"count": 1, "container": "tote", "fill": 0.75}),
        ("tote 3/4", {"count": 1, "container": "tote", "fill": 0.75}),
        ("3 pails @ 3/4", {"count": 3, "container": "pail", "fill": 0.75}),
        ("2x totes", {"count": 2, "container": "tote"}),
        ("pail x 3", {"count": 3, "container": "pail"}),
        ("three (3) pails", {"count": 3, "container": "pail"}),
        ("a couple of pails", {"count": 2, "container": "pail"}),
        ("une dizaine de kg", {"kg": 10}),
        ("1 bac aux 2/3", {"count": 1, "container": "tote", "fill": 2 / 3}),
        ("1 bac rempli à 75 %", {"count": 1, "container": "tote", "fill": 0.75}),
        ("12lb8oz", {"kg": 12 * LB + 8 * OZ}),
        ("12 lb, 13 lb", {"kg": 25 * LB}),
        (
            "2 st 4 lb",
            {"kg": 32 * LB},
        ),  # a stone is 14 lb: Weights and Measures Act 1985, Schedule 1, from memory
        ("20 lb ea x 3", {"kg": 60 * LB}),
        ("a yard", {"m3": YD3}),
    ]
    rows = [[d, "hotel", "food scraps", text] for text, _ in cells]
    writers.xlsx(folder / "ways.xlsx", {"Log": [["Date", "Source", "Material", "Quantity"], *rows]})
    return Truth([Entry(d, HOTEL, FOOD, **said) for _, said in cells])  # type: ignore[arg-type]


@case("pounds and ounces in two columns")
def pounds_and_ounces(folder: Path) -> Truth:
    writers.xlsx(folder / "oz.xlsx", {"Log": [
        ["Date", "Source", "Material", "lb", "oz"],
        [day("2025-03-03"), "hotel", "food scraps", 20, 8],
        [day("2025-03-04"), "school", "food scraps", None, 12],
        [day("2025-03-05"), "school", "food scraps", 31, None],
    ]})  # fmt: skip
    return Truth([
        Entry(day("2025-03-03"), HOTEL, FOOD, kg=20 * LB + 8 * OZ),
        Entry(day("2025-03-04"), SCHOOL, FOOD, kg=12 * OZ),
        Entry(day("2025-03-05"), SCHOOL, FOOD, kg=31 * LB),
    ])  # fmt: skip


@case("two weights of one load")
def two_weights_of_one_load(folder: Path) -> Truth:
    d = day("2025-03-03")
    writers.xlsx(folder / "weights.xlsx", {
        "Guessed": [["Date", "Source", "Material", "Est. weight (lb)", "Actual weight (lb)"],
                    [d, "hotel", "food scraps", 20, 22], [d, "school", "food scraps", 30, None]],
        "Goals": [["Date", "Source", "Material", "Weight (lb)", "YTD (lb)", "Goal (lb)", "Last year (lb)", "CO2e saved (lb)"],
                  [d, "ladle", "coffee", 23, 23, 100, 18, 20]],
        "Corrected": [["Date", "Source", "Material", "Weight (lb)", "Corrected weight (lb)"],
                      [d, "hotel", "leaves", 20, 25], [d, "school", "leaves", 11, None]],
        "Truck": [["Date", "Source", "Material", "Weight in (lb)", "Weight out (lb)"], [d, "hotel", "leaves", 5200, 4800]],
        "Scale": [["Date", "Source", "Material", "Gross (lb)", "Tare (lb)", "Net (lb)"],
                  [d, "hotel", "food scraps", 60, 10, 50], [d, "school", "food scraps", 60, 10, 61], [d, "ladle", "food scraps", 60, 10, 40]],
    })  # fmt: skip
    return Truth([
        Entry(d, HOTEL, FOOD, kg=22 * LB),
        Entry(d, SCHOOL, FOOD, kg=30 * LB),
        Entry(d, LADLE, COFFEE, kg=23 * LB),
        Entry(d, HOTEL, "leaves", kg=25 * LB),
        Entry(d, SCHOOL, "leaves", kg=11 * LB),
        Entry(d, HOTEL, "leaves", kg=400 * LB),
        Entry(d, HOTEL, FOOD, kg=50 * LB),
    ], aside={"quantity unreadable": 2})  # fmt: skip


@case("ticks where amounts should be", "no quantity")
def ticks(folder: Path) -> Truth:
    writers.xlsx(folder / "ticks.xlsx", {"2025": [
        ["Date", "School", "Hotel", "Copper Ladle"],
        [day("2025-03-03"), "x", "12 lb", None],
        [day("2025-03-10"), None, "x", "-"],
    ]})  # fmt: skip
    return Truth([], aside={"no quantity": 2, "no material": 1}, skipped={"nothing delivered": 1})


@case("dates turned round by the spreadsheet program", "date order asked")
def half_converted_dates(folder: Path) -> Truth:
    # Typed 01/04, 04/04, 08/04 and 11/04 (day first) into a program that expects the month first.
    dates: list[object] = [
        dt.date(2025, 1, 4), dt.date(2025, 4, 4), dt.date(2025, 8, 4), dt.date(2025, 11, 4),
        "14/04/2025", "17/04/2025", "22/04/2025",
    ]  # fmt: skip
    rows = [[d, "hotel", "food scraps", 20 + i] for i, d in enumerate(dates)]
    writers.xlsx(folder / "half.xlsx", {"Log": [WEIGHED, *rows]})
    return Truth([
        Entry(day("2025-04-04"), HOTEL, FOOD, kg=21 * LB),
        Entry(day("2025-04-14"), HOTEL, FOOD, kg=24 * LB),
        Entry(day("2025-04-17"), HOTEL, FOOD, kg=25 * LB),
        Entry(day("2025-04-22"), HOTEL, FOOD, kg=26 * LB),
    ], aside={"date order ambiguous": 3})  # fmt: skip


@case("money in another currency", "hours by the clock")
def money_and_hours(folder: Path) -> Truth:
    writers.text(folder / "Sales.csv", [["Date", "Product", "Bags", "Takings (USD)"], ["2025-03-03", "compost", "3", "45"], ["2025-03-04", "castings", "2", "€40.50"]])  # fmt: skip
    writers.text(folder / "Spending.csv", [["Date", "What for", "Amount"], ["2025-03-05", "straw", "$ 1,020.00"], ["2025-03-06", "bus", "$12"]])  # fmt: skip
    writers.text(folder / "Volunteer hours.csv", [["Date", "Name", "Hours"], ["2025-03-07", "Ann", "2h30"], ["2025-03-08", "Bo", "2:15"]])  # fmt: skip
    return Truth([
        Entry(day("2025-03-03"), kind="sale", name="finished compost", count=3, container="bag", unit="bag", amount=45, currency="USD"),
        Entry(day("2025-03-04"), kind="sale", name="worm castings", count=2, container="bag", unit="bag", amount=40.5, currency="EUR"),
        Entry(day("2025-03-05"), kind="activity", name="spent", amount=1020, currency="USD"),
        Entry(day("2025-03-06"), kind="activity", name="spent", amount=12, currency="USD"),
        Entry(day("2025-03-07"), kind="activity", name="volunteer hours", amount=2.5, unit="hours"),
        Entry(day("2025-03-08"), kind="activity", name="volunteer hours", amount=2.25, unit="hours"),
    ], codes=("money in another currency",))  # fmt: skip


@case("nothing removed", "removed")
def nothing_removed(folder: Path) -> Truth:
    writers.xlsx(folder / "picked.xlsx", {"Contamination": [
        ["Date", "Source", "Removed (lb)"], [day("2025-03-03"), "hotel", 0], [day("2025-03-04"), "hotel", 2], [day("2025-03-05"), "school", "none"],
    ]})  # fmt: skip
    return Truth([
        Entry(day("2025-03-03"), HOTEL, kg=0, kind="removed"),
        Entry(day("2025-03-04"), HOTEL, kg=2 * LB, kind="removed"),
        Entry(day("2025-03-05"), SCHOOL, kg=0, kind="removed"),
    ])  # fmt: skip


@case("of two equal files the one that is meant", "exact copy of a file")
def copy_first_by_name(folder: Path) -> Truth:
    rows = [["When", "Who", "What", "Amt"], [day("2025-03-03"), "hotel", "food scraps", 20]]
    writers.xlsx(folder / "z.xlsx", {"S": rows})
    (folder / "a copy of z.xlsx").write_bytes((folder / "z.xlsx").read_bytes())
    rule = SheetRule("z.xlsx", None, None, (), (("quantity", "kg"),))
    gone = SheetRule("y.xlsx", None, "intake", (), ())
    return Truth(
        [Entry(day("2025-03-03"), HOTEL, FOOD, kg=20)],
        aside={"exact copy of a file": 1},
        codes=("sheet not read",),  # y.xlsx is not in the folder
        site={"sheets": (rule, gone)},
    )


@case("points and commas that contradict each other")
def separators_that_clash(folder: Path) -> Truth:
    d = day("2025-03-03")
    head = ["Date", "Source", "Material", "Weight (kg)"]
    texts = ["1.250", "12,5", "1 250", "12.5"]
    rows = [[d, "hotel", "food scraps", text] for text in texts]
    writers.xlsx(folder / "mixed.xlsx", {"Log": [head, *rows]})
    # Half of the column writes decimals with a comma, half with a point: 1.250 could be either.
    return Truth(
        [Entry(d, HOTEL, FOOD, kg=kg) for kg in (12.5, 1250, 12.5)],
        aside={"quantity unreadable": 1},
    )


@case("wide by source", "amounts as text under a source's name")
def amounts_in_words_across(folder: Path) -> Truth:
    writers.xlsx(folder / "across.xlsx", {"2025": [
        ["Food scraps"],
        ["Date", "School", "Hotel", "Copper Ladle"],
        [day("2025-03-03"), "10 lb", "2 pails", None],
        [day("2025-03-10"), "1 tote", "12 lb (late)", "9 lb"],
    ]})  # fmt: skip
    one, two = day("2025-03-03"), day("2025-03-10")
    return Truth([
        Entry(one, SCHOOL, FOOD, kg=10 * LB),
        Entry(one, HOTEL, FOOD, count=2, container="pail"),
        Entry(two, SCHOOL, FOOD, count=1, container="tote"),
        Entry(two, HOTEL, FOOD, kg=12 * LB),
        Entry(two, LADLE, FOOD, kg=9 * LB),
    ])  # fmt: skip
