"""Totals, corrections, copies and repeats: what must not be counted, or needs a look."""

from __future__ import annotations

import datetime as dt
import shutil
from pathlib import Path

from divert.core.mark import TABLES
from divert.site.model import Answer, Material

from . import writers
from .book import COFFEE, FOOD, HEAD, HOTEL, LADLE, LB, LEAVES, SCHOOL, Entry, Truth, case, day


@case("total by arithmetic", "subtotal by arithmetic")
def unlabelled_totals(folder: Path) -> Truth:
    writers.xlsx(folder / "sums.xlsx", {"Log": [
        HEAD,
        [day("2025-03-03"), "hotel", "food scraps", 100],
        [day("2025-03-04"), "school", "food scraps", 80.5],
        [day("2025-03-05"), "hotel", "food scraps", 90],
        [None, None, None, 270.5],
        [],
        [day("2025-04-07"), "hotel", "food scraps", 70],
        [day("2025-04-08"), "ladle", "coffee", 30],
        [None, None, None, 100],
        [None, None, None, 370.5],
        [None, None, None, 55],
    ]})  # fmt: skip
    return Truth([
        Entry(day("2025-03-03"), HOTEL, FOOD, kg=100 * LB),
        Entry(day("2025-03-04"), SCHOOL, FOOD, kg=80.5 * LB),
        Entry(day("2025-03-05"), HOTEL, FOOD, kg=90 * LB),
        Entry(day("2025-04-07"), HOTEL, FOOD, kg=70 * LB),
        Entry(day("2025-04-08"), LADLE, COFFEE, kg=30 * LB),
    ], aside={"no date": 1}, skipped={"total or subtotal": 3})  # fmt: skip


@case("negative corrections")
def corrections(folder: Path) -> Truth:
    writers.xlsx(folder / "fixes.xlsx", {"Log": [
        [*HEAD, "Notes"],
        [day("2025-03-03"), "hotel", "food scraps", 100, None],
        [day("2025-03-04"), "hotel", "food scraps", 900, None],
        [day("2025-03-04"), "hotel", "food scraps", -900, "typed wrong"],
        [day("2025-03-04"), "hotel", "food scraps", 90, None],
        [day("2025-03-05"), "school", "food scraps", -12, "took some back?"],
        [day("2025-03-06"), "school", "food scraps", "-3 totes", None],
        [day("2025-03-06"), "school", "food scraps", 40, None],
    ]})  # fmt: skip
    return Truth([
        Entry(day("2025-03-03"), HOTEL, FOOD, kg=100 * LB),
        Entry(day("2025-03-04"), HOTEL, FOOD, kg=90 * LB),
        Entry(day("2025-03-06"), SCHOOL, FOOD, kg=40 * LB),
    ], aside={"correction matches no entry": 2}, skipped={"correction": 2}, codes=("correction",))  # fmt: skip


@case("exact copy of a file")
def copied_file(folder: Path) -> Truth:
    writers.xlsx(
        folder / "a.xlsx",
        {
            "Log": [
                HEAD,
                [day("2025-03-03"), "hotel", "food scraps", 100],
                [day("2025-03-04"), "hotel", "food scraps", 101],
            ]
        },
    )
    (folder / "old").mkdir()
    shutil.copy(folder / "a.xlsx", folder / "old" / "a (copy).xlsx")
    return Truth([
        Entry(day("2025-03-03"), HOTEL, FOOD, kg=100 * LB),
        Entry(day("2025-03-04"), HOTEL, FOOD, kg=101 * LB),
    ], aside={"exact copy of a file": 2})  # fmt: skip


@case("row repeated within a file", "row repeated across files", "answer settles a query")
def repeated_rows(folder: Path) -> Truth:
    rows = [
        HEAD,
        [day("2025-03-03"), "hotel", "food scraps", 100],
        [day("2025-03-03"), "hotel", "food scraps", 100],
        [day("2025-03-04"), "school", "leaves", 20],
    ]
    writers.xlsx(folder / "main.xlsx", {"Log": rows})
    writers.text(
        folder / "again.csv",
        [["When", "From", "What", "Weight (lb)"], ["2025-03-04", "School", "leaves", "20"]],
    )
    return Truth([
        Entry(day("2025-03-03"), HOTEL, FOOD, kg=100 * LB),
        Entry(day("2025-03-03"), HOTEL, FOOD, kg=100 * LB),
        Entry(day("2025-03-04"), SCHOOL, LEAVES, kg=20 * LB),
        Entry(day("2025-03-04"), SCHOOL, LEAVES, kg=20 * LB),
    ], codes=("row repeated exactly",), site={"answers": (Answer("main.xlsx!Log!D3", "two runs that day", "RT"),)})  # fmt: skip


@case("weight row and volume row of one load")
def weight_and_volume_rows(folder: Path) -> Truth:
    writers.xlsx(folder / "log.xlsx", {"Log": [
        ["Date", "Source", "Material", "Totes", "lb"],
        [day("2025-03-03"), "hotel", "food scraps", 3, None],
        [day("2025-03-04"), "school", "food scraps", 2, None],
    ]})  # fmt: skip
    writers.xlsx(
        folder / "scale.xlsx", {"Scale": [HEAD, [day("2025-03-03"), "hotel", "food scraps", 120]]}
    )
    return Truth([
        Entry(day("2025-03-03"), HOTEL, FOOD, count=3, container="tote"),
        Entry(day("2025-03-04"), SCHOOL, FOOD, count=2, container="tote"),
        Entry(day("2025-03-03"), HOTEL, FOOD, kg=120 * LB),
    ], codes=("weight row and volume row of one load",))  # fmt: skip


@case("count far outside habit", "weekly habit broken")
def habits(folder: Path) -> Truth:
    first = dt.date(2025, 1, 6)
    weeks = [n for n in range(16) if n not in (9, 12)]
    counts = [3, 4, 3, 3, 2, 3, 4, 3, 33, 3, 4, 3, 2, 3]
    rows = [
        [first + dt.timedelta(weeks=w), "hotel", "food scraps", c]
        for w, c in zip(weeks, counts, strict=True)
    ]
    closed = [first + dt.timedelta(weeks=12), "closed", None, None]
    writers.xlsx(
        folder / "weekly.xlsx", {"Log": [["Date", "Source", "Material", "Totes"], *rows, closed]}
    )
    return Truth(
        [Entry(r[0], HOTEL, FOOD, count=r[3], container="tote") for r in rows],
        skipped={"closed": 1},
        codes=("count far outside habit", "weekly habit broken"),
    )


@case("written by this tool")
def own_output(folder: Path) -> Truth:
    writers.xlsx(
        folder / "log.xlsx", {"Log": [HEAD, [day("2025-03-03"), "hotel", "food scraps", 100]]}
    )
    writers.text(folder / "ledger.csv", [list(TABLES[0]), ["intake", "2025-03-03", HOTEL, FOOD]])
    return Truth(
        [Entry(day("2025-03-03"), HOTEL, FOOD, kg=100 * LB)], codes=("written by this tool",)
    )


@case("unknown names kept as found", "source not recorded", "no material")
def names(folder: Path) -> Truth:
    writers.xlsx(folder / "names.xlsx", {
        "Log": [HEAD, [day("2025-03-03"), "Harbourside Hotl", "food scraps", 100], [day("2025-03-04"), None, "food scraps", 50],
                [day("2025-03-05"), "hotel", "pond weed", 20], [day("2025-03-06"), "hotel", None, 21], [day("2025-03-07"), "HOTEL", "Food Scraps ", 22]],
        "No material": [["Date", "Source", "lb"], [day("2025-03-08"), "hotel", 5]],
    })  # fmt: skip
    return Truth([
        Entry(day("2025-03-03"), "Harbourside Hotl", FOOD, kg=100 * LB),
        Entry(day("2025-03-04"), None, FOOD, kg=50 * LB),
        Entry(day("2025-03-05"), HOTEL, "pond weed", kg=20 * LB),
        Entry(day("2025-03-07"), HOTEL, FOOD, kg=22 * LB),
    ], aside={"no material": 2}, codes=("source not recorded",))  # fmt: skip


@case("a sum of a sum", "averages")
def averages(folder: Path) -> Truth:
    writers.xlsx(folder / "stats.xlsx", {"Log": [
        ["Date", "Source", "Material", "lb", "Running total"],
        [day("2025-03-03"), "hotel", "food scraps", 100, 100],
        [day("2025-03-04"), "hotel", "food scraps", 60, 160],
        [day("2025-03-05"), "hotel", "leaves", 20, 180],
        ["Average", None, None, 60, None],
        ["March total", None, None, 180, None],
    ]})  # fmt: skip
    return Truth([
        Entry(day("2025-03-03"), HOTEL, FOOD, kg=100 * LB),
        Entry(day("2025-03-04"), HOTEL, FOOD, kg=60 * LB),
        Entry(day("2025-03-05"), HOTEL, LEAVES, kg=20 * LB),
    ], skipped={"total or subtotal": 2})  # fmt: skip


@case("coffee at a café with a closed week")
def french_closed(folder: Path) -> Truth:
    writers.text(folder / "cafe.csv", [
        ["Date", "Quantité", "Remarques"],
        ["2025-03-03", "2 seaux", ""], ["2025-03-10", "fermé", ""], ["2025-03-17", "aucune collecte", ""], ["2025-03-24", "1 seau 3/4 plein", "café moulu"],
        ["Total", "3 seaux", ""],
    ], encoding="cp1252", separator=";")  # fmt: skip
    return Truth([
        Entry(day("2025-03-03"), None, COFFEE, count=2, container="pail"),
        Entry(day("2025-03-24"), None, COFFEE, count=1, container="pail", fill=0.75),
    ], skipped={"closed": 1, "nothing delivered": 1, "total or subtotal": 1}, site={"materials": (Material("coffee grounds", like="coffee-grounds"),)})  # fmt: skip
