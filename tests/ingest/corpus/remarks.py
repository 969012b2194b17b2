"""Rows and words among the entries that speak of the log, and entries with a word too many."""

from __future__ import annotations

from pathlib import Path

from divert.site.model import Container

from . import writers
from .book import (
    COFFEE,
    FOOD,
    GAL,
    HOTEL,
    LADLE,
    LB,
    LEAVES,
    SCHOOL,
    WEIGHED,
    Entry,
    L,
    Truth,
    case,
    day,
)  # fmt: skip


@case("notes below", "rows that speak of the log")
def goals_and_gaps_among_the_rows(folder: Path) -> Truth:
    a, b = day("2025-03-03"), day("2025-03-10")
    said = [
        "Goal for March", "Remaining", "% change", "Difference", "Days", "# of pickups", "Pounds to date",
        "Scale check: 25 lb weight read", "Phone", "Écart", "Objectif", "Nombre",
    ]  # fmt: skip
    rows = [[text, None, None, 999 + n] for n, text in enumerate(said)]
    writers.xlsx(
        folder / "log.xlsx",
        {"Log": [WEIGHED, [a, "hotel", "food scraps", 20], *rows, [b, "school", "coffee", 30]]},
    )
    writers.xlsx(folder / "across.xlsx", {"2024": [
        ["Food scraps (lb)"], ["Date", "Hotel", "Ladle"],
        ["Target", 500, 500], [day("2024-03-04"), 11, 12], ["Last year", 9, 8], ["Change", 2, 4],
    ]})  # fmt: skip
    return Truth([
        Entry(a, HOTEL, FOOD, kg=20 * LB),
        Entry(b, SCHOOL, COFFEE, kg=30 * LB),
        Entry(day("2024-03-04"), HOTEL, FOOD, kg=11 * LB),
        Entry(day("2024-03-04"), LADLE, FOOD, kg=12 * LB),
    ])  # fmt: skip


@case("no date", "rows that speak of the log")
def a_load_of_the_changed_route(folder: Path) -> Truth:
    """Words for a date beside a source and a material: what they weigh was a load, of which day nobody says."""
    rows = [
        [day("2025-03-03"), "hotel", "food scraps", 20],
        ["Change of route", "school", "coffee", 30],
    ]
    writers.xlsx(folder / "log.xlsx", {"Log": [WEIGHED, *rows]})
    return Truth([Entry(day("2025-03-03"), HOTEL, FOOD, kg=20 * LB)], aside={"no date": 1})


@case("free quantity column", "nothing", "ways to write an amount")
def amounts_with_a_word_about_them(folder: Path) -> Truth:
    d = day("2025-03-05")
    writers.xlsx(folder / "notes.xlsx", {"Log": [
        ["Date", "Source", "Notes"],
        [d, "hotel", "2 totes of coffee, wet"],
        [d, "school", "III pails food scraps"],
        [d, "ladle", "nobody there"],
        [d, "ladle", "no scraps"],
        [d, "ladle", "20 lb in 1 pail, leaves"],
    ]})  # fmt: skip
    writers.xlsx(folder / "net.xlsx", {"Log": [
        ["Date", "Source", "Material", "Quantity"],
        [d, "hotel", "leaves", "43.5 lb (50 minus tare)"],
        [d, "school", "leaves", "41 lb (50 - 9)"],
        [d, "ladle", "leaves", "41 lb (50 - 7)"],
    ]})  # fmt: skip
    return Truth([
        Entry(d, HOTEL, COFFEE, count=2, container="tote"),
        Entry(d, SCHOOL, FOOD, count=3, container="pail"),
        Entry(d, LADLE, LEAVES, kg=20 * LB, count=1, container="pail"),
        Entry(d, HOTEL, LEAVES, kg=43.5 * LB),
        Entry(d, SCHOOL, LEAVES, kg=41 * LB),
    ], aside={"quantity unreadable": 1}, skipped={"nothing delivered": 2})  # fmt: skip


@case("tallies")
def a_tally(folder: Path) -> Truth:
    a, b, c = day("2025-03-03"), day("2025-03-04"), day("2025-03-05")
    writers.xlsx(
        folder / "tally.xlsx",
        {"Hotel": [["Date", "Coffee carts (tally)"], [a, "IIII"], [b, "|||"], [c, "5"]]},
    )
    return Truth(
        [Entry(d, HOTEL, COFFEE, count=n, container="cart") for d, n in ((a, 4), (b, 3), (c, 5))]
    )


@case("csv comma", "bars between cells", "trailing note")
def bars_between_cells(folder: Path) -> Truth:
    rows = 'Month: March 2025\nDate|Source|Material|Weight (lb)\n3|hotel|food scraps|20.5\n"5, later"|school|coffee|11\n'
    (folder / "bars.csv").write_text(rows)
    return Truth([
        Entry(day("2025-03-03"), HOTEL, FOOD, kg=20.5 * LB),
        Entry(day("2025-03-05"), SCHOOL, COFFEE, kg=11 * LB),
    ])  # fmt: skip


@case("wide by material", "containers that name their material")
def bags_of_leaves(folder: Path) -> Truth:
    a, b = day("2025-03-03"), day("2025-03-05")
    writers.xlsx(folder / "log.xlsx", {"Log": [
        ["Date", "Source", "Food scraps totes", "Coffee pails", "Leaf bags"],
        [a, "school", 2, 1, None], [b, "hotel", 1, None, 4],
    ]})  # fmt: skip
    boxes = (
        Container("pail", (), 5 * GAL, 1.9 * LB, 0.9),
        Container("tote", (), 32 * GAL, 9 * LB),
        Container("leaf bag", (), 30 * GAL, 0.0, 1.0),
    )
    return Truth([
        Entry(a, SCHOOL, FOOD, count=2, container="tote"),
        Entry(a, SCHOOL, COFFEE, count=1, container="pail"),
        Entry(b, HOTEL, FOOD, count=1, container="tote"),
        Entry(b, HOTEL, LEAVES, count=4, container="leaf bag"),
    ], site={"containers": boxes})  # fmt: skip


@case("3 x 64 gal", "sizes that are close")
def bins_of_240_litres_beside_carts_of_64_gallons(folder: Path) -> Truth:
    d = day("2025-03-03")
    boxes = (Container("bin", (), 240 * L, 11.0, 0.8), Container("cart", (), 64 * GAL, 13.0, 0.8))
    rows = [[d, "hotel", "leaves", "2 x 240 L"], [d, "school", "leaves", "3 x 64 gal"]]
    writers.xlsx(folder / "log.xlsx", {"Log": [["Date", "Source", "Material", "Quantity"], *rows]})
    return Truth([
        Entry(d, HOTEL, LEAVES, count=2, container="bin"),
        Entry(d, SCHOOL, LEAVES, count=3, container="cart"),
    ], site={"containers": boxes})  # fmt: skip


@case("negative corrections", "a correction with a word about it")
def a_correction_that_says_why(folder: Path) -> Truth:
    d = day("2025-03-03")
    head = [*WEIGHED, "Comment"]
    writers.xlsx(folder / "log.xlsx", {"Log": [
        head,
        [d, "hotel", "food scraps", 55, None],
        [d, "hotel", "food scraps", 55, None],
        [d, "hotel", "food scraps", -55, "entered twice"],
        [d, "school", "coffee", 12, None],
        [d, "school", "coffee", -12, "already counted"],
    ]})  # fmt: skip
    return Truth([Entry(d, HOTEL, FOOD, kg=55 * LB)], skipped={"correction": 4})


@case("text numbers", "ways to write an amount")
def half_a_pail_without_a_nought(folder: Path) -> Truth:
    d = day("2025-03-03")
    said = [
        (".5 pail", {"count": 1, "container": "pail", "fill": 0.5}), ("~.75 tote", {"count": 1, "container": "tote", "fill": 0.75}),
        (",5 kg", {"kg": 0.5}), ("3 bucketfuls", {"count": 3, "container": "pail"}), ("2 cart loads", {"count": 2, "container": "cart"}),
        ("23 lb - with bag", {"kg": 23 * LB}), ("40 lb est.", {"kg": 40 * LB}),
    ]  # fmt: skip
    rows = [[d, "hotel", "food scraps", text] for text, _ in said] + [
        [d, "hotel", "food scraps", "40 lb with tote"]
    ]
    writers.xlsx(folder / "log.xlsx", {"Log": [["Date", "Source", "Material", "Quantity"], *rows]})
    return Truth(
        [Entry(d, HOTEL, FOOD, **said) for _, said in said], aside={"quantity unreadable": 1}
    )  # type: ignore[arg-type]


@case("slips in numbers", "ways to write an amount", "two loads in one cell")
def one_cell_and_what_it_adds_up_to(folder: Path) -> Truth:
    d = day("2025-03-03")
    said: list[tuple[str, list[dict[str, object]]]] = [
        ("2 pails + 10 lb", [{"count": 2, "container": "pail"}, {"kg": 10 * LB}]),
        ("10 lb and 1 tote", [{"count": 1, "container": "tote"}, {"kg": 10 * LB}]),
        ("2 pails, 40 lb", [{"count": 2, "container": "pail", "kg": 40 * LB}]),
        ("20 lb x 2", [{"kg": 40 * LB}]),
        ("twenty-five lb", [{"kg": 25 * LB}]),
        ("vingt et un kg", [{"kg": 21}]),
        ("un quart de bac", [{"count": 1, "container": "tote", "fill": 0.25}]),
        ("1 quart de seau", [{"count": 1, "container": "pail", "fill": 0.25}]),
        ("40 l b", [{"kg": 40 * LB}]),
        ("12 lb + bag", [{"kg": 12 * LB}]),
        ("12 lb + 1 cart", [{"count": 1, "container": "cart"}, {"kg": 12 * LB}]),
    ]  # fmt: skip
    slips = ["l0 lb", "lO lb", "S0 lb", "O lb", "55-", "12 lb + tote"]
    rows = [[d, "hotel", "food scraps", text] for text in (*(t for t, _ in said), *slips)]
    writers.xlsx(folder / "log.xlsx", {"Log": [["Date", "Source", "Material", "Quantity"], *rows]})
    writers.text(folder / "looked up.csv", [WEIGHED, ["2025-03-04", "school", "coffee", "#N/A"]])
    return Truth(
        [Entry(d, HOTEL, FOOD, **one) for _, ones in said for one in ones],  # type: ignore[arg-type]
        aside={"quantity unreadable": len(slips), "no quantity": 1},
    )


@case("nothing removed", "more taken out than came")
def more_taken_out_than_came(folder: Path) -> Truth:
    d = day("2025-03-03")
    writers.xlsx(folder / "log.xlsx", {"Log": [
        [*WEIGHED, "Trash removed (lb)"],
        [d, "hotel", "food scraps", 20, 25],
        [d, "school", "food scraps", 21, 21],
    ]})  # fmt: skip
    return Truth(
        [Entry(d, SCHOOL, FOOD, kg=21 * LB, removed=21 * LB)], aside={"quantity unreadable": 1}
    )


@case("row repeated within a file", "loads entered twice")
def loads_entered_twice(folder: Path) -> Truth:
    """What is said to stand there twice goes only where it does; else it is set aside and asked about."""
    a, b, c = day("2025-03-03"), day("2025-03-04"), day("2025-03-05")
    writers.xlsx(folder / "log.xlsx", {"Log": [
        [*WEIGHED, "Notes"],
        [a, "hotel", "food scraps", 20, None],
        [a, "hotel", "food scraps", 20, "duplicate of above"],
        [b, "hotel", "food scraps", 21, "entered twice"],
        [b, "hotel", "food scraps", 21, "entered twice"],
        [c, "hotel", "food scraps", 22, "entered twice"],
        [c, "school", "food scraps", 23, "VOID"],
        [c, "school", "food scraps", 24, "see duplicate key on hook"],
    ]})  # fmt: skip
    return Truth([
        Entry(a, HOTEL, FOOD, kg=20 * LB), Entry(b, HOTEL, FOOD, kg=21 * LB),
        Entry(c, SCHOOL, FOOD, kg=24 * LB),
    ], aside={"not explained": 1}, skipped={"correction": 3}, codes=("not explained", "correction", "notes not understood"))  # fmt: skip


@case("unknown unit", "one entry a row")
def a_weight_with_words_nobody_knows(folder: Path) -> Truth:
    """Beside a count it is the same load's: one entry a row, held back where its unit is not told."""
    a, b = day("2025-03-03"), day("2025-03-04")
    head = ["Date", "Source", "Material", "How many", "Container", "Weight on big scale"]
    writers.xlsx(folder / "log.xlsx", {"Log": [
        head, [a, "hotel", "leaves", 2, "pail", 46], [b, "hotel", "leaves", 1, "pail", None], ]})  # fmt: skip
    return Truth([
        Entry(b, HOTEL, LEAVES, count=1, container="pail"),
    ], aside={"unit unknown": 1})  # fmt: skip


@case("net of what was sorted out", "nothing removed")
def what_was_left_when_it_was_sorted(folder: Path) -> Truth:
    a, b, c = day("2025-03-03"), day("2025-03-04"), day("2025-03-05")
    writers.xlsx(folder / "net.xlsx", {"Log": [
        ["Date", "Source", "Material", "Gross lb", "Trash lb", "Net lb"],
        [a, "hotel", "food scraps", 50, 0, 50], [b, "hotel", "food scraps", 51, 1, 50],
    ]})  # fmt: skip
    writers.xlsx(folder / "français.xlsx", {"Registre": [
        ["Date", "Donateur", "Matière", "Poids total (kg)", "Rejets (kg)", "Poids net (kg)"],
        [c, "school", "food scraps", 52, 2, 50],
    ]})  # fmt: skip
    return Truth([
        Entry(a, HOTEL, FOOD, kg=50 * LB, removed=0),
        Entry(b, HOTEL, FOOD, kg=51 * LB, removed=1 * LB),
        Entry(c, SCHOOL, FOOD, kg=52, removed=2),
    ])  # fmt: skip


@case("dates across", "no date")
def a_day_nobody_wrote_over_its_column(folder: Path) -> Truth:
    one, three = day("2025-03-03"), day("2025-03-17")
    writers.xlsx(folder / "log.xlsx", {"2025": [
        ["Coffee (lb)"],
        ["Source", one, None, three],
        ["hotel", 20, 21, 22], ["school", 23, 24, None],
    ]})  # fmt: skip
    return Truth([
        Entry(one, HOTEL, COFFEE, kg=20 * LB),
        Entry(three, HOTEL, COFFEE, kg=22 * LB),
        Entry(one, SCHOOL, COFFEE, kg=23 * LB),
    ], aside={"no date": 2})  # fmt: skip


@case("sheet per month", "a heading left out")
def a_month_without_its_heading(folder: Path) -> Truth:
    def rows(month: int) -> list[list[object]]:
        return [
            [day(f"2025-{month:02}-03"), "hotel", "food scraps", 20 + month],
            [day(f"2025-{month:02}-10"), "school", "coffee", 30 + month],
        ]

    writers.xlsx(
        folder / "2025.xlsx",
        {"Jan": [WEIGHED, *rows(1)], "Feb": rows(2), "Mar": [WEIGHED, *rows(3)]},
    )
    # The columns lie otherwise there: nobody can tell what its numbers are.
    writers.xlsx(folder / "2024.xlsx", {
        "Jan": [["Date", "Source", "Material", "Pails", "Weight (lb)"], [day("2024-01-03"), "hotel", "leaves", None, 9]],
        "Feb": [[day("2024-02-03"), "hotel", "leaves", 1], [day("2024-02-10"), "school", "leaves", 2]],
        "Mar": [["Date", "Material", "Source", "lb"], [day("2024-03-03"), "leaves", "hotel", 8]],
    })  # fmt: skip
    return Truth([
        *(Entry(day(f"2025-{m:02}-03"), HOTEL, FOOD, kg=(20 + m) * LB) for m in (1, 2, 3)),
        *(Entry(day(f"2025-{m:02}-10"), SCHOOL, COFFEE, kg=(30 + m) * LB) for m in (1, 2, 3)),
        Entry(day("2024-01-03"), HOTEL, LEAVES, kg=9 * LB), Entry(day("2024-03-03"), HOTEL, LEAVES, kg=8 * LB),
    ], aside={"unit unknown": 2})  # fmt: skip


@case("ditto marks", "notes below")
def a_remark_between_a_day_and_its_ditto(folder: Path) -> Truth:
    writers.text(folder / "log.csv", [
        WEIGHED, ["2025-03-03", "hotel", "food scraps", 20], ["scale broken this week"], ['"', "school", "coffee", 21],
        ["2025-03-10", "hotel", "leaves", 22], ["Total", "", "", 63], ['"', "school", "leaves", 23],
    ])  # fmt: skip
    return Truth([
        Entry(day("2025-03-03"), HOTEL, FOOD, kg=20 * LB), Entry(day("2025-03-03"), SCHOOL, COFFEE, kg=21 * LB),
        Entry(day("2025-03-10"), HOTEL, LEAVES, kg=22 * LB),
    ], aside={"no date": 1})  # fmt: skip
