"""Every kind of file, encoding and separator a crew sends."""

from __future__ import annotations

from pathlib import Path

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

HEAD = ["Date", "Source", "Material", "How many", "Container", "How full", "Weight (lb)", "Notes"]


@case("xlsx", "ordinary headings", "fill 3/4", "fill %", "blank")
def ordinary_log(folder: Path) -> Truth:
    writers.xlsx(folder / "log.xlsx", {"Intake": [
        HEAD,
        [day("2025-03-03"), "Quillmarsh School kitchen", "kitchen scraps", 3, "totes", "3/4", None, None],
        [day("2025-03-04"), "hotel", "Food scraps", 2, "cart", "75%", None, "smelly"],
        [],
        [day("2025-03-05"), "The Copper Ladle", "coffee grounds", None, None, None, 41.5, None],
        [day("2025-03-06"), "florist", "cut flowers", 4, "Bucket", "full", 36, None],
    ]})  # fmt: skip
    return Truth([
        Entry(day("2025-03-03"), SCHOOL, FOOD, count=3, container="tote", fill=0.75),
        Entry(day("2025-03-04"), HOTEL, FOOD, count=2, container="cart", fill=0.75),
        Entry(day("2025-03-05"), LADLE, COFFEE, kg=41.5 * LB),
        Entry(day("2025-03-06"), FLORIST, FLOWERS, kg=36 * LB, count=4, container="pail", fill=1.0),
    ], skipped={"heading": 1, "blank": 1})  # fmt: skip


@case("xlsm", "title rows above", "notes below")
def with_macros_ending(folder: Path) -> Truth:
    writers.xlsm(folder / "Pickups.xlsm", {"Pickups": [
        ["Kestrel Bend Community Farm"],
        ["Pick-up log, spring"],
        [],
        [None, "Date collected", "Picked up from", "What", "Lbs"],
        [None, day("2025-04-01"), "Hotel", "food waste", 120],
        [None, day("2025-04-02"), "Ladle", "coffee", 33],
        [],
        [None, "Bring the small scale back from the barn!"],
    ]})  # fmt: skip
    return Truth([
        Entry(day("2025-04-01"), HOTEL, FOOD, kg=120 * LB),
        Entry(day("2025-04-02"), LADLE, COFFEE, kg=33 * LB),
    ], skipped={"note": 3, "heading": 1, "blank": 2})  # fmt: skip


@case("xls", "units in headings")
def old_binary(folder: Path) -> Truth:
    writers.xls(folder / "records 2024.xls", {"Loads": [
        ["Load #", "Day of delivery", "Donor", "Type", "Vol. (cu yd)", "Driver"],
        [1, day("2024-10-07"), "Harborside Hotel", "leaves", 2, "MK"],
        [2, day("2024-10-08"), "Petal & Stem Florist", "florist waste", 0.5, "MK"],
        [3, day("2024-10-09"), "school", "leaves", 1.5, "RT"],
    ]})  # fmt: skip
    return Truth([
        Entry(day("2024-10-07"), HOTEL, LEAVES, m3=2 * YD3),
        Entry(day("2024-10-08"), FLORIST, FLOWERS, m3=0.5 * YD3),
        Entry(day("2024-10-09"), SCHOOL, LEAVES, m3=1.5 * YD3),
    ])  # fmt: skip


@case("ods", "French headings", "French cells", "poids kg")
def french_ods(folder: Path) -> Truth:
    writers.ods(folder / "registre.ods", {"Réception": [
        ["Date de réception", "Fournisseur", "Matière reçue", "Nb de contenants", "Type de contenant", "Remplissage", "Poids net kg", "Remarques"],
        [day("2025-05-05"), "school", "restes alimentaires", "deux", "seaux", "à moitié plein", None, None],
        [day("2025-05-06"), "hotel", "marc de café", None, None, None, "1 250,5", None],
        [day("2025-05-07"), "hotel", "feuilles mortes", 3, "bacs roulants", "comble", None, "pluie"],
        ["8 mai 2025", "ladle", "déchets de cuisine", "2 et demi", "seau", "75 %", None, None],
        [day("2025-05-09"), "school", "néant", None, None, None, None, None],
    ]})  # fmt: skip
    return Truth([
        Entry(day("2025-05-05"), SCHOOL, FOOD, count=2, container="pail", fill=0.5),
        Entry(day("2025-05-06"), HOTEL, COFFEE, kg=1250.5),
        Entry(day("2025-05-07"), HOTEL, LEAVES, count=3, container="cart", fill=1.1),
        Entry(day("2025-05-08"), LADLE, FOOD, count=2.5, container="pail", fill=0.75),
    ], skipped={"nothing delivered": 1})  # fmt: skip


@case("csv comma", "utf-8 with mark", "text numbers")
def comma_text(folder: Path) -> Truth:
    writers.text(folder / "export.csv", [
        ["date", "source", "material", "net_weight_lb", "notes"],
        ["2025-06-02", "hotel", "food scraps", "1,250", "two trips"],
        ["2025-06-03", "ladle", "coffee grounds", "12.5", ""],
        ["2025-06-04", "school", "food scraps", "88 ", "=wet, heavy"],
    ], encoding="utf-8-sig")  # fmt: skip
    return Truth([
        Entry(day("2025-06-02"), HOTEL, FOOD, kg=1250 * LB),
        Entry(day("2025-06-03"), LADLE, COFFEE, kg=12.5 * LB),
        Entry(day("2025-06-04"), SCHOOL, FOOD, kg=88 * LB),
    ])  # fmt: skip


@case("csv semicolon", "windows-1252", "decimal comma", "day first")
def semicolon_text(folder: Path) -> Truth:
    writers.text(folder / "apports.csv", [
        ["Date", "Provenance", "Matière", "Quantité", "Unité"],
        ["02/06/2025", "hotel", "résidus de cuisine", "12,5", "kg"],
        ["14/06/2025", "ladle", "café", "3", "seaux"],
        ["16/06/2025", "school", "résidus de cuisine", "1 250,25", "kg"],
        ["03/07/2025", "school", "résidus de cuisine", "9,75", "kg"],
    ], separator=";", encoding="cp1252")  # fmt: skip
    return Truth([
        Entry(day("2025-06-02"), HOTEL, FOOD, kg=12.5),
        Entry(day("2025-06-14"), LADLE, COFFEE, count=3, container="pail"),
        Entry(day("2025-06-16"), SCHOOL, FOOD, kg=1250.25),
        Entry(day("2025-07-03"), SCHOOL, FOOD, kg=9.75),
    ])  # fmt: skip


@case("tsv", "utf-16", "month first", "unit column")
def tab_text(folder: Path) -> Truth:
    writers.text(folder / "scale.tsv", [
        ["When", "Who from", "What came in", "Amount", "Unit"],
        ["06/13/2025", "hotel", "food scraps", "120", "lb"],
        ["07/04/2025", "school", "food scraps", "2", "totes"],
        ["07/05/2025", "ladle", "coffee", "20", "gal"],
        ["07/15/2025", "hotel", "leaves", "1", "yd3"],
    ], separator="\t", encoding="utf-16")  # fmt: skip
    return Truth([
        Entry(day("2025-06-13"), HOTEL, FOOD, kg=120 * LB),
        Entry(day("2025-07-04"), SCHOOL, FOOD, count=2, container="tote"),
        Entry(day("2025-07-05"), LADLE, COFFEE, m3=20 * GAL),
        Entry(day("2025-07-15"), HOTEL, LEAVES, m3=YD3),
    ], codes=("unit settled by site.toml",))  # fmt: skip


@case("tab in .csv")
def tabs_called_csv(folder: Path) -> Truth:
    writers.text(folder / "from phone.csv", [
        ["Date", "From", "Stuff", "Pounds"],
        ["March 4, 2025", "Hotel", "food scraps", "61"],
        ["5 Mar 2025", "School", "food scraps", "62"],
    ], separator="\t")  # fmt: skip
    return Truth([
        Entry(day("2025-03-04"), HOTEL, FOOD, kg=61 * LB),
        Entry(day("2025-03-05"), SCHOOL, FOOD, kg=62 * LB),
    ])  # fmt: skip


@case("1904 dates", "cached formulas")
def mac_dates(folder: Path) -> Truth:
    writers.xlsx(folder / "mac.xlsx", {"Log": [
        ["Date", "Source", "Material", "Gross lb", "Tare lb", "Net lb"],
        [day("2025-02-03"), "hotel", "food scraps", 150, 30, ("=D2-E2", 120)],
        [day("2025-02-04"), "ladle", "coffee", 62, 9, ("=D3-E3", 53)],
        ["Total", None, None, ("=SUM(D2:D3)", 212), ("=SUM(E2:E3)", 39), ("=SUM(F2:F3)", 173)],
    ]}, date_1904=True)  # fmt: skip
    return Truth([
        Entry(day("2025-02-03"), HOTEL, FOOD, kg=120 * LB),
        Entry(day("2025-02-04"), LADLE, COFFEE, kg=53 * LB),
    ], skipped={"total or subtotal": 1, "heading": 1})  # fmt: skip


@case("hidden sheet", "lists sheet", "instruction sheet")
def hidden_sheet(folder: Path) -> Truth:
    writers.xlsx(folder / "hidden.xlsx", {
        "Read me": [["How to use this workbook"], ["Fill in one row for each load."]],
        "2025": [["Date", "Source", "Material", "lb"], [day("2025-03-04"), "hotel", "coffee", 10]],
        "2024": [["Date", "Source", "Material", "lb"], [day("2024-03-04"), "hotel", "coffee", 11]],
        "Lists": [["Sources", "Materials"], ["hotel", "coffee"], ["school", "leaves"]],
    }, hidden=("2024",))  # fmt: skip
    return Truth([
        Entry(day("2025-03-04"), HOTEL, COFFEE, kg=10 * LB),
        Entry(day("2024-03-04"), HOTEL, COFFEE, kg=11 * LB),
    ], skipped={"sheet not read": 5, "heading": 2}, codes=("hidden sheet read",))  # fmt: skip
