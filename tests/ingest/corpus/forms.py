"""Forms filled on a telephone, kitchens' tallies, breweries' books: headings in whole sentences and titles
that say what is left out below."""

from __future__ import annotations

import datetime as dt
from pathlib import Path

from divert.site.model import Container

from . import writers
from .book import COFFEE, FOOD, HOTEL, LADLE, LB, SCHOOL, Entry, L, Truth, case, day


@case("dates as text", "a form's own date beside the day of the load")
def answers_to_a_form(folder: Path) -> Truth:
    head = [
        "Timestamp", "Your name", "Date of pickup", "Which site did you collect from?", "What type of material?",
        "How many containers?", "What kind of container?", "Weight in pounds (if weighed)",
    ]  # fmt: skip
    rows = [
        ["03/04/2025 16:05:12", "Ana", "03/03/2025", "hotel", "food scraps", "", "", "23"],
        ["03/14/2025 16:05:12", "Bo", "03/13/2025", "school", "coffee", "2", "pail", ""],
    ]
    writers.text(folder / "Drop-off (Responses).csv", [head, *rows])
    return Truth([
        Entry(day("2025-03-03"), HOTEL, FOOD, kg=23 * LB),
        Entry(day("2025-03-13"), SCHOOL, COFFEE, count=2, container="pail"),
    ], site={"dates": "month first"})  # fmt: skip


@case("units in headings", "spent grain")
def a_brewery(folder: Path) -> Truth:
    a, b = day("2025-03-04"), day("2025-03-11")
    writers.xlsx(folder / "Grain tracker.xlsx", {"Batches": [
        ["Spent grain from the Copper Ladle"],
        ["Batch", "Brew date", "Beer", "Spent grain out (lb)", "Picked up by"],
        ["B-101", a, "IPA", 304, "kp"],
        ["B-102", b, "Porter", 302, "kp"],
    ]})  # fmt: skip
    return Truth(
        [
            Entry(a, LADLE, "brewery spent grain", kg=304 * LB),
            Entry(b, LADLE, "brewery spent grain", kg=302 * LB),
        ]
    )


@case("dates across", "days of a month across")
def a_kitchens_tally(folder: Path) -> Truth:
    days = list(range(1, 32))
    row = [2, ".5", None, 1, *[None] * 27]
    other = [None, None, 1, *[None] * 28]
    writers.text(folder / "log.csv", [
        ["March 2025 - pails of food scraps"],
        ["Source", *days, "Total"],
        ["", *["S", "S", "M", "T", "W", "T", "F"] * 4, "S", "S", "M"],
        ["hotel", *row, 3.5],
        ["school", *other, 1],
    ])  # fmt: skip
    writers.xlsx(folder / "School 2025 coffee (lb).xlsx", {"Sheet1": [
        ["Month", *days], ["April", 11, *[None] * 30], ["May", None, 12, *[None] * 29],
    ]})  # fmt: skip
    march = [(1, HOTEL, 2), (2, HOTEL, 0.5), (4, HOTEL, 1), (3, SCHOOL, 1)]
    return Truth([
        *(
            Entry(dt.date(2025, 3, d), s, FOOD, count=max(1, n), container="pail", fill=n if n < 1 else None)
            for d, s, n in march
        ),
        Entry(day("2025-04-01"), SCHOOL, COFFEE, kg=11 * LB),
        Entry(day("2025-05-02"), SCHOOL, COFFEE, kg=12 * LB),
    ])  # fmt: skip


@case("dates across", "days of a month across", "no date")
def a_tally_of_some_month(folder: Path) -> Truth:
    row = [2, *[None] * 30]
    writers.xlsx(
        folder / "tally.xlsx",
        {"Pails": [["Food scraps, pails"], ["Source", *range(1, 32)], ["hotel", *row]]},
    )
    return Truth([], aside={"no date": 1})


@case("title rows above", "units in titles")
def titles_that_say_the_rest(folder: Path) -> Truth:
    first, week = day("2025-03-03"), day("2025-03-10")
    writers.xlsx(folder / "school.xlsx", {"Sheet1": [
        ["Quillmarsh food scraps, lbs per day"],
        ["Week of", "Mon", "Tue"],
        [first, 27, None], [week, None, 5],
    ]})  # fmt: skip
    writers.xlsx(folder / "weeks.xlsx", {"Sheet1": [
        ["Coffee (lb)", day("2025-04-07"), day("2025-04-14"), day("2025-04-21")],
        ["hotel", 54, None, 25], ["ladle", None, 43, 9], ["Total", 54, 43, 34],
    ]})  # fmt: skip
    return Truth([
        Entry(first, SCHOOL, FOOD, kg=27 * LB),
        Entry(day("2025-03-11"), SCHOOL, FOOD, kg=5 * LB),
        Entry(day("2025-04-07"), HOTEL, COFFEE, kg=54 * LB),
        Entry(day("2025-04-21"), HOTEL, COFFEE, kg=25 * LB),
        Entry(day("2025-04-14"), LADLE, COFFEE, kg=43 * LB),
        Entry(day("2025-04-21"), LADLE, COFFEE, kg=9 * LB),
    ])  # fmt: skip


@case("carried-down dates", "headings that ask")
def a_festival(folder: Path) -> Truth:
    writers.xlsx(folder / "stalls.xlsx", {"2025": [
        ["Time", "Stall", "Waste", "Bins", "Full?"],
        ["Friday 11 July 2025"],
        ["10:30", "hotel", "food scraps", "3 wheelie bins", "half"],
        ["11:30", "school", "food scraps", "1 wheelie bin", "full"],
        ["Saturday 12 July 2025"],
        ["10:30", "hotel", "food scraps", "2 caddies", "half"],
    ]})  # fmt: skip
    boxes = (Container("wheelie bin", (), 240 * L, 11.0), Container("caddy", (), 23 * L, 1.0))
    one, two = day("2025-07-11"), day("2025-07-12")
    return Truth([
        Entry(one, HOTEL, FOOD, count=3, container="wheelie bin", fill=0.5),
        Entry(one, SCHOOL, FOOD, count=1, container="wheelie bin", fill=1),
        Entry(two, HOTEL, FOOD, count=2, container="caddy", fill=0.5),
    ], site={"containers": boxes})  # fmt: skip


@case("dates across", "several tables on one sheet", "days of a month across")
def tallies_one_under_the_other(folder: Path) -> Truth:
    def month(title: str, last: int, amounts: dict[int, int]) -> list[list[object]]:
        days = range(1, last + 1)
        return [[title], ["Source", *days], ["hotel", *(amounts.get(d) for d in days)], []]

    rows = [
        *month("January 2025 - food scraps (lb)", 31, {2: 11, 31: 12}),
        *month("February 2025 - food scraps (lb)", 28, {2: 13}),
        *month("March 2025 - lbs of coffee", 31, {2: 14, 3: 15}),
    ]
    writers.xlsx(folder / "log.xlsx", {"2025": rows})
    said = [
        ("2025-01-02", FOOD, 11),
        ("2025-01-31", FOOD, 12),
        ("2025-02-02", FOOD, 13),
        ("2025-03-02", COFFEE, 14),
        ("2025-03-03", COFFEE, 15),
    ]
    return Truth([Entry(day(d), HOTEL, m, kg=lb * LB) for d, m, lb in said])


@case("headings that ask")
def questions_for_headings(folder: Path) -> Truth:
    writers.text(folder / "form.csv", [
        ["Timestamp", "When did you pick up?", "Who is it from?", "What was it?", "How many pounds?"],
        ["03/04/2025 16:05:12", "03/03/2025", "hotel", "food scraps", "23"],
    ])  # fmt: skip
    return Truth([Entry(day("2025-03-03"), HOTEL, FOOD, kg=23 * LB)])
