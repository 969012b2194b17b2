"""Headings over several rows, months and weekdays across, and rows of entries in nothing but words."""

from __future__ import annotations

from pathlib import Path

from . import writers
from .book import COFFEE, FOOD, HOTEL, LADLE, LB, LEAVES, SCHOOL, Entry, Truth, case, day


@case("entries in words only", "text numbers")
def rows_of_words(folder: Path) -> Truth:
    writers.text(folder / "long dates.csv", [
        ["Date", "Source", "Material", "Amount", "How full"],
        ["March 3, 2025", "School", "food scraps", "three totes", "half"],
        ["March 4, 2025", "Hotel", "food scraps", "850 g", ""],
        ["lun. 10 mars 2025", "Hotel", "coffee", "un seau", "plein"],
    ])  # fmt: skip
    writers.xlsx(folder / "log.xlsx", {"April 2025": [
        ["Day", "Source", "Material", "Amount"],
        ["Mon 7", "School", "food scraps", "three pails"],
        ["mardi 8", "Hotel", "coffee", "1 tote"],
        ["1er", "School", "food scraps", "½ pail"],
    ]})  # fmt: skip
    return Truth([
        Entry(day("2025-03-03"), SCHOOL, FOOD, count=3, container="tote", fill=0.5),
        Entry(day("2025-03-04"), HOTEL, FOOD, kg=0.85),
        Entry(day("2025-03-10"), HOTEL, COFFEE, count=1, container="pail", fill=1.0),
        Entry(day("2025-04-07"), SCHOOL, FOOD, count=3, container="pail"),
        Entry(day("2025-04-08"), HOTEL, COFFEE, count=1, container="tote"),
        Entry(day("2025-04-01"), SCHOOL, FOOD, count=1, container="pail", fill=0.5),
    ], skipped={"heading": 2})  # fmt: skip


@case("three-line headings", "merged headings")
def three_lines_of_heading(folder: Path) -> Truth:
    writers.xlsx(folder / "three.xlsx", {"Log": [
        [None, "Intake (lb)", None, None, None],
        [None, "School", None, "Hotel", None],
        ["Date", "Food scraps", "Leaves", "Coffee", "Food scraps"],
        [day("2025-06-02"), 56, 4, 20, None],
        [day("2025-06-09"), 60, None, 18, 7],
    ]}, merge={"Log": ["B1:E1", "B2:C2", "D2:E2"]})  # fmt: skip
    return Truth([
        Entry(day("2025-06-02"), SCHOOL, FOOD, kg=56 * LB),
        Entry(day("2025-06-02"), SCHOOL, LEAVES, kg=4 * LB),
        Entry(day("2025-06-02"), HOTEL, COFFEE, kg=20 * LB),
        Entry(day("2025-06-09"), SCHOOL, FOOD, kg=60 * LB),
        Entry(day("2025-06-09"), HOTEL, COFFEE, kg=18 * LB),
        Entry(day("2025-06-09"), HOTEL, FOOD, kg=7 * LB),
    ])  # fmt: skip


@case("months in rows of their own", "groups under a heading")
def month_rows(folder: Path) -> Truth:
    writers.xlsx(folder / "log 2025.xlsx", {
        "By month": [["Day", "Source", "Material", "lb"], ["MARCH"], [3, "School", "food scraps", 20], [10, "Hotel", "coffee", 11],
                     ["APRIL"], [4, "School", "food scraps", 21]],
        "By source": [["Source / date", "Material", "lb"], ["School"], [day("2025-05-05"), "food scraps", 30], ["Hotel"], [day("2025-05-06"), "coffee", 12]],
    })  # fmt: skip
    return Truth([
        Entry(day("2025-03-03"), SCHOOL, FOOD, kg=20 * LB),
        Entry(day("2025-03-10"), HOTEL, COFFEE, kg=11 * LB),
        Entry(day("2025-04-04"), SCHOOL, FOOD, kg=21 * LB),
        Entry(day("2025-05-05"), SCHOOL, FOOD, kg=30 * LB),
        Entry(day("2025-05-06"), HOTEL, COFFEE, kg=12 * LB),
    ])  # fmt: skip


@case("month over sources, day down")
def month_over_sources(folder: Path) -> Truth:
    writers.xlsx(folder / "2025.xlsx", {"Grid": [
        ["Food scraps in pounds"],
        [None, "March", None, "April", None],
        ["Day", "School", "Hotel", "School", "Hotel"],
        [3, 20, 30, 21, 31],
        [10, 22, None, 23, 33],
        ["Total", 42, 30, 44, 64],
    ]}, merge={"Grid": ["B2:C2", "D2:E2"]})  # fmt: skip
    said = [(3, SCHOOL, 20), (3, HOTEL, 30), (10, SCHOOL, 22)]
    later = [(3, SCHOOL, 21), (3, HOTEL, 31), (10, SCHOOL, 23), (10, HOTEL, 33)]
    return Truth(
        [Entry(day(f"2025-03-{d:02}"), s, FOOD, kg=lb * LB) for d, s, lb in said]
        + [Entry(day(f"2025-04-{d:02}"), s, FOOD, kg=lb * LB) for d, s, lb in later]
    )


@case("weekday grid with a total", "weekdays across")
def weekday_grid(folder: Path) -> Truth:
    writers.xlsx(folder / "school.xlsx", {"School 2025": [
        ["Food scraps in lb"],
        ["Week of", "Mon", "Tue", "Wed", "Thu", "Fri", "Total"],
        [day("2025-03-03"), 10, 11, 12, 13, 14, 60],
        [day("2025-03-10"), 9, None, "closed", 8, 7, 24],
    ]})  # fmt: skip
    first = [Entry(day(f"2025-03-0{3 + n}"), SCHOOL, FOOD, kg=(10 + n) * LB) for n in range(5)]
    return Truth([
        *first,
        Entry(day("2025-03-10"), SCHOOL, FOOD, kg=9 * LB),
        Entry(day("2025-03-13"), SCHOOL, FOOD, kg=8 * LB),
        Entry(day("2025-03-14"), SCHOOL, FOOD, kg=7 * LB),
    ], skipped={"closed": 1, "total or subtotal": 2})  # fmt: skip


@case("dates across as text", "date order settled by site.toml")
def text_dates_across(folder: Path) -> Truth:
    writers.xlsx(folder / "hotel 2025.xlsx", {"Hotel": [
        ["Pails", "3/4", "10/4", "17/4"],
        ["Food scraps", 2, 3, 1],
        ["Coffee", 1, 1.5, None],
    ]})  # fmt: skip
    writers.xlsx(folder / "ladle 2025.xlsx", {"Copper Ladle": [
        ["Pails", "5/6", "6/7", "7/8"],
        ["Coffee", 4, 5, 6],
    ]})  # fmt: skip
    return Truth([
        Entry(day("2025-04-03"), HOTEL, FOOD, count=2, container="pail"),
        Entry(day("2025-04-10"), HOTEL, FOOD, count=3, container="pail"),
        Entry(day("2025-04-17"), HOTEL, FOOD, count=1, container="pail"),
        Entry(day("2025-04-03"), HOTEL, COFFEE, count=1, container="pail"),
        Entry(day("2025-04-10"), HOTEL, COFFEE, count=1.5, container="pail"),
        Entry(day("2025-06-05"), LADLE, COFFEE, count=4, container="pail"),
        Entry(day("2025-07-06"), LADLE, COFFEE, count=5, container="pail"),
        Entry(day("2025-08-07"), LADLE, COFFEE, count=6, container="pail"),
    ], codes=("date order settled by site.toml",), site={"dates": "day first"})  # fmt: skip


@case("heading printed once more under blank dates", "headings repeated down the page")
def entries_above_a_repeated_heading(folder: Path) -> Truth:
    head = ["Date", "From", "Material", "Quantity"]
    writers.xlsx(folder / "pages.xlsx", {"Log": [
        head,
        [day("2025-03-03"), "hotel", "food scraps", "40 lb"],
        [None, "school", "food scraps", "3 totes"],
        [None, "ladle", "coffee", "12 lb"],
        head,
        [day("2025-03-10"), "hotel", "food scraps", "2 totes"],
        [None, "ladle", "coffee", "14 lb"],
    ]})  # fmt: skip
    one, two = day("2025-03-03"), day("2025-03-10")
    return Truth([
        Entry(one, HOTEL, FOOD, kg=40 * LB),
        Entry(one, SCHOOL, FOOD, count=3, container="tote"),
        Entry(one, LADLE, COFFEE, kg=12 * LB),
        Entry(two, HOTEL, FOOD, count=2, container="tote"),
        Entry(two, LADLE, COFFEE, kg=14 * LB),
    ], skipped={"heading": 2})  # fmt: skip


@case("a title says what all amounts count", "count and average rows")
def title_names_the_container(folder: Path) -> Truth:
    writers.xlsx(folder / "buckets.xlsx", {"Sheet1": [
        ["All quantities are 5 gallon buckets unless noted"],
        ["Date", "Source", "Material", "Qty"],
        [day("2025-03-03"), "hotel", "food scraps", 3],
        [day("2025-03-04"), "school", "food scraps", "2 totes"],
        [day("2025-03-05"), "ladle", "coffee", 1],
        ["Average", None, None, 2],
        ["Count", None, None, 3],
    ]})  # fmt: skip
    return Truth([
        Entry(day("2025-03-03"), HOTEL, FOOD, count=3, container="pail"),
        Entry(day("2025-03-04"), SCHOOL, FOOD, count=2, container="tote"),
        Entry(day("2025-03-05"), LADLE, COFFEE, count=1, container="pail"),
    ], skipped={"total or subtotal": 2})  # fmt: skip


@case("a unit column without a heading", "unit column")
def unheaded_unit_column(folder: Path) -> Truth:
    writers.xlsx(folder / "amounts.xlsx", {"Log": [
        ["Date", "Source", "Material", "Amount", None],
        [day("2025-03-03"), "hotel", "food scraps", 3, "pails"],
        [day("2025-03-04"), "ladle", "coffee", 12, "lb"],
        [day("2025-03-05"), "ladle", "coffee", 13, '"'],
    ]}, merge={"Log": ["D1:E1"]})  # fmt: skip
    return Truth([
        Entry(day("2025-03-03"), HOTEL, FOOD, count=3, container="pail"),
        Entry(day("2025-03-04"), LADLE, COFFEE, kg=12 * LB),
        Entry(day("2025-03-05"), LADLE, COFFEE, kg=13 * LB),
    ])  # fmt: skip


@case("xlsb")
def binary_workbook(folder: Path) -> Truth:
    writers.xlsb(folder / "yard.xlsb", {"2025": [
        ["Date", "Donor", "Stream", "Net weight (kg)"],
        [day("2025-03-03"), "hotel", "food scraps", 41.5],
        [day("2025-03-10"), "school", "leaves", 12],
        ["Total", None, None, 53.5],
    ]})  # fmt: skip
    return Truth([
        Entry(day("2025-03-03"), HOTEL, FOOD, kg=41.5),
        Entry(day("2025-03-10"), SCHOOL, LEAVES, kg=12),
    ], skipped={"total or subtotal": 1})  # fmt: skip
