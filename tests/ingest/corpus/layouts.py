"""Tall, grouped and stacked: the ways a table lies on a sheet."""

from __future__ import annotations

from pathlib import Path

from divert.site.model import Material, SheetRule

from . import writers
from .book import (
    COFFEE,
    FLORIST,
    FLOWERS,
    FOOD,
    GAL,
    HOTEL,
    LADLE,
    LB,
    LEAVES,
    SCHOOL,
    YD3,
    Entry,
    Truth,
    case,
    day,
)  # fmt: skip


@case("sheet per month", "missing year from sheet name", "carried-down dates")
def months_without_years(folder: Path) -> Truth:
    head = ["Date", "Source", "What", "Lbs"]
    writers.xlsx(folder / "log 2024.xlsx", {
        "Jan": [head, ["1/8", "hotel", "food scraps", 40], [None, "ladle", "coffee", 12],
                ["1/9", "school", "food scraps", 33], [None, "hotel", "leaves", 8], [None, "ladle", "coffee", 7]],
        "Feb": [head, ["2/5", "hotel", "food scraps", 41], [None, "school", "food scraps", 34],
                ["Feb. 12", "hotel", "food scraps", 42], [None, "ladle", "coffee", 11]],
    })  # fmt: skip
    return Truth([
        Entry(day("2024-01-08"), HOTEL, FOOD, kg=40 * LB),
        Entry(day("2024-01-08"), LADLE, COFFEE, kg=12 * LB),
        Entry(day("2024-01-09"), SCHOOL, FOOD, kg=33 * LB),
        Entry(day("2024-01-09"), HOTEL, LEAVES, kg=8 * LB),
        Entry(day("2024-01-09"), LADLE, COFFEE, kg=7 * LB),
        Entry(day("2024-02-05"), HOTEL, FOOD, kg=41 * LB),
        Entry(day("2024-02-05"), SCHOOL, FOOD, kg=34 * LB),
        Entry(day("2024-02-12"), HOTEL, FOOD, kg=42 * LB),
        Entry(day("2024-02-12"), LADLE, COFFEE, kg=11 * LB),
    ])  # fmt: skip


@case("day numbers under a month's sheet", "French sheet names")
def day_numbers(folder: Path) -> Truth:
    writers.xlsx(folder / "journal.xlsx", {
        "Janvier 2025": [["Jour", "Qui", "Quoi", "Quantité"], [6, "école", "restes de table", "3 bacs"], [7, "hotel", "feuilles", "2 sacs"]],
        "févr. 2025": [["Jour", "Qui", "Quoi", "Quantité"], [3, "hotel", "restes de table", "40 kg"], [28, "ladle", "café", "1 seau"]],
    })  # fmt: skip
    return Truth([
        Entry(day("2025-01-06"), "école", FOOD, count=3, container="tote"),
        Entry(day("2025-01-07"), HOTEL, LEAVES, count=2, container="sac"),
        Entry(day("2025-02-03"), HOTEL, FOOD, kg=40),
        Entry(day("2025-02-28"), LADLE, COFFEE, count=1, container="pail"),
    ])  # fmt: skip


@case("several tables on one sheet", "harvest", "residue")
def three_tables_stacked(folder: Path) -> Truth:
    writers.xlsx(folder / "week 12.xlsx", {"Week 12": [
        ["INTAKE"],
        ["Date", "Source", "Material", "Weight (lb)"],
        [day("2025-03-17"), "hotel", "food scraps", 100],
        [day("2025-03-18"), "school", "food scraps", 80],
        ["Total", None, None, 180],
        [],
        ["Harvest"],
        ["Date", "Product", "Weight (lb)", "Went to"],
        [day("2025-03-19"), "castings", 60, "Market stall"],
        [],
        ["Screening residue"],
        ["Date", "lb"],
        [day("2025-03-20"), 9],
    ]})  # fmt: skip
    return Truth([
        Entry(day("2025-03-17"), HOTEL, FOOD, kg=100 * LB),
        Entry(day("2025-03-18"), SCHOOL, FOOD, kg=80 * LB),
        Entry(day("2025-03-19"), None, "worm castings", kg=60 * LB, kind="harvest", destination="Market stall"),
        Entry(day("2025-03-20"), None, None, kg=9 * LB, kind="residue"),
    ], skipped={"total or subtotal": 1, "heading": 3, "note": 3, "blank": 2})  # fmt: skip


@case("tables side by side")
def side_by_side(folder: Path) -> Truth:
    writers.xlsx(folder / "two.xlsx", {"May": [
        ["Monday crew", None, None, None, None, "Thursday crew"],
        ["Date", "From", "Material", "lb", None, "Date", "From", "Material", "lb"],
        [day("2025-05-05"), "hotel", "food scraps", 51, None, day("2025-05-08"), "school", "food scraps", 61],
        [day("2025-05-12"), "hotel", "food scraps", 52, None, day("2025-05-15"), "ladle", "coffee", 62],
        [None, None, None, None, None, day("2025-05-22"), "ladle", "coffee", 63],
    ]})  # fmt: skip
    return Truth([
        Entry(day("2025-05-05"), HOTEL, FOOD, kg=51 * LB),
        Entry(day("2025-05-12"), HOTEL, FOOD, kg=52 * LB),
        Entry(day("2025-05-08"), SCHOOL, FOOD, kg=61 * LB),
        Entry(day("2025-05-15"), LADLE, COFFEE, kg=62 * LB),
        Entry(day("2025-05-22"), LADLE, COFFEE, kg=63 * LB),
    ])  # fmt: skip


@case("merged headings", "multi-line headings")
def merged_two_line_headings(folder: Path) -> Truth:
    writers.xlsx(folder / "scalehouse.xlsx", {"Scale": [
        ["Date\nreceived", "Donor", "Material", "Weight (lb)", None, None, "Notes"],
        [None, None, None, "Gross", "Tare", "Net", None],
        [day("2025-03-03"), "hotel", "food scraps", 150, 30, 120, None],
        [day("2025-03-04"), "school", "food scraps", 90, 18, 72, "late"],
    ]}, merge={"Scale": ["D1:F1", "A1:A2", "B1:B2", "C1:C2", "G1:G2"]})  # fmt: skip
    return Truth([
        Entry(day("2025-03-03"), HOTEL, FOOD, kg=120 * LB),
        Entry(day("2025-03-04"), SCHOOL, FOOD, kg=72 * LB),
    ])  # fmt: skip


@case("heading split over two rows")
def heading_over_two_rows(folder: Path) -> Truth:
    writers.text(folder / "split.csv", [
        ["Date", "Picked up", "Kind of", "Weight", "Contamination"],
        ["", "from", "material", "(kg)", "(%)"],
        ["2025-03-03", "hotel", "food scraps", "54.4", "5"],
        ["2025-03-04", "school", "food scraps", "32.7", "12"],
    ])  # fmt: skip
    return Truth([
        Entry(day("2025-03-03"), HOTEL, FOOD, kg=54.4, share=0.05),
        Entry(day("2025-03-04"), SCHOOL, FOOD, kg=32.7, share=0.12),
    ])  # fmt: skip


@case("headings repeated down the page", "total by label", "subtotal by label")
def repeated_headings(folder: Path) -> Truth:
    head = ["Date", "Source", "Material", "Totes", "lbs"]
    writers.xlsx(folder / "printed.xlsx", {"Log": [
        head,
        [day("2025-03-03"), "hotel", "food scraps", 3, 120],
        [day("2025-03-04"), "school", "food scraps", 2, 80],
        ["Subtotal", None, None, 5, 200],
        head,
        [day("2025-03-05"), "hotel", "food scraps", 4, 150],
        [day("2025-03-06"), "ladle", "coffee", 1, 50],
        ["Subtotal", None, None, 5, 200],
        ["GRAND TOTAL", None, None, 10, 400],
    ]})  # fmt: skip
    return Truth([
        Entry(day("2025-03-03"), HOTEL, FOOD, kg=120 * LB, count=3, container="tote"),
        Entry(day("2025-03-04"), SCHOOL, FOOD, kg=80 * LB, count=2, container="tote"),
        Entry(day("2025-03-05"), HOTEL, FOOD, kg=150 * LB, count=4, container="tote"),
        Entry(day("2025-03-06"), LADLE, COFFEE, kg=50 * LB, count=1, container="tote"),
    ], skipped={"total or subtotal": 3, "heading": 2})  # fmt: skip


@case("grouped by source", "merged values")
def grouped_by_source(folder: Path) -> Truth:
    writers.xlsx(folder / "grouped.xlsx", {"Q1": [
        ["Source", "Material", "Date", "Weight (kg)"],
        ["Harborside Hotel", "food scraps", day("2025-01-06"), 50],
        [None, None, day("2025-01-13"), 51],
        [None, None, day("2025-01-20"), 52],
        ["School", "food scraps", day("2025-01-07"), 20],
        [None, None, day("2025-01-14"), 21],
        [None, "leaves", day("2025-01-14"), 5],
    ]}, merge={"Q1": ["A2:A4", "B2:B4", "A5:A7", "B5:B6"]})  # fmt: skip
    return Truth([
        Entry(day("2025-01-06"), HOTEL, FOOD, kg=50),
        Entry(day("2025-01-13"), HOTEL, FOOD, kg=51),
        Entry(day("2025-01-20"), HOTEL, FOOD, kg=52),
        Entry(day("2025-01-07"), SCHOOL, FOOD, kg=20),
        Entry(day("2025-01-14"), SCHOOL, FOOD, kg=21),
        Entry(day("2025-01-14"), SCHOOL, LEAVES, kg=5),
    ])  # fmt: skip


@case("date in a row of its own", "source in a row of its own")
def sections(folder: Path) -> Truth:
    writers.xlsx(folder / "sections.xlsx", {
        "By day": [
            ["Source", "Material", "Quantity"],
            ["Monday, March 3, 2025"], ["hotel", "food scraps", "3 totes"], ["school", "food scraps", "2 totes"],
            ["Tuesday, March 4, 2025"], ["ladle", "coffee", "1 pail"],
        ],
        "By donor": [
            ["Date", "Material", "Quantity"],
            ["Harborside Hotel"], [day("2025-03-05"), "food scraps", "4 totes"], [day("2025-03-06"), "leaves", "1 yd"],
            ["Copper Ladle"], [day("2025-03-05"), "coffee", "20 lb"],
        ],
    })  # fmt: skip
    return Truth([
        Entry(day("2025-03-03"), HOTEL, FOOD, count=3, container="tote"),
        Entry(day("2025-03-03"), SCHOOL, FOOD, count=2, container="tote"),
        Entry(day("2025-03-04"), LADLE, COFFEE, count=1, container="pail"),
        Entry(day("2025-03-05"), HOTEL, FOOD, count=4, container="tote"),
        Entry(day("2025-03-06"), HOTEL, LEAVES, m3=YD3),
        Entry(day("2025-03-05"), LADLE, COFFEE, kg=20 * LB),
    ])  # fmt: skip


@case("pairs of label and value above", "free quantity column")
def labels_above(folder: Path) -> Truth:
    writers.xlsx(folder / "card.xlsx", {"Card 7": [
        ["Source:", "Petal and Stem Florist"],
        ["Month:", "April 2025"],
        ["Material:", "cut flowers"],
        [],
        ["Day", "Quantity", "Initials"],
        [1, "2 totes", "RT"],
        [8, "1 tote, 1/2 full", "RT"],
        [15, "heaped tote", "MK"],
        [22, "12 lb", "MK"],
    ]})  # fmt: skip
    return Truth([
        Entry(day("2025-04-01"), FLORIST, FLOWERS, count=2, container="tote"),
        Entry(day("2025-04-08"), FLORIST, FLOWERS, count=1, container="tote", fill=0.5),
        Entry(day("2025-04-15"), FLORIST, FLOWERS, count=1, container="tote", fill=1.1),
        Entry(day("2025-04-22"), FLORIST, FLOWERS, kg=12 * LB),
    ])  # fmt: skip


@case("no heading at all")
def no_headings(folder: Path) -> Truth:
    writers.text(folder / "bare.csv", [
        ["2025-03-03", "hotel", "food scraps", "3 totes", ""],
        ["2025-03-04", "school", "food scraps", "40 lb", "wet"],
        ["2025-03-05", "ladle", "coffee", "1 pail", ""],
    ])  # fmt: skip
    return Truth([
        Entry(day("2025-03-03"), HOTEL, FOOD, count=3, container="tote"),
        Entry(day("2025-03-04"), SCHOOL, FOOD, kg=40 * LB),
        Entry(day("2025-03-05"), LADLE, COFFEE, count=1, container="pail"),
    ])  # fmt: skip


@case("[[sheet]] overrides", "[[sheet]] nothing")
def overridden(folder: Path) -> Truth:
    writers.xlsx(folder / "odd.xlsx", {
        "A": [["A1", "B1", "C1", "D1"], [day("2025-03-03"), 1, "hotel", 40], [day("2025-03-04"), 2, "school", 41]],
        "Draft": [["Date", "Source", "Material", "lb"], [day("2025-03-03"), "hotel", "coffee", 999]],
    })  # fmt: skip
    rules = (
        SheetRule(
            "odd.xlsx",
            "A",
            "intake",
            (("date", "A"), ("source", "C"), ("weight", "D")),
            (("weight", "kg"),),
        ),
        SheetRule("odd.xlsx", "Draft", "nothing"),
    )
    return Truth([
        Entry(day("2025-03-03"), HOTEL, "kitchen scraps", kg=40),
        Entry(day("2025-03-04"), SCHOOL, "kitchen scraps", kg=41),
    ], skipped={"sheet not read": 2}, site={"sheets": rules, "materials": (Material("kitchen scraps"),)})  # fmt: skip


@case("folders name year and source", "file name names the month")
def folders(folder: Path) -> Truth:
    place = folder / "2024" / "Hotel"
    place.mkdir(parents=True)
    writers.text(place / "March.csv", [
        ["Date", "Material", "Gallons"], ["3/4", "food scraps", "20"], ["3/11", "food scraps", "25"], ["3/18", "leaves", "30"],
    ])  # fmt: skip
    return Truth([
        Entry(day("2024-03-04"), HOTEL, FOOD, m3=20 * GAL),
        Entry(day("2024-03-11"), HOTEL, FOOD, m3=25 * GAL),
        Entry(day("2024-03-18"), HOTEL, LEAVES, m3=30 * GAL),
    ], codes=("unit settled by site.toml",))  # fmt: skip
