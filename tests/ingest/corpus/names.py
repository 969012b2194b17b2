"""Names that sound like what a sheet holds, and are not."""

from __future__ import annotations

from pathlib import Path

from divert.site.model import Source

from . import writers
from .book import (
    COFFEE,
    FOOD,
    HOTEL,
    LADLE,
    LB,
    LEAVES,
    SCHOOL,
    WEIGHED,
    Entry,
    Truth,
    case,
    day,
    site,
)

_CALLED = ("Harvest Quill Bistro", "Fuel Merle Bar", "Market Hall", "Volunteer Merle Centre", "Marché Sainte-Merle")  # fmt: skip


@case("one sheet per source")
def sources_named_like_kinds(folder: Path) -> Truth:
    one, two = day("2025-03-03"), day("2025-03-10")
    writers.xlsx(folder / "2025.xlsx", {
        name: [["Date", "Material", "Weight (lb)"], [one, "food scraps", 20 + i], [two, "coffee", 30 + i]]
        for i, name in enumerate([*_CALLED[:-1], "Marché Sainte-Merle 2025"])
    } | {"Harvest": [["Date", "Product", "Weight (lb)"], [two, "castings", 12]]})  # fmt: skip
    entries = [Entry(two, None, "worm castings", kg=12 * LB, kind="harvest")]
    for i, name in enumerate(_CALLED):
        entries.append(Entry(one, name, FOOD, kg=(20 + i) * LB))
        entries.append(Entry(two, name, COFFEE, kg=(30 + i) * LB))
    usual = site(folder).sources
    return Truth(entries, site={"sources": (*usual, *(Source(name) for name in _CALLED))})


@case("ordinary headings")
def intake_in_files_named_for_something_else(folder: Path) -> Truth:
    d = day("2025-03-03")
    writers.xlsx(folder / "Market day scraps.xlsx", {"Sheet1": [WEIGHED, [d, "hotel", "food scraps", 20]]})  # fmt: skip
    writers.xlsx(folder / "Spring harvest festival.xlsx", {"Sheet1": [WEIGHED, [d, "school", "coffee", 21]]})  # fmt: skip
    writers.xlsx(folder / "équipe des ventes.xlsx", {"Feuille 1": [
        ["Date", "Fournisseur", "Matière", "Poids (lb)"], [d, "ladle", "leaves", 22],
    ]})  # fmt: skip
    writers.xlsx(folder / "Compost sales.xlsx", {"Sheet1": [
        ["Date", "Customer", "Item", "Weight (lb)"], [d, "A neighbour", "finished compost", 23],
    ]})  # fmt: skip
    return Truth([
        Entry(d, HOTEL, FOOD, kg=20 * LB),
        Entry(d, SCHOOL, COFFEE, kg=21 * LB),
        Entry(d, LADLE, LEAVES, kg=22 * LB),
        Entry(d, None, None, kg=23 * LB, kind="sale", name="finished compost", destination="A neighbour"),
    ])  # fmt: skip


@case("ordinary headings", "French headings")
def where_it_went_before_in_their_own_words(folder: Path) -> Truth:
    said = {
        "landfill": "landfill", "regular trash": "landfill", "the pigs next door": "fed to animals", "aux cochons": "fed to animals",
        "neighbor's goats": "fed to animals", "spread on our field": "spread on land", "compost pile at home": "composted",
        "recycling center": "recycled", "donné à la banque alimentaire": "donated as food", "compostage municipal": "composted",
        "the moon": "not stated", "hauler": "not stated", "?": "not stated", "not the landfill": "not stated",
        "landfill or compost": "not stated", "n/a": None, None: None,
    }  # fmt: skip
    days = [day(f"2025-03-{n:02}") for n in range(1, 1 + len(said))]
    writers.xlsx(folder / "log.xlsx", {"Log": [
        [*WEIGHED, "Where it went before"], *([d, "hotel", "food scraps", 10, text] for d, text in zip(days, said, strict=True)),
    ]})  # fmt: skip
    return Truth(
        [Entry(d, HOTEL, FOOD, kg=10 * LB, before=fate) for d, fate in zip(days, said.values(), strict=True)],
        codes=("usual fate not stated",),
    )  # fmt: skip


@case("title rows above", "several tables on one sheet")
def titles_of_a_source_and_a_material(folder: Path) -> Truth:
    coop, cafe = "Harrowgate Lane Co-op", "Lantern Row Café"
    said = {
        "Co-op - leaves": (coop, LEAVES), "Café - coffee": (cafe, COFFEE), "Cafe - leaves": (cafe, LEAVES),
        "Lantern Row Café (kitchen scraps)": (cafe, FOOD), "School food scraps March 2025": (SCHOOL, FOOD),
        "LADLE – coffee grounds": (LADLE, COFFEE),
    }  # fmt: skip
    rows: list[list[object]] = []
    for n, title in enumerate(said, 1):
        rows += [
            [title],
            ["Date", "Weight (lb)"],
            [day(f"2025-03-{n:02}"), 10 + n],
            [day(f"2025-03-{n + 20}"), 30 + n],
            [],
        ]
    writers.xlsx(folder / "log 2025.xlsx", {"Log": rows})
    sources = (*site(folder).sources, Source(coop, ("co-op",)), Source(cafe, ("cafe",)))
    entries = []
    for n, (source, material) in enumerate(said.values(), 1):
        entries.append(Entry(day(f"2025-03-{n:02}"), source, material, kg=(10 + n) * LB))
        entries.append(Entry(day(f"2025-03-{n + 20}"), source, material, kg=(30 + n) * LB))
    return Truth(entries, site={"sources": sources})


@case("dates across", "csv comma")
def one_or_two_days_across(folder: Path) -> Truth:
    one, two = day("2025-03-03"), day("2025-03-10")
    writers.text(folder / "Feed & Seed Shop drop-offs.csv", [["Food scraps (lb)"], ["Date", "Weight"], ["2025-03-03", "9"]])  # fmt: skip
    writers.text(folder / "x.csv", [
        ["Food scraps (lb)"], ["Source", "2025-03-03", "2025-03-10", "Total"], ["School", "10", "13", "23"], ["Ladle", "11", "14", "25"],
        ["Total", "21", "27", "48"],
    ])  # fmt: skip
    writers.xlsx(
        folder / "y.xlsx",
        {"Hotel": [["Weights in lb"], ["Material", two], ["leaves", 5], ["coffee", 6]]},
    )
    shop = "Feed & Seed Shop"
    return Truth([
        Entry(one, shop, FOOD, kg=9 * LB),
        Entry(one, SCHOOL, FOOD, kg=10 * LB), Entry(two, SCHOOL, FOOD, kg=13 * LB),
        Entry(one, LADLE, FOOD, kg=11 * LB), Entry(two, LADLE, FOOD, kg=14 * LB),
        Entry(two, HOTEL, LEAVES, kg=5 * LB), Entry(two, HOTEL, COFFEE, kg=6 * LB),
    ], site={"sources": (*site(folder).sources, Source(shop))})  # fmt: skip


@case("ordinary headings", "3/4 full")
def sheets_named_for_a_day_and_one_box_a_row(folder: Path) -> Truth:
    boxes = [
        ["Source", "Material", "Container", "How full"],
        ["School", "food scraps", "Tote", "Full"],
        ["Hotel", "coffee", "Pail", "half"],
    ]
    loads = [["Source", "Material", "lb"], ["Ladle", "leaves", 20]]
    writers.xlsx(folder / "days.xlsx", {"3-3-25": boxes, "3-4-25": loads})
    return Truth([
        Entry(day("2025-03-03"), SCHOOL, FOOD, count=1, container="tote", fill=1.0),
        Entry(day("2025-03-03"), HOTEL, COFFEE, count=1, container="pail", fill=0.5),
        Entry(day("2025-03-04"), LADLE, LEAVES, kg=20 * LB),
    ], site={"dates": "month first"})  # fmt: skip


@case("wide by source", "carried-down dates")
def sources_named_like_marks_and_before_materials(folder: Path) -> Truth:
    called = ("Closed Loop Cafe", "None Such Farm", "Total Nutrition")
    one, two, three = day("2025-03-03"), day("2025-03-04"), day("2025-03-05")
    writers.text(folder / "bands.csv", [
        ["Date", "Material", "lb"],
        [called[0], "", ""], ["2025-03-03", "food scraps", "20"],
        [called[1], "", ""], ["2025-03-04", "food scraps", "21"],
        [called[2], "", ""], ["2025-03-05", "food scraps", "22"],
    ])  # fmt: skip
    writers.text(folder / "across.csv", [
        ["Date", "Hotel food scraps (lb)", "School food waste (lb)", "Ladle coffee grounds (lb)"],
        ["2025-03-03", "10", "11", "12"],
    ])  # fmt: skip
    # "Plot 14" and "Dept. of Parks" may be names that nobody has told us of, or anything else that is
    # measured beside loads: without a total that adds them up, they are asked about.
    writers.text(folder / "plots.csv", [
        ["Leaves (lb)"], ["Date", "hotel", "Plot 14", "Dept. of Parks"], ["2025-03-06", "30", "31", "32"],
    ])  # fmt: skip
    writers.text(folder / "Drop-offs March 18, 2025.csv", [
        ["Source", "Material", "Container", "Count", "Volume %"], ["hotel", "food scraps", "tote", "1", "75"],
    ])  # fmt: skip
    four = day("2025-03-06")
    return Truth([
        Entry(four, HOTEL, LEAVES, kg=30 * LB),
        Entry(day("2025-03-18"), HOTEL, FOOD, count=1, container="tote", fill=0.75),
        Entry(one, called[0], FOOD, kg=20 * LB),
        Entry(two, called[1], FOOD, kg=21 * LB),
        Entry(three, called[2], FOOD, kg=22 * LB),
        Entry(one, HOTEL, FOOD, kg=10 * LB),
        Entry(one, SCHOOL, FOOD, kg=11 * LB),
        Entry(one, LADLE, COFFEE, kg=12 * LB),
    ], aside={"not explained": 2}, site={"sources": (*site(folder).sources, *(Source(name) for name in called))})  # fmt: skip
