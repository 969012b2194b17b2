"""Sums that name what they sum: a source, a quarter, a year, the months of another sheet."""

from __future__ import annotations

from pathlib import Path

from divert.site.model import SheetRule

from . import writers
from .book import COFFEE, FOOD, HEAD, HOTEL, LADLE, LB, LEAVES, SCHOOL, Entry, Truth, case, day


@case("subtotal by arithmetic")
def subtotals_named_for_a_source(folder: Path) -> Truth:
    a, b, c = day("2025-03-03"), day("2025-03-10"), day("2025-03-12")
    writers.xlsx(folder / "sums.xlsx", {
        "Blocks": [HEAD, [a, "hotel", "food scraps", 20], [b, "hotel", "coffee", 30], [None, "hotel", None, 50],
                   [a, "school", "food scraps", 21], [None, "school", None, 21],
                   [b, "ladle", "coffee", 31], [c, "ladle", "leaves", 5], [None, "ladle", None, 36]],
        "Below": [HEAD, [a, "hotel", "leaves", 11], [b, "ladle", "leaves", 12], [c, "hotel", "leaves", 13],
                  [None, "hotel", None, 24], [None, "ladle", None, 12], [None, None, "leaves", 36]],
        # A day stands once over its loads: the last is no sum of the two before it, though it equals it.
        "Grouped": [HEAD, [day("2025-04-01"), "hotel", "leaves", 10], [None, None, "coffee", 20], [None, "school", None, 20],
                    [day("2025-04-02"), "hotel", "leaves", 7], [None, None, "coffee", 9], [None, "school", None, 4]],
    })  # fmt: skip
    said = [
        (a, HOTEL, FOOD, 20), (b, HOTEL, COFFEE, 30), (a, SCHOOL, FOOD, 21), (b, LADLE, COFFEE, 31), (c, LADLE, LEAVES, 5),
        (a, HOTEL, LEAVES, 11), (b, LADLE, LEAVES, 12), (c, HOTEL, LEAVES, 13),
        (day("2025-04-01"), HOTEL, LEAVES, 10), (day("2025-04-01"), HOTEL, COFFEE, 20), (day("2025-04-01"), SCHOOL, COFFEE, 20),
        (day("2025-04-02"), HOTEL, LEAVES, 7), (day("2025-04-02"), HOTEL, COFFEE, 9), (day("2025-04-02"), SCHOOL, COFFEE, 4),
    ]  # fmt: skip
    return Truth([Entry(d, s, m, kg=lb * LB) for d, s, m, lb in said], skipped={"total or subtotal": 6})  # fmt: skip


@case("subtotal by arithmetic", "no date")
def sums_of_months_quarters_and_years(folder: Path) -> Truth:
    days = [day("2025-02-03"), day("2025-03-10"), day("2025-05-03"), day("2025-05-10")]
    writers.xlsx(folder / "log 2025.xlsx", {
        "Tall": [HEAD, [days[0], "hotel", "food scraps", 20], [days[1], "school", "coffee", 30], ["March", None, None, 30],
                 ["Q1", None, None, 50], [days[2], "hotel", "food scraps", 21], [days[3], "school", "coffee", 31],
                 ["May", None, None, 52], ["T2 2025", None, None, 52], [2025, None, None, 102]],
        "Wide": [["Food scraps (lb)"], ["Date", "Hotel", "Ladle"], [days[0], 1, 2], [days[1], 3, None], ["1er trimestre", 4, 2],
                 [days[2], 5, 6], [days[3], 7, 8], ["May", 12, 14], ["June", 9, None], ["2025", 25, 16]],
        "Out of date": [["Leaves (lb)"], ["Date", "Hotel"], [days[2], 40], [days[3], 42], ["May", 80]],
    })  # fmt: skip
    tall = [(HOTEL, FOOD, 20), (SCHOOL, COFFEE, 30), (HOTEL, FOOD, 21), (SCHOOL, COFFEE, 31)]
    wide = [(0, HOTEL, 1), (0, LADLE, 2), (1, HOTEL, 3), (2, HOTEL, 5), (2, LADLE, 6), (3, HOTEL, 7), (3, LADLE, 8)]  # fmt: skip
    return Truth([
        *(Entry(d, s, m, kg=lb * LB) for d, (s, m, lb) in zip(days, tall, strict=True)),
        *(Entry(days[n], s, FOOD, kg=lb * LB) for n, s, lb in wide),
        Entry(day("2025-06-01"), HOTEL, FOOD, kg=9 * LB),  # a month of which nothing else is logged
        Entry(days[2], HOTEL, LEAVES, kg=40 * LB), Entry(days[3], HOTEL, LEAVES, kg=42 * LB),
    ], aside={"no date": 1})  # fmt: skip


@case("no date")
def loads_that_happen_to_equal_a_sum(folder: Path) -> Truth:
    heads = ["Date", "Fournisseur", "Matière", "Nb", "Contenant", "Plein"]
    d = day("2025-02-08")
    writers.xlsx(folder / "bacs.xlsx", {"Journal": [
        heads, [d, "quillmarsh", "leaves", 1, "tote", "plein"], [day("2025-02-11"), "quillmarsh", "coffee", 3, "tote", "75%"],
        [None, "hotel", "food scraps", 4, "tote", "50%"],
        [day("2025-02-12"), "quillmarsh", "leaves", 2, "tote", "plein"], [day("2025-02-13"), "quillmarsh", "coffee", 3, "tote", "75%"],
        [day("2025-02-14"), "hotel", "leaves", 3, "tote", "75%"],
    ]})  # fmt: skip
    said = [("08", SCHOOL, LEAVES, 1, 1.0), ("11", SCHOOL, COFFEE, 3, 0.75), ("12", SCHOOL, LEAVES, 2, 1.0),
            ("13", SCHOOL, COFFEE, 3, 0.75), ("14", HOTEL, LEAVES, 3, 0.75)]  # fmt: skip
    return Truth([
        Entry(day(f"2025-02-{n}"), s, m, count=c, container="tote", fill=f) for n, s, m, c, f in said
    ], aside={"no date": 1}, skipped={"total or subtotal": 0})  # fmt: skip


_LOG = [HEAD, [day("2025-03-03"), "hotel", "food scraps", 20], [day("2025-03-10"), "ladle", "coffee", 11],
        [day("2025-03-12"), "hotel", "food scraps", 30], [day("2025-04-03"), "ladle", "coffee", 21]]  # fmt: skip
_LOADS = [Entry(day("2025-03-03"), HOTEL, FOOD, kg=20 * LB), Entry(day("2025-03-10"), LADLE, COFFEE, kg=11 * LB),
          Entry(day("2025-03-12"), HOTEL, FOOD, kg=30 * LB), Entry(day("2025-04-03"), LADLE, COFFEE, kg=21 * LB)]  # fmt: skip


@case("total by arithmetic")
def months_summed_on_other_sheets(folder: Path) -> Truth:
    writers.xlsx(folder / "a board.xlsx", {"For the board": [
        ["Month", "Food scraps (lb)", "Coffee (lb)"], ["March 2025", 50, 11], ["April 2025", None, 21], ["Total", 50, 32],
    ]})  # fmt: skip
    writers.xlsx(folder / "log.xlsx", {
        "Log": _LOG,
        "Par mois": [["Mois", "Poids (lb)", "Matière"], [day("2025-03-01"), 50, "food scraps"], [day("2025-03-01"), 11, "coffee"],
                     [day("2025-04-01"), 21, "coffee"]],
        "Sheet3": [["All weights in lb"], ["Source", "March 2025", "April 2025"], ["hotel", 50, None], ["ladle", 11, 21]],
        "Before": [["Month", "Leaves (lb)"], ["January 2025", 70], ["February 2025", 80]],
    })  # fmt: skip
    older = [Entry(day(f"2025-0{n}-01"), None, LEAVES, kg=lb * LB) for n, lb in ((1, 70), (2, 80))]
    return Truth([*_LOADS, *older])


@case("total by arithmetic", "no date")
def sums_under_the_log(folder: Path) -> Truth:
    below = [[], ["By source"], ["Source", "Weight (lb)"], ["hotel", 50], ["ladle", 32], ["Total", 82],
             [], ["By material", "Weight (lb)"], ["food scraps", 50], ["coffee", 32]]  # fmt: skip
    writers.xlsx(folder / "log.xlsx", {"2025": [*_LOG, *below]})
    return Truth(_LOADS)


@case("total by arithmetic", "no date")
def months_that_may_be_sums(folder: Path) -> Truth:
    """Of the first table one month does not fit: nobody can tell. The others may be loads of their own,
    or sums from which some day is missing: nobody can tell that either, unless site.toml does."""
    days = ["2025-03-03", "2025-04-03", "2025-05-03", "2025-06-03", "2025-07-03"]
    writers.xlsx(folder / "log.xlsx", {
        "Log": [HEAD, *([day(d), "hotel", "food scraps", 10 + n] for d in days for n in (0, 1))],
        "Months": [["Month", "Food scraps (lb)"], ["March 2025", 21], ["April 2025", 21], ["May 2025", 21],
                   ["June 2025", 21], ["July 2025", 25]],
    })  # fmt: skip
    writers.xlsx(folder / "other.xlsx", {"A": [["Month", "Food scraps (lb)"], ["March 2025", 400], ["April 2025", 380]]})  # fmt: skip
    writers.xlsx(
        folder / "near.xlsx",
        {"B": [["Month", "Food scraps (lb)"], ["March 2025", 22], ["April 2025", 21]]},
    )
    writers.xlsx(folder / "more.xlsx", {"C": [["Month", "Food scraps (lb)"], ["May 2025", 300]]})
    loads = [Entry(day(d), HOTEL, FOOD, kg=(10 + n) * LB) for d in days for n in (0, 1)]
    rule = SheetRule("more.xlsx", None, "intake", (), ())
    return Truth(
        [*loads, Entry(day("2025-05-01"), None, FOOD, kg=300 * LB)],
        aside={"no date": 5},
        site={"sheets": (rule,)},
    )


@case("total by arithmetic", "pivot tables")
def what_a_spreadsheet_program_summed_up(folder: Path) -> Truth:
    a, b = day("2025-03-03"), day("2025-04-03")
    writers.xlsx(folder / "log.xlsx", {
        "Log": [HEAD, [a, "hotel", "food scraps", 20], [a, "school", "food scraps", 30], [b, "hotel", "food scraps", 21]],
        "Sheet3": [["Sum of lb", "Column Labels"], ["Row Labels", "hotel", "school", "Grand Total"],
                   [a, 20, 30, 50], [b, 21, None, 21], ["Grand Total", 41, 30, 71]],
        "Feuil1": [["Somme de lb", "Étiquettes de colonnes"], ["Étiquettes de lignes", "hotel", "school", "Total général"],
                   [a, 20, 30, 50], [b, 21, None, 21], ["Total général", 41, 30, 71]],
    })  # fmt: skip
    return Truth([
        Entry(a, HOTEL, FOOD, kg=20 * LB), Entry(a, SCHOOL, FOOD, kg=30 * LB), Entry(b, HOTEL, FOOD, kg=21 * LB),
    ])  # fmt: skip
