"""Columns of numbers that are no amounts of what came: row numbers, tickets, tares, scores, what was added."""

from __future__ import annotations

from pathlib import Path

from divert.site.model import Container

from . import writers
from .book import COFFEE, FOOD, GAL, HOTEL, LADLE, LB, LEAVES, SCHOOL, Entry, Truth, case, day

_D = [day("2025-03-03"), day("2025-03-04"), day("2025-03-05")]


@case("row numbers", "csv comma")
def rows_numbered_beside_a_count(folder: Path) -> Truth:
    writers.text(folder / "a.csv", [
        ["#", "Date", "Source", "Material", "Container", "How many"],
        [1, "2025-03-03", "hotel", "food scraps", "tote", 3],
        [2, "2025-03-04", "school", "food scraps", "pail", 2],
    ])  # fmt: skip
    writers.text(folder / "b.csv", [
        ["No", "Quand", "Provenance", "Matière", "Valeur", "Unité"],
        [1000, "2025-03-03", "hotel", "coffee", 24, "kg"],
        [1001, "2025-03-04", "ladle", "coffee", 66, "kg"],
    ])  # fmt: skip
    writers.xlsx(folder / "c.xlsx", {"Log": [
        ["Number", "Date", "Source", "Material", "Pails", "No."],
        [17, _D[2], "hotel", "food scraps", 4, 8],
        [25, _D[2], "school", "food scraps", 5, 3],
        [19, _D[2], "ladle", "food scraps", 6, 5],
    ]})  # fmt: skip
    return Truth([
        Entry(_D[0], HOTEL, FOOD, count=3, container="tote"), Entry(_D[1], SCHOOL, FOOD, count=2, container="pail"),
        Entry(_D[0], HOTEL, COFFEE, kg=24), Entry(_D[1], LADLE, COFFEE, kg=66),
        Entry(_D[2], HOTEL, FOOD, count=4, container="pail"), Entry(_D[2], SCHOOL, FOOD, count=5, container="pail"),
        Entry(_D[2], LADLE, FOOD, count=6, container="pail"),
    ])  # fmt: skip


@case("row numbers", "numbers of containers")
def which_cart_it_was(folder: Path) -> Truth:
    rows = [
        [7, _D[0], "hotel", "food scraps", "cart", 1],
        [9, _D[1], "school", "food scraps", "cart", 2],
    ]
    heads = ["Cart number", "No de bac", "Cart no.", "Tare per tote"]
    for place, head in enumerate(heads):
        moved = [[n, d.replace(month=4 + place), *rest] for n, d, *rest in rows]
        writers.xlsx(
            folder / f"{place}.xlsx",
            {"Log": [[head, "Date", "Source", "Material", "Container", "Count"], *moved]},
        )
    return Truth([
        Entry(d.replace(month=4 + place), s, FOOD, count=n, container="cart")
        for place in range(len(heads)) for d, s, n in ((_D[0], HOTEL, 1), (_D[1], SCHOOL, 2))
    ])  # fmt: skip


@case("columns that are no amounts")
def measured_beside_the_load(folder: Path) -> Truth:
    beside = [
        "CO2e (kg)",
        "CO2 évité (kg)",
        "Bulking (lb)",
        "Worms added (lb)",
        "Carbon added (gal)",
        "Contamination score",
    ]
    head = ["Date", "Source", "Material", "Container", "Count"]
    for place, text in enumerate(beside):
        d = _D[0].replace(month=4 + place)
        writers.xlsx(
            folder / f"{place}.xlsx",
            {"Log": [[*head, text], [d, "hotel", "food scraps", "tote", 2, 3]]},
        )
    d = _D[0].replace(month=11)
    writers.xlsx(folder / "weighed.xlsx", {"Log": [
        ["Date", "Source", "Material", "Weight (lb)", "Contamination score"], [d, "hotel", "food scraps", 40, 3],
    ]})  # fmt: skip
    return Truth([
        *(Entry(_D[0].replace(month=4 + n), HOTEL, FOOD, count=2, container="tote") for n in range(len(beside))),
        Entry(d, HOTEL, FOOD, kg=40 * LB),
    ])  # fmt: skip


@case("columns that are no amounts", "one amount a load")
def what_else_a_crew_writes_beside_its_count(folder: Path) -> Truth:
    beside = [
        "Pails left", "Buckets out", "Empties dropped off", "Clean totes delivered", "Bags used", "Seaux vides laissés",
        "Seaux propres livrés", "Voyage", "Tray", "Compte", "Tote size (gal)", "Weight of tote (lb)", "Avg per pail (lb)",
        "$/ton", "Previous (lb)", "Niveau scolaire",
    ]  # fmt: skip
    days = [day(f"2025-{3 + n // 8:02}-{1 + n % 8:02}") for n in range(len(beside))]
    for d, text in zip(days, beside, strict=True):
        writers.xlsx(
            folder / f"{d}.xlsx",
            {
                "Log": [
                    ["Date", "Source", "Material", "Pails", text],
                    [d, "hotel", "food scraps", 3, 5],
                ]
            },
        )
    return Truth([Entry(d, HOTEL, FOOD, count=3, container="pail") for d in days])


@case("fill", "quarters of a full one")
def quarters_beside_a_count(folder: Path) -> Truth:
    rows = [
        [_D[0], "hotel", "food scraps", "tote", 2, 3],
        [_D[1], "school", "food scraps", "tote", 1, 1],
        [_D[2], "ladle", "food scraps", "tote", 1, 4],
    ]
    writers.xlsx(
        folder / "log.xlsx",
        {"Log": [["Date", "Source", "Material", "Container", "Count", "Quarters full"], *rows]},
    )
    said = [(HOTEL, 2, 0.75), (SCHOOL, 1, 0.25), (LADLE, 1, 1.0)]
    return Truth(
        [
            Entry(d, s, FOOD, count=n, container="tote", fill=f)
            for d, (s, n, f) in zip(_D, said, strict=True)
        ]
    )


@case("csv comma", "numbers cut in two by their comma")
def a_comma_for_thousands_without_quotes(folder: Path) -> Truth:
    (folder / "a.csv").write_text(
        "Date,Source,Material,Weight (lb),Notes\n2025-03-03,hotel,food scraps,1,250,ok\n"
        "2025-03-04,school,food scraps,950,ok\n2025-03-05,ladle,food scraps,12,bag torn, wet\n"
    )
    return Truth([
        Entry(_D[1], SCHOOL, FOOD, kg=950 * LB), Entry(_D[2], LADLE, FOOD, kg=12 * LB),
    ], aside={"quantity unreadable": 1})  # fmt: skip


@case("net of what was sorted out", "ways to write an amount")
def sorted_after_it_was_weighed(folder: Path) -> Truth:
    writers.xlsx(folder / "log.xlsx", {"Log": [
        ["Date", "Source", "Material", "Gross (lb)", "Tare (lb)", "Trash (lb)", "Net (lb)"],
        [_D[0], "hotel", "food scraps", 60, 9, 1, 50], [_D[1], "school", "food scraps", 70, 9, 8, 53],
    ]})  # fmt: skip
    writers.xlsx(folder / "pails.xlsx", {"Log": [
        ["Date", "Source", "Material", "Pails"], [_D[2], "hotel", "coffee", "2 + 1 tote"], [_D[2], "school", "coffee", "2 + 1"],
    ]})  # fmt: skip
    return Truth([
        Entry(_D[0], HOTEL, FOOD, kg=51 * LB, removed=1 * LB), Entry(_D[1], SCHOOL, FOOD, kg=61 * LB, removed=8 * LB),
        Entry(_D[2], SCHOOL, COFFEE, count=3, container="pail"),
    ], aside={"quantity unreadable": 1})  # fmt: skip


@case("ways to write an amount", "containers called by a letter")
def a_tote_called_t(folder: Path) -> Truth:
    boxes = (
        Container("tote", ("T",), 32 * GAL, 9 * LB),
        Container("pail", ("P",), 5 * GAL, 1.9 * LB),
    )
    rows = [[_D[0], "hotel", "food scraps", "2 T"], [_D[1], "school", "food scraps", "1T 2P"]]
    writers.xlsx(folder / "log.xlsx", {"Log": [["Date", "Source", "Material", "Quantity"], *rows]})
    return Truth([
        Entry(_D[0], HOTEL, FOOD, count=2, container="tote"),
        Entry(_D[1], SCHOOL, FOOD, count=1, container="tote"), Entry(_D[1], SCHOOL, FOOD, count=2, container="pail"),
    ], site={"containers": boxes})  # fmt: skip


@case("columns that are no amounts", "headings of counts")
def plain_counts_and_other_materials(folder: Path) -> Truth:
    """A count's heading counts in any words; straw beside a load, pieces of rubbish and grades do not."""
    counts = ["Container Qty", "Containers received", "Qté de contenants", "Containers (#)"]
    for place, text in enumerate(counts):
        d = _D[0].replace(month=4 + place)
        writers.xlsx(
            folder / f"count {place}.xlsx",
            {
                "Log": [
                    ["Date", "Source", "Material", "Container", text],
                    [d, "hotel", "leaves", "pail", 3],
                ]
            },
        )
    beside = ["Straw (lb)", "Plastic bags seen", "Grade level", "Weight code"]
    for place, text in enumerate(beside):
        d = _D[1].replace(month=4 + place)
        writers.xlsx(
            folder / f"beside {place}.xlsx",
            {"Log": [["Date", "Source", "Material", "Pails", text], [d, "school", "leaves", 2, 5]]},
        )
    writers.xlsx(
        folder / "handled.xlsx",
        {"Log": [["Date", "Source", "Food scraps composted (lb)"], [_D[2], "hotel", 40]]},
    )
    return Truth([
        *(Entry(_D[0].replace(month=4 + n), HOTEL, LEAVES, count=3, container="pail") for n in range(len(counts))),
        *(Entry(_D[1].replace(month=4 + n), SCHOOL, LEAVES, count=2, container="pail") for n in range(len(beside))),
        Entry(_D[2], HOTEL, FOOD, kg=40 * LB),
    ])  # fmt: skip
