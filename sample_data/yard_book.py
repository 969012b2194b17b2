"""The yard book of the made-up site: weigh-ins, harvests, screenings, fuel, sales, people, money."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator, Sequence
from pathlib import Path
from random import Random

import deliveries as true
import xlsxwriter
from cells import put

HERE = Path(__file__).parent
DESTINATIONS = (
    "bagged for the plant sale",
    "school gardens",
    "curing",
    "own beds",
    "school gardens",
)
NEW_PAILS = dt.date(2025, 4, 1)  # a little heavier than the old ones
BAGS_SOLD = ((2024, 9, 4, 22), (2025, 4, 16, 31), (2025, 5, 3, 46), (2025, 9, 12, 25),
             (2026, 4, 8, 38), (2026, 5, 6, 52))  # fmt: skip
Table = tuple[str, str, Sequence[str], list[list[object]]]


def months() -> Iterator[dt.date]:
    """Return the first day of every month of the two years and a quarter."""
    for count in range(27):
        at = true.START.month - 1 + count
        yield dt.date(true.START.year + at // 12, at % 12 + 1, 1)


def weigh_ins(random: Random) -> list[list[object]]:
    """Return loads weighed in their container, with the fill read as well as one can."""
    rows: list[list[object]] = []
    plan = (("kitchen scraps", "tote", 6.5, 18, 16), ("coffee grounds", "pail", 1.9, 5, 5),
            ("juice pulp", "tote", 6.5, 18, 2))  # fmt: skip
    for material, container, tare, gallons, times in plan:
        for number in range(times):
            count = 1 + int(random.random() * 2)
            fill = (1.0, 0.75, 1.0, 0.5)[number % 4]
            full = max(0.1, fill + true.between(random, -0.11, 0.07))
            pounds = true.POUNDS_PER_GALLON[material] * gallons * count * full
            pounds *= true.between(random, 0.92, 1.08)
            day = true.START + dt.timedelta(days=20 + number * (700 // times))
            if container == "pail" and day >= NEW_PAILS:
                tare = 2.1
            shown = {1.0: "full", 0.75: "3/4", 0.5: "half"}[fill]
            rows.append(
                [day, material, container, count, shown, true.halves(pounds + count * tare), "RT"]
            )
    return sorted(rows, key=lambda row: row[0])  # type: ignore[arg-type, return-value]


def harvests(random: Random) -> list[list[object]]:
    """Return castings out of the beds, a good fifth of what went in, some months without."""
    rows: list[list[object]] = []
    for number, first in enumerate(months()):
        if number < 3 or number % 5 == 4:
            continue
        growth = 1 + 0.008 * number
        day = first + dt.timedelta(days=int(random.random() * 25))
        pounds = round(true.between(random, 420, 760) * growth / 5) * 5
        rows.append([day, "worm castings", None, pounds, DESTINATIONS[number % 5]])
        if number % 3 == 0:
            yards = round(true.between(random, 0.4, 0.9), 2)
            rows.append([day + dt.timedelta(days=2), "compost", yards, None, "own beds"])
    return rows


def yard_tables() -> Iterator[Table]:
    """Return (sheet name, title, headings, rows) of every sheet of the yard book."""
    random = Random(4)
    yield ("Weigh-ins", "Density days", ("Date", "What", "Container", "How many", "How full",
           "Gross (lb)", "By"), weigh_ins(random))  # fmt: skip
    yield ("Harvest", "Out of the beds", ("Date", "Product", "Volume (yd3)", "Weight (lb)",
           "Went to"), harvests(random))  # fmt: skip
    screened = [[first + dt.timedelta(days=20), halves(random, 38, 88), "oversize, bones, stickers"]
                for number, first in enumerate(months()) if number % 6]  # fmt: skip
    yield "Screenings", "Thrown out after the screen", ("Date", "Weight (lb)", "Notes"), screened
    pulled = [[first + dt.timedelta(days=day), source, halves(random, 3, 14)]
              for first in months()
              for day, source in ((8, "school"), (14, "co-op"), (20, "Fernside"))
              if source != "school" or first.month not in (7, 8)]  # fmt: skip
    yield "Trash pulled", "", ("Date", "From", "Weight (lb)"), pulled
    away = [[dt.date(2024, 9, 18), "school", "kitchen scraps", 38, "glass in it"],
            [dt.date(2025, 10, 7), "juice bar", "juice pulp", 44, "plastic sleeves in it"]]  # fmt: skip
    yield "Turned away", "", ("Date", "From", "What", "Weight (lb)", "Why"), away
    fuel = [[first + dt.timedelta(days=4 + number % 9), "diesel" if number % 3 else "gasoline",
             round(true.between(random, 3, 9), 1)] for number, first in enumerate(months())]  # fmt: skip
    yield "Fuel", "Pickup and chipper", ("Date", "Fuel", "Gallons"), fuel
    sales = [[dt.date(year, month, 10 + day), "worm castings", bags, bags * 9]
             for year, month, day, bags in BAGS_SOLD]  # fmt: skip
    yield "Plant sale", "", ("Date", "Product", "Bags", "Takings ($)"), sales
    dumpster = [[first + dt.timedelta(days=13), "own rubbish", halves(random, 60, 140)]
                for first in months()]  # fmt: skip
    yield "Dumpster", "Our own rubbish, hauled", ("Date", "What", "Weight (lb)"), dumpster
    people: list[list[object]] = []
    spent: list[list[object]] = []
    for number, first in enumerate(months()):
        saturday = first + dt.timedelta(days=(5 - first.weekday()) % 7)
        hours = round(true.between(random, 26, 58) * 2) / 2
        people.append([saturday, "volunteer hours", hours, "hours"])
        if number % 2 == 0:
            visitors = int(true.between(random, 8, 31))
            people.append(
                [saturday + dt.timedelta(days=7), "workshop visitors", visitors, "people"]
            )
        spent.append([first + dt.timedelta(days=27), ("bags and labels", "pails", "bedding",
                      "fuel and repairs")[number % 4], halves(random, 90, 340)])  # fmt: skip
    yield "Volunteers", "", ("Date", "Activity", "Amount", "Unit"), people
    yield "Spending", "", ("Date", "What for", "Spent ($)"), spent


def halves(random: Random, low: float, high: float) -> float:
    """Return an even draw rounded to a half."""
    return true.halves(true.between(random, low, high))


def write_yard_book() -> None:
    """Write the yard book, a sheet for each kind of entry."""
    book = xlsxwriter.Workbook(str(HERE / "Yard book.xlsx"))
    book.set_properties({"created": dt.datetime(2024, 4, 1)})
    day = book.add_format({"num_format": "yyyy-mm-dd"})
    for name, title, headings, rows in yard_tables():
        sheet = book.add_worksheet(name)
        sheet.set_column(0, len(headings), 16)
        at = 0
        if title:
            sheet.write_string(0, 0, title)
            at = 2
        sheet.write_row(at, 0, headings)
        for number, row in enumerate(rows, start=at + 1):
            put(sheet, number, row, day)
    book.close()
