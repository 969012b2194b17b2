"""Every way a crew writes an amount, a fill, or nothing."""

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
    IMPERIAL_GAL,
    LADLE,
    LB,
    LEAVES,
    OZ,
    SCHOOL,
    SHORT_TON,
    YD3,
    Entry,
    Truth,
    case,
    day,
)  # fmt: skip


@case(
    "3 totes",
    "½ pail",
    "2 1/2 buckets",
    "1-1/2",
    "two bins",
    "heaped",
    "3/4 full",
    "75%",
    "trailing note",
    "3 x 64 gal",
)
def counts_in_words(folder: Path) -> Truth:
    d = day("2025-03-03")
    cells = [
        ("3 totes", {"count": 3, "container": "tote"}),
        ("½ pail", {"count": 1, "container": "pail", "fill": 0.5}),
        ("2 1/2 buckets", {"count": 2.5, "container": "pail"}),
        ("1-1/2 totes", {"count": 1.5, "container": "tote"}),
        ("two bins", {"count": 2, "container": "bin"}),
        ("heaped tote", {"count": 1, "container": "tote", "fill": 1.1}),
        ("2 totes, 3/4 full", {"count": 2, "container": "tote", "fill": 0.75}),
        ("1 cart at 75%", {"count": 1, "container": "cart", "fill": 0.75}),
        ("3 x 64 gal", {"count": 3, "container": "cart"}),
        ("4 totes (one leaking)", {"count": 4, "container": "tote"}),
        ("a tote and a half", {"count": 1.5, "container": "tote"}),
        ("2 five gallon buckets", {"count": 2, "container": "pail"}),
        ("Half a tote", {"count": 1, "container": "tote", "fill": 0.5}),
    ]  # fmt: skip
    rows = [[d, "hotel", "food scraps", text] for text, _ in cells]
    writers.xlsx(folder / "words.xlsx", {"Log": [["Date", "Source", "Material", "Amount"], *rows]})
    return Truth([Entry(d, HOTEL, FOOD, **said) for _, said in cells])  # type: ignore[arg-type]


@case(
    "~40 lb",
    "12.5kg",
    "1,250 lb",
    "1 250,5 kg",
    "2 yd",
    "1 cu. yd.",
    "5 gal",
    "40#",
    "oz",
    "each",
    "quantity unreadable",
)
def measures_in_words(folder: Path) -> Truth:
    d = day("2025-03-04")
    cells = [
        ("~40 lb", {"kg": 40 * LB}),
        ("12.5kg", {"kg": 12.5}),
        ("1,250 lb", {"kg": 1250 * LB}),
        ("2 yd", {"m3": 2 * YD3}),
        ("1 cu. yd.", {"m3": YD3}),
        ("5 gal", {"m3": 5 * GAL}),
        ("40#", {"kg": 40 * LB}),
        ("12 lb 8 oz", {"kg": 12 * LB + 8 * OZ}),
        ("about 60 pounds, wet", {"kg": 60 * LB}),
        ("20 lb + 15 lb", {"kg": 35 * LB}),
        ("3 totes @ 40 lb", {"count": 3, "container": "tote", "kg": 120 * LB}),
        ("2 pails = 50 lb", {"count": 2, "container": "pail", "kg": 50 * LB}),
        ("40 lb / 18 kg", {"kg": 40 * LB}),
        ("1½ yd³", {"m3": 1.5 * YD3}),
        ("0.5 m³", {"m3": 0.5}),
        ("quarante", None),  # of what?
        ("30-40 lb", None),
        ("11/2", None),
    ]
    head = ["Date", "Source", "Material", "How much"]
    rows = [[d, "hotel", "food scraps", text] for text, _ in cells]
    writers.xlsx(folder / "measures.xlsx", {
        "Log": [head, *rows],
        "Par Luc": [head, [d, "hotel", "food scraps", "1 250,5 kg"], [d, "hotel", "food scraps", "12,5 kg"]],
    })  # fmt: skip
    entries = [Entry(d, HOTEL, FOOD, **said) for _, said in cells if said]  # type: ignore[arg-type]
    entries += [Entry(d, HOTEL, FOOD, kg=kg) for kg in (1250.5, 12.5)]
    return Truth(
        entries,
        aside={"quantity unreadable": 2, "unit unknown": 1},
        codes=("unit settled by site.toml",),
    )


@case("bare ton", "bare gal", "imperial gallon")
def tons_and_gallons(folder: Path) -> Truth:
    writers.xlsx(folder / "tons.xlsx", {"Big loads": [
        ["Date", "Source", "Material", "Quantity"],
        [day("2025-03-04"), "hotel", "leaves", "1.5 tons"],
        [day("2025-03-05"), "hotel", "leaves", "2 T"],
        [day("2025-03-06"), "hotel", "leaves", "1 tonne"],
        [day("2025-03-07"), "hotel", "leaves", "100 gallons"],
    ]})  # fmt: skip
    return Truth([
        Entry(day("2025-03-04"), HOTEL, LEAVES, kg=1.5 * SHORT_TON),
        Entry(day("2025-03-05"), HOTEL, LEAVES, kg=2 * SHORT_TON),
        Entry(day("2025-03-06"), HOTEL, LEAVES, kg=1000),
        Entry(day("2025-03-07"), HOTEL, LEAVES, m3=100 * IMPERIAL_GAL),
    ], codes=("unit settled by site.toml",), site={"gallon": "imperial"})  # fmt: skip


@case("n/a", "none", "closed", "ditto", "ditto marks", "zero", "no quantity")
def marks(folder: Path) -> Truth:
    writers.xlsx(folder / "marks.xlsx", {"Log": [
        ["Date", "Source", "Material", "Weight (lb)", "Notes"],
        [day("2025-03-03"), "hotel", "food scraps", 40, None],
        ["ditto", "school", '"', 41, None],
        ['"', '"', "leaves", "ditto", None],
        [day("2025-03-04"), "hotel", "food scraps", "n/a", None],
        [day("2025-03-05"), "hotel", "food scraps", "-", None],
        [day("2025-03-06"), "closed", None, None, None],
        [day("2025-03-07"), "hotel", "food scraps", "none", None],
        [day("2025-03-08"), None, None, None, "Closed for the holiday"],
        [day("2025-03-09"), "hotel", "food scraps", 0, None],
        [day("2025-03-10"), "hotel", "food scraps", "?", None],
        [day("2025-03-11"), "hotel", "food scraps", None, None],
        [day("2025-03-12"), None, None, None, None],
        [day("2025-03-13"), None, None, None, "rained all day"],
    ]})  # fmt: skip
    return Truth([
        Entry(day("2025-03-03"), HOTEL, FOOD, kg=40 * LB),
        Entry(day("2025-03-03"), SCHOOL, FOOD, kg=41 * LB),
        Entry(day("2025-03-03"), SCHOOL, LEAVES, kg=41 * LB),
    ], aside={"no quantity": 2}, skipped={"nothing delivered": 4, "closed": 2, "blank": 1, "note": 1})  # fmt: skip


@case("gross and tare", "net zero", "gross with containers")
def gross_and_tare(folder: Path) -> Truth:
    writers.xlsx(folder / "scale.xlsx", {"Scale": [
        ["Date", "Source", "Material", "Totes", "Gross (lb)", "Tare (lb)", "Net (lb)"],
        [day("2025-03-03"), "hotel", "food scraps", 3, 150, 27, 123],
        [day("2025-03-04"), "hotel", "food scraps", 2, 100, 18, None],
        [day("2025-03-05"), "hotel", "food scraps", 2, 100, None, None],
        [day("2025-03-06"), "hotel", "food scraps", 1, 8, 9, None],
        [day("2025-03-07"), "hotel", "food scraps", 3, 150, 9, None],
    ]})  # fmt: skip
    return Truth([
        Entry(day("2025-03-03"), HOTEL, FOOD, kg=123 * LB, count=3, container="tote"),
        Entry(day("2025-03-04"), HOTEL, FOOD, kg=82 * LB, count=2, container="tote"),
        Entry(day("2025-03-05"), HOTEL, FOOD, gross=100 * LB, count=2, container="tote"),
        # site.toml: a tote weighs 9 lb, so the tare written is one tote's and three were weighed
        Entry(day("2025-03-07"), HOTEL, FOOD, kg=123 * LB, count=3, container="tote"),
    ], aside={"net mass zero or less": 1})  # fmt: skip


@case("contamination %", "contamination lb", "contamination words", "percent format")
def contamination(folder: Path) -> Truth:
    writers.xlsx(folder / "contam.xlsx", {
        "As formatted": [
            ["Date", "Source", "Material", "Weight (kg)", "Contamination %"],
            [day("2025-03-03"), "hotel", "food scraps", 50, 0.05],
            [day("2025-03-04"), "hotel", "food scraps", 60, 0.12],
            [day("2025-03-05"), "hotel", "food scraps", 70, 0],
        ],
        "As typed": [
            ["Date", "Source", "Material", "Weight (lb)", "Trash pulled"],
            [day("2025-03-10"), "school", "food scraps", 50, "2 lb"],
            [day("2025-03-11"), "school", "food scraps", 60, "3%"],
            [day("2025-03-12"), "school", "food scraps", 70, "none"],
            [day("2025-03-13"), "school", "food scraps", 80, 4],
            [day("2025-03-14"), "school", "food scraps", 90, "a little plastic"],
        ],
    }, percent={"As formatted": [4]})  # fmt: skip
    return Truth([
        Entry(day("2025-03-03"), HOTEL, FOOD, kg=50, share=0.05),
        Entry(day("2025-03-04"), HOTEL, FOOD, kg=60, share=0.12),
        Entry(day("2025-03-05"), HOTEL, FOOD, kg=70, share=0),
        Entry(day("2025-03-10"), SCHOOL, FOOD, kg=50 * LB, removed=2 * LB),
        Entry(day("2025-03-11"), SCHOOL, FOOD, kg=60 * LB, share=0.03),
        Entry(day("2025-03-12"), SCHOOL, FOOD, kg=70 * LB, removed=0),
        Entry(day("2025-03-13"), SCHOOL, FOOD, kg=80 * LB, removed=4 * LB),
        Entry(day("2025-03-14"), SCHOOL, FOOD, kg=90 * LB),
    ])  # fmt: skip


@case("fill as number", "fill turned into a date", "fill words")
def fills(folder: Path) -> Truth:
    rows = [
        (0.75, 0.75), (75, 0.75), ("half", 0.5), ("3/4", 0.75), (day("2025-03-04"), 0.75),
        (day("2025-01-02"), 0.5), ("level", 1.0), ("~ 1/2", 0.5), ("7/8 full", 0.875), (None, None), ("120%", 1.2),
    ]  # fmt: skip
    d = day("2025-03-10")
    writers.xlsx(folder / "fills.xlsx", {"Log": [
        ["Date", "Source", "Material", "Totes", "How full?"],
        *[[d, "hotel", "food scraps", n + 1, written] for n, (written, _) in enumerate(rows)],
        [d, "hotel", "food scraps", 30, "quite"],
    ]})  # fmt: skip
    return Truth(
        [
            Entry(d, HOTEL, FOOD, count=n + 1, container="tote", fill=f)
            for n, (_, f) in enumerate(rows)
        ],
        aside={"quantity unreadable": 1},
    )


@case("unknown unit", "no unit anywhere", "unit from most cells")
def units_missing(folder: Path) -> Truth:
    writers.xlsx(folder / "units.xlsx", {
        "Quintals": [["Date", "Source", "Material", "Weight (quintals)"], [day("2025-03-03"), "hotel", "food scraps", 6], [day("2025-03-04"), "hotel", "food scraps", 7]],
        "Hundredweights": [["Date", "Source", "Material", "Weight (cwt)"], [day("2025-03-03"), "hotel", "food scraps", 6], [day("2025-03-04"), "hotel", "food scraps", 7]],
        "Silent": [["Date", "Source", "Material", "Weight"], [day("2025-03-05"), "hotel", "food scraps", 40], [day("2025-03-06"), "hotel", "food scraps", 45]],
        "Mostly": [["Date", "Source", "Material", "Weight"], [day("2025-03-07"), "hotel", "food scraps", "40 lb"], [day("2025-03-08"), "hotel", "food scraps", "41 lb"], [day("2025-03-09"), "hotel", "food scraps", 42]],
    })  # fmt: skip
    return Truth([
        Entry(day("2025-03-03"), HOTEL, FOOD, kg=600 * LB),  # a hundredweight is 100 lb by a short ton
        Entry(day("2025-03-04"), HOTEL, FOOD, kg=700 * LB),
        Entry(day("2025-03-07"), HOTEL, FOOD, kg=40 * LB),
        Entry(day("2025-03-08"), HOTEL, FOOD, kg=41 * LB),
        Entry(day("2025-03-09"), HOTEL, FOOD, kg=42 * LB),
    ], aside={"unit unknown": 4})  # fmt: skip


@case("material beside the quantity", "two containers in one cell", "two materials in one cell")
def all_in_one_cell(folder: Path) -> Truth:
    writers.xlsx(folder / "diary.xlsx", {"Diary": [
        ["Date", "From", "What came in"],
        [day("2025-03-03"), "hotel", "3 totes food scraps"],
        [day("2025-03-04"), "florist", "2 bags of cut flowers"],
        [day("2025-03-05"), "ladle", "1 pail coffee grounds + 2 totes food scraps"],
        [day("2025-03-06"), "school", "40 lb food scraps"],
    ]})  # fmt: skip
    return Truth([
        Entry(day("2025-03-03"), HOTEL, FOOD, count=3, container="tote"),
        Entry(day("2025-03-04"), FLORIST, FLOWERS, count=2, container="bag"),
        Entry(day("2025-03-05"), LADLE, COFFEE, count=1, container="pail"),
        Entry(day("2025-03-05"), LADLE, FOOD, count=2, container="tote"),
        Entry(day("2025-03-06"), SCHOOL, FOOD, kg=40 * LB),
    ])  # fmt: skip


@case("container sizes", "size column", "capacity of none of the site's")
def sizes(folder: Path) -> Truth:
    writers.xlsx(folder / "sizes.xlsx", {"Log": [
        ["Date", "Source", "Material", "Qty", "Container size (gal)", "% full"],
        [day("2025-03-03"), "hotel", "food scraps", 3, 64, 50],
        [day("2025-03-04"), "hotel", "food scraps", 2, 5, 100],
        [day("2025-03-05"), "hotel", "food scraps", 2, 20, 50],
    ]})  # fmt: skip
    return Truth([
        Entry(day("2025-03-03"), HOTEL, FOOD, count=3, container="cart", fill=0.5),
        Entry(day("2025-03-04"), HOTEL, FOOD, count=2, container="pail", fill=1.0),
        Entry(day("2025-03-05"), HOTEL, FOOD, count=2, fill=0.5, m3=20 * GAL),
    ])  # fmt: skip
