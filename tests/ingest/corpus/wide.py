"""Wide tables: materials, sources, containers, dates or weekdays across."""

from __future__ import annotations

from pathlib import Path

from . import writers
from .book import (
    COFFEE,
    FOOD,
    HOTEL,
    LADLE,
    LB,
    LEAVES,
    SCHOOL,
    Entry,
    Truth,
    case,
    day,
)  # fmt: skip


@case("wide by material", "one sheet per source", "n/a", "-", "closed")
def one_sheet_per_source(folder: Path) -> Truth:
    writers.xlsx(folder / "by kitchen.xlsx", {
        "Harborside Hotel": [["All weights in lb"], ["Date", "Food scraps", "Coffee grounds", "Leaves", "Total"],
                             [day("2025-03-03"), 100, 12, None, 112], [day("2025-03-04"), "n/a", 11, "-", 11], [day("2025-03-05"), "closed", None, None, 0]],
        "Quillmarsh": [["Weights in kg"], ["Date", "Food scraps", "Leaves"], [day("2025-03-03"), 45.5, 10], [day("2025-03-10"), 44, None]],
    })  # fmt: skip
    return Truth([
        Entry(day("2025-03-03"), HOTEL, FOOD, kg=100 * LB),
        Entry(day("2025-03-03"), HOTEL, COFFEE, kg=12 * LB),
        Entry(day("2025-03-04"), HOTEL, COFFEE, kg=11 * LB),
        Entry(day("2025-03-03"), SCHOOL, FOOD, kg=45.5),
        Entry(day("2025-03-03"), SCHOOL, LEAVES, kg=10),
        Entry(day("2025-03-10"), SCHOOL, FOOD, kg=44),
    ], skipped={"nothing delivered": 2, "closed": 1, "total or subtotal": 3, "heading": 2, "note": 2})  # fmt: skip


@case("wide by source", "dates down")
def sources_across(folder: Path) -> Truth:
    writers.xlsx(folder / "food.xlsx", {"Food scraps": [
        ["Food scraps collected, number of totes"],
        [],
        ["Date", "School", "Hotel", "Copper Ladle", "All"],
        [day("2025-03-03"), 2, 3, 1, 6],
        [day("2025-03-04"), 0, 4, "none", 4],
        [day("2025-03-05"), 1.5, "3 pails", "½", None],
    ]})  # fmt: skip
    return Truth([
        Entry(day("2025-03-03"), SCHOOL, FOOD, count=2, container="tote"),
        Entry(day("2025-03-03"), HOTEL, FOOD, count=3, container="tote"),
        Entry(day("2025-03-03"), LADLE, FOOD, count=1, container="tote"),
        Entry(day("2025-03-04"), HOTEL, FOOD, count=4, container="tote"),
        Entry(day("2025-03-05"), SCHOOL, FOOD, count=1.5, container="tote"),
        Entry(day("2025-03-05"), HOTEL, FOOD, count=3, container="pail"),
        Entry(day("2025-03-05"), LADLE, FOOD, count=1, container="tote", fill=0.5),
    ], skipped={"nothing delivered": 2, "total or subtotal": 2})  # fmt: skip


@case("source over two columns each")
def pairs_under_sources(folder: Path) -> Truth:
    writers.xlsx(folder / "pairs.xlsx", {"Food waste": [
        ["", "Quillmarsh School", None, "Harborside Hotel", None, ""],
        ["Date", "pails", "lb", "pails", "lb", "Notes"],
        [day("2025-03-03"), 3, 60, 5, 101, None],
        [day("2025-03-04"), 2, None, None, 44, "hotel weighed only"],
    ]}, merge={"Food waste": ["B1:C1", "D1:E1"]})  # fmt: skip
    return Truth([
        Entry(day("2025-03-03"), "Quillmarsh School", FOOD, kg=60 * LB, count=3, container="pail"),
        Entry(day("2025-03-03"), HOTEL, FOOD, kg=101 * LB, count=5, container="pail"),
        Entry(day("2025-03-04"), "Quillmarsh School", FOOD, count=2, container="pail"),
        Entry(day("2025-03-04"), HOTEL, FOOD, kg=44 * LB),
    ])  # fmt: skip


@case("dates across")
def dates_across(folder: Path) -> Truth:
    writers.xlsx(folder / "rota.xlsx", {"Food scraps": [
        ["Food scraps (lb)"],
        ["Source", day("2025-03-03"), day("2025-03-10"), day("2025-03-17"), "Total"],
        ["School", 40, 42, None, 82],
        ["Hotel", 100, "-", 98, 198],
        ["Total", 140, 42, 98, 280],
    ]})  # fmt: skip
    return Truth([
        Entry(day("2025-03-03"), SCHOOL, FOOD, kg=40 * LB),
        Entry(day("2025-03-10"), SCHOOL, FOOD, kg=42 * LB),
        Entry(day("2025-03-03"), HOTEL, FOOD, kg=100 * LB),
        Entry(day("2025-03-17"), HOTEL, FOOD, kg=98 * LB),
    ], skipped={"nothing delivered": 1, "total or subtotal": 3})  # fmt: skip


@case("weekdays across")
def weekdays_across(folder: Path) -> Truth:
    writers.xlsx(folder / "weekly.xlsx", {"Coffee": [
        ["Coffee grounds, lb"],
        ["Week of", "Mon", "Tue", "Wed", "Thu", "Fri"],
        [day("2025-03-03"), 10, None, 12, None, 14],
        [day("2025-03-10"), None, 11, None, 13, None],
    ]}, )  # fmt: skip
    writers.xlsx(folder / "2025.xlsx", {"Apr 7-11": [
        ["Food scraps (lb)"], [None, "Mon", "Tue", "Wed", "Total"], ["hotel", 40, None, 41, 81], ["school", None, 42, 43, 85],
    ]})  # fmt: skip
    # Among days of the week "Mar" is mardi; among months it is March.
    writers.xlsx(folder / "école.xlsx", {
        "2025": [["School leaves, kg"], ["Semaine du", "Lun", "Mar", "Mer"], [day("2025-03-17"), 20, 21, 22]],
        "Mois": [["Feuilles en kg, 2024"], ["Source", "Fév", "Mar", "Avr"], ["hotel", 30, 31, 32]],
    })  # fmt: skip
    return Truth([
        Entry(day("2025-04-07"), HOTEL, FOOD, kg=40 * LB), Entry(day("2025-04-09"), HOTEL, FOOD, kg=41 * LB),
        Entry(day("2025-04-08"), SCHOOL, FOOD, kg=42 * LB), Entry(day("2025-04-09"), SCHOOL, FOOD, kg=43 * LB),
        *(Entry(day(f"2025-03-{17 + n}"), SCHOOL, LEAVES, kg=20 + n) for n in range(3)),
        *(Entry(day(f"2024-0{2 + n}-01"), HOTEL, LEAVES, kg=30 + n) for n in range(3)),
        Entry(day("2025-03-03"), None, COFFEE, kg=10 * LB),
        Entry(day("2025-03-05"), None, COFFEE, kg=12 * LB),
        Entry(day("2025-03-07"), None, COFFEE, kg=14 * LB),
        Entry(day("2025-03-11"), None, COFFEE, kg=11 * LB),
        Entry(day("2025-03-13"), None, COFFEE, kg=13 * LB),
    ], codes=("source not recorded",))  # fmt: skip


@case("containers across")
def containers_across(folder: Path) -> Truth:
    writers.xlsx(folder / "counts.xlsx", {"Counts": [
        ["Date", "Source", "Material", "# totes", "# of pails", "64 gal carts", "Weight lb"],
        [day("2025-03-03"), "hotel", "food scraps", 2, None, 1, None],
        [day("2025-03-04"), "school", "food scraps", None, 3, None, None],
        [day("2025-03-05"), "ladle", "coffee", None, 2, None, 55],
    ]})  # fmt: skip
    return Truth([
        Entry(day("2025-03-03"), HOTEL, FOOD, count=2, container="tote"),
        Entry(day("2025-03-03"), HOTEL, FOOD, count=1, container="cart"),
        Entry(day("2025-03-04"), SCHOOL, FOOD, count=3, container="pail"),
        Entry(day("2025-03-05"), LADLE, COFFEE, kg=55 * LB),
    ])  # fmt: skip
