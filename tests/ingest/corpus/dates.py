"""Dates as crews type them, and what settles the ones that can be read two ways."""

from __future__ import annotations

import datetime as dt
from pathlib import Path

from . import writers
from .book import COFFEE, FOOD, HEAD, HOTEL, LADLE, LB, LEAVES, SCHOOL, Entry, Truth, case, day


def _rows(dates: list[object], start: int = 10) -> list[list[object]]:
    return [[written, "hotel", "food scraps", start + n] for n, written in enumerate(dates)]


def _true(days: list[str], start: int = 10) -> list[Entry]:
    return [Entry(day(d), HOTEL, FOOD, kg=(start + n) * LB) for n, d in enumerate(days) if d]


@case("dates as text", "French dates", "date and time", "serial numbers", "typing slips")
def many_shapes(folder: Path) -> Truth:
    written = [
        "March 3, 2025", "4 March 2025", "5-Mar-25", "Thurs. Mar 6, 2025", "2025/03/07", "20250308",
        "lundi 10 mars 2025", "le 11 mars 2025", "1er avril 2025", "2025-04-02T08:30:00", "3 avr. 2025 à 9h15",
        "Apr. 4th, 2025 8:30 AM", 45754, "45755", "Febuary 12 2025", "week of April 14, 2025", "15 avril 2025 (en retard)",
        dt.datetime(2025, 4, 16, 14, 5),
    ]  # fmt: skip
    days = [
        "2025-03-03", "2025-03-04", "2025-03-05", "2025-03-06", "2025-03-07", "2025-03-08",
        "2025-03-10", "2025-03-11", "2025-04-01", "2025-04-02", "2025-04-03",
        "2025-04-04", "2025-04-07", "2025-04-08", "2025-02-12", "2025-04-14", "2025-04-15",
        "2025-04-16",
    ]  # fmt: skip
    writers.xls(folder / "shapes.xls", {"Log": [HEAD, *_rows(written)]})
    return Truth(_true(days))


@case("day first by the column's own evidence")
def day_first(folder: Path) -> Truth:
    written = ["03/04/2025", "07/04/2025", "14/04/2025", "21/04/2025", "05/05/2025"]
    writers.text(folder / "uk.csv", [HEAD, *_rows(written)])
    return Truth(_true(["2025-04-03", "2025-04-07", "2025-04-14", "2025-04-21", "2025-05-05"]))


@case("month first by site.toml", "date order settled by site.toml")
def settled_by_site(folder: Path) -> Truth:
    written = ["03/04/2025", "03/05/2025", "03/06/2025"]
    writers.text(folder / "us.csv", [HEAD, *_rows(written)])
    return Truth(
        _true(["2025-03-04", "2025-03-05", "2025-03-06"]),
        codes=("date order settled by site.toml",),
        site={"dates": "month first"},
    )


@case("date order asked")
def nothing_settles(folder: Path) -> Truth:
    written = ["05/04/2025", "March 12, 2025", "04/05/2025"]
    writers.text(folder / "unclear.csv", [HEAD, *_rows(written)])
    return Truth(
        [Entry(day("2025-03-12"), HOTEL, FOOD, kg=11 * LB)], aside={"date order ambiguous": 2}
    )


@case("order by the sheet's month")
def sheet_month_settles(folder: Path) -> Truth:
    writers.xlsx(folder / "2025.xlsx", {
        "April": [HEAD, *_rows(["03/04/2025", "07/04/2025", "10/04/2025"])],
        "May": [HEAD, *_rows(["05/01/2025", "05/08/2025"], 20)],
    })  # fmt: skip
    return Truth(
        _true(["2025-04-03", "2025-04-07", "2025-04-10"]) + _true(["2025-05-01", "2025-05-08"], 20)
    )


@case("two-digit years", "order by what another sheet of the file shows")
def two_digit_years(folder: Path) -> Truth:
    writers.xlsx(folder / "short.xlsx", {
        "A": [HEAD, *_rows(["1/2/25", "2/2/25", "1/3/25"])],
        "B": [HEAD, *_rows(["13/3/25", "14/3/25"], 20)],
    })  # fmt: skip
    return Truth(
        _true(["2025-02-01", "2025-02-02", "2025-03-01"]) + _true(["2025-03-13", "2025-03-14"], 20)
    )


@case("year from the rows before", "year turns over")
def year_turns_over(folder: Path) -> Truth:
    written = ["Dec 2, 2024", "Dec 16", "Jan 6", "Jan 20", "Feb 3, 2025", "Mar 3"]
    writers.xlsx(folder / "winter.xlsx", {"Winter": [HEAD, *_rows(written)]})  # type: ignore[arg-type]
    return Truth(
        _true(["2024-12-02", "2024-12-16", "2025-01-06", "2025-01-20", "2025-02-03", "2025-03-03"])
    )


@case("no year anywhere", "no date", "date unreadable")
def no_year(folder: Path) -> Truth:
    writers.xlsx(folder / "undated.xlsx", {
        "Loads": [HEAD, *_rows(["May 5", "May 6"])],
        "More": [HEAD, [day("2025-03-03"), "hotel", "food scraps", 20], [None, "school", "food scraps", 21],
                 [day("2025-03-04"), "hotel", "food scraps", 22], ["someday", "hotel", "food scraps", 23],
                 [day("2025-03-05"), "ladle", "coffee", 24], [day("2025-03-05"), "ladle", "coffee", 25]],
    })  # fmt: skip
    return Truth([
        Entry(day("2025-03-03"), HOTEL, FOOD, kg=20 * LB),
        Entry(day("2025-03-04"), HOTEL, FOOD, kg=22 * LB),
        Entry(day("2025-03-05"), LADLE, COFFEE, kg=24 * LB),
        Entry(day("2025-03-05"), LADLE, COFFEE, kg=25 * LB),
    ], aside={"no date": 4})  # fmt: skip


@case("date in the future", "date before the start")
def out_of_range(folder: Path) -> Truth:
    writers.xlsx(
        folder / "range.xlsx",
        {"Log": [HEAD, *_rows([day("2052-03-03"), day("2025-03-04"), day("2015-03-05")])]},
    )
    return Truth([Entry(day("2025-03-04"), HOTEL, FOOD, kg=11 * LB)],
                 aside={"date in the future": 1, "date before the start": 1})  # fmt: skip


@case("year, month and day columns", "month name column")
def parts_of_dates(folder: Path) -> Truth:
    writers.xlsx(folder / "parts.xlsx", {
        "Parts": [["Year", "Month", "Day", "Source", "Material", "lb"], [2025, 3, 4, "hotel", "coffee", 10], [2025, "April", 5, "school", "food scraps", 11]],
        "2024": [["Month", "Source", "Material", "kg"], ["January", "hotel", "food scraps", 400], ["February", "hotel", "food scraps", 380]],
    })  # fmt: skip
    return Truth([
        Entry(day("2025-03-04"), HOTEL, COFFEE, kg=10 * LB),
        Entry(day("2025-04-05"), SCHOOL, FOOD, kg=11 * LB),
        Entry(day("2024-01-01"), HOTEL, FOOD, kg=400),  # a month's sum stands on its first day
        Entry(day("2024-02-01"), HOTEL, FOOD, kg=380),
    ])  # fmt: skip


@case("financial year in the sheet name")
def financial_year(folder: Path) -> Truth:
    writers.xlsx(
        folder / "book.xlsx", {"2024-25": [HEAD, *_rows(["Sep 5", "Dec 12", "Jan 9", "Jun 5"])]}
    )
    return Truth(_true(["2024-09-05", "2024-12-12", "2025-01-09", "2025-06-05"]))


@case("dates as text", "missing year from sheet name")
def a_year_in_a_row_of_its_own(folder: Path) -> Truth:
    writers.xlsx(folder / "log.xlsx", {"Log": [
        [2024], HEAD, ["11/20", "hotel", "food scraps", 10], ["12/28", "hotel", "food scraps", 11],
        [2025], ["1/5", "ladle", "coffee", 12], ["13 févr.", "ladle", "coffee", 13], ["Année 2026"], ["1/6", "ladle", "coffee", 14],
    ]})  # fmt: skip
    said = [("2024-11-20", HOTEL, FOOD), ("2024-12-28", HOTEL, FOOD), ("2025-01-05", LADLE, COFFEE),
            ("2025-02-13", LADLE, COFFEE), ("2026-01-06", LADLE, COFFEE)]  # fmt: skip
    return Truth([
        Entry(day(d), s, m, kg=(10 + n) * LB) for n, (d, s, m) in enumerate(said)
    ])  # fmt: skip


@case("dates across")
def years_across_months_down(folder: Path) -> Truth:
    writers.xlsx(folder / "school.xlsx", {
        "Food scraps (lb)": [["Month", 2023, 2024, 2025], ["Jan", 100, 120, 130], ["Feb", 90, None, 99], ["Total", 190, 120, 229]],
    })  # fmt: skip
    writers.text(folder / "Hotel - coffee (lb).csv", [["Mois", "2024", "2025"], ["mars", "20", "21"], ["avril", "22", ""]])  # fmt: skip
    food = [("2023-01", 100), ("2024-01", 120), ("2025-01", 130), ("2023-02", 90), ("2025-02", 99)]
    coffee = [("2024-03", 20), ("2025-03", 21), ("2024-04", 22)]
    return Truth([
        *(Entry(day(f"{m}-01"), SCHOOL, FOOD, kg=lb * LB) for m, lb in food),
        *(Entry(day(f"{m}-01"), HOTEL, COFFEE, kg=lb * LB) for m, lb in coffee),
    ])  # fmt: skip


@case("missing year from sheet name", "title rows above")
def years_of_spans_and_bands(folder: Path) -> Truth:
    head = ["Date", "Source", "Material", "lb"]
    for place, (name, title, days) in enumerate(
        (
            ("a.csv", "Fiscal year July 2023 to June 2024", ("7/15", "1/15", "6/15")),
            ("b.csv", "De juillet 2023 à juin 2024", ("15 juillet", "15 janvier", "15 juin")),
            ("c.csv", "07/2023 - 06/2024", ("Jul 15", "Jan 15", "Jun 15")),
            ("f.csv", "FY 2024 (Jul-Jun)", ("15-Jul", "15-Jan", "15-Jun")),
            ("g.csv", "2023/24, July to June", ("July 15", "January 15", "June 15")),
            ("h.csv", "SY23-24", ("15 Jul", "15 Jan", "15 Jun")),
        )
    ):
        rows = [[text, "hotel", "leaves", str(20 + 3 * place + n)] for n, text in enumerate(days)]
        writers.text(folder / name, [[title, "", "", ""], head, *rows])
    # Nobody can tell which of the two years is 2024, nor when a day outside the school's year was.
    writers.text(
        folder / "i.csv", [["2024 (Jul-Jun)", "", "", ""], head, ["8/16", "hotel", "coffee", "32"]]
    )
    writers.text(folder / "d.csv", [
        ["Sept 2023 - May 2024", "", "", ""], head, ["10/2", "hotel", "coffee", "30"], ["7/4", "hotel", "coffee", "31"],
    ])  # fmt: skip
    writers.text(folder / "e.csv", [
        ["Month", "Source", "Material", "lb"],
        ["2023", "", "", ""], ["Nov", "school", "coffee", "40"], ["Dec", "school", "coffee", "41"],
        ["2024", "", "", ""], ["Nov", "school", "coffee", "42"],
    ])  # fmt: skip
    entries = [
        Entry(day(text), HOTEL, LEAVES, kg=(20 + 3 * place + n) * LB)
        for place in range(6)
        for n, text in enumerate(("2023-07-15", "2024-01-15", "2024-06-15"))
    ]
    entries.append(Entry(day("2023-10-02"), HOTEL, COFFEE, kg=30 * LB))
    entries += [
        Entry(day(text), SCHOOL, COFFEE, kg=(40 + n) * LB)
        for n, text in enumerate(("2023-11-01", "2023-12-01", "2024-11-01"))
    ]
    return Truth(entries, aside={"no date": 2}, site={"dates": "month first"})
