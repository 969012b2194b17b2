"""What is no table as it lies: tables on their side, slips, calendars, diaries."""

from __future__ import annotations

import calendar
from pathlib import Path

from . import writers
from .book import COFFEE, FLOWERS, FOOD, HOTEL, LADLE, LB, LEAVES, SCHOOL, Entry, Truth, case, day

Grid = list[list[object]]


@case("on its side", "total by label")
def tables_on_their_side(folder: Path) -> Truth:
    one, two, three = day("2025-03-03"), day("2025-03-04"), day("2025-03-05")
    writers.xlsx(folder / "turned.xlsx", {
        "A": [["Date", one, two, three], ["Source", "hotel", "school", "hotel"], ["Material", "leaves", "coffee", "leaves"],
              ["Weight (lb)", 60, 22, 61]],
        "B": [["Food scraps, brought in pails"], [], ["Date", one, None, two, "Total"], ["From", "hotel", "school", "hotel", None],
              ["# of pails", 3, 2, 4, 9], ["How full", "3/4", None, "full"], ["Notes", None, "lids off"]],
        "C": [["Hotel"], ["Date:", one, two, three], ["Food scraps (lb):", 20, None, "closed"], ["Coffee (lb):", 5, 6, None],
              ["Initials:", "RT", "RT", "AB"]],
    }, merge={"B": ["B3:C3"]})  # fmt: skip
    writers.text(folder / "2025.csv", [
        ["Weight", "lb", "12", "13"], ["Date", "", "Mar 3", "Mar 4"], ["Source", "", "copper ladle", "Zed's"], ["Material", "", "leaves", "leaves"],
    ])  # fmt: skip
    return Truth([
        Entry(one, HOTEL, LEAVES, kg=60 * LB),
        Entry(two, SCHOOL, COFFEE, kg=22 * LB),
        Entry(three, HOTEL, LEAVES, kg=61 * LB),
        Entry(one, HOTEL, FOOD, count=3, container="pail", fill=0.75),
        Entry(one, SCHOOL, FOOD, count=2, container="pail"),
        Entry(two, HOTEL, FOOD, count=4, container="pail", fill=1.0),
        Entry(one, HOTEL, FOOD, kg=20 * LB),
        Entry(one, HOTEL, COFFEE, kg=5 * LB),
        Entry(two, HOTEL, COFFEE, kg=6 * LB),
        Entry(one, LADLE, LEAVES, kg=12 * LB),
        Entry(two, "Zed's", LEAVES, kg=13 * LB),
    ], skipped={"total or subtotal": 1, "closed": 1})  # fmt: skip


@case("on its side", "French headings", "title rows above")
def a_table_on_its_side_for_each_month(folder: Path) -> Truth:
    writers.xlsx(folder / "log.xlsx", {
        "By month": [
            ["March 2025"], ["Date", 3, 10, 17], ["Source", "hotel", "school", "hotel"], ["Material", "leaves", "coffee", "leaves"],
            ["Weight (lb)", 20, 21, 22], [],
            ["April 2025"], ["Date", 7, 14], ["Source", "hotel", "school"], ["Material", "leaves", "coffee"], ["Weight (lb)", 23, "none"],
        ],
        "Mars 2025": [
            [None, "Provenance :", "hotel", "ladle"], [None, "Date :", "4 mars", "5 mars"], [None, "Matière :", "leaves", "cut flowers"],
            [None, "Poids (kg) :", "12,5", 8], [None, "Provenance :", "school", "school"], [None, "Date :", "6 mars", None],
            [None, "Matière :", "leaves", "leaves"], [None, "Poids (kg) :", 9, 10],
        ],
    })  # fmt: skip
    return Truth([
        Entry(day("2025-03-03"), HOTEL, LEAVES, kg=20 * LB),
        Entry(day("2025-03-10"), SCHOOL, COFFEE, kg=21 * LB),
        Entry(day("2025-03-17"), HOTEL, LEAVES, kg=22 * LB),
        Entry(day("2025-04-07"), HOTEL, LEAVES, kg=23 * LB),
        Entry(day("2025-03-04"), HOTEL, LEAVES, kg=12.5),
        Entry(day("2025-03-05"), LADLE, FLOWERS, kg=8),
        Entry(day("2025-03-06"), SCHOOL, LEAVES, kg=9),
    ], aside={"no date": 1}, skipped={"nothing delivered": 1})  # fmt: skip


def _slip(labels: str, *said: object, title: str = "Drop-off slip") -> Grid:
    words = labels.split("|")
    rows = [[w, *(s if isinstance(s, tuple) else (s,))] for w, s in zip(words, said, strict=True)]
    return [[title], *rows]


@case("slips")
def slips_under_one_another(folder: Path) -> Truth:
    one, two, three = day("2025-03-03"), day("2025-03-04"), day("2025-03-05")
    form = "Date:|From:|What:|Amount:|Signed:"
    french = "Date :|De qui :|Quoi :|Poids (lb) :"
    writers.xlsx(folder / "slips.xlsx", {
        "A": [*_slip(form, one, "hotel", "food scraps", "60 lb", "RT"), [],
              *_slip(form, two, "school", "coffee", "2 pails", None), [],
              *_slip(form, None, None, None, None, None), ["Thank you!"]],
        "B": [*_slip(french, "3 mars 2025", "hotel", "leaves", 20, title="Bon de dépôt"),
              *_slip(french, "4 mars 2025", None, "leaves", 21, title="Bon de dépôt")],
        "C": [["Date: March 3, 2025"], ["Donor: Copper Ladle"], ["Material: coffee"], ["How much: ½ pail"], [],
              ["Date: March 5, 2025"], ["Donor: school"], ["Material: leaves"], ["How much: two totes"]],
        "D": [["Date:"], [one], ["From:"], ["hotel"], ["What:"], ["cut flowers"], ["Amount:"], ["9 lb"], ["Notes:"], [],
              ["Date:"], [three], ["From:"], ["hotel"], ["What:"], ["cut flowers"], ["Amount:"], ["10 lb"], ["Notes:"], ["wet"]],
        "E": [["Date", one], ["Supplier", "school"], ["Contents", "coffee"], ["Weight", 14, "lb"], [],
              ["Date", "no idea"], ["Supplier", "hotel"], ["Contents", "coffee"], ["Weight", 15, "lb"]],
    })  # fmt: skip
    return Truth([
        Entry(one, HOTEL, FOOD, kg=60 * LB),
        Entry(two, SCHOOL, COFFEE, count=2, container="pail"),
        Entry(one, HOTEL, LEAVES, kg=20 * LB),
        Entry(two, None, LEAVES, kg=21 * LB),  # a line left blank is not carried down from another slip
        Entry(one, LADLE, COFFEE, count=1, container="pail", fill=0.5),
        Entry(three, SCHOOL, LEAVES, count=2, container="tote"),
        Entry(one, HOTEL, FLOWERS, kg=9 * LB),
        Entry(three, HOTEL, FLOWERS, kg=10 * LB),
        Entry(one, SCHOOL, COFFEE, kg=14 * LB),
    ], aside={"no date": 1}, codes=("source not recorded",))  # fmt: skip


@case("slips", "quantity unreadable")
def slips_side_by_side_and_one_a_sheet(folder: Path) -> Truth:
    one, two, three = day("2025-03-03"), day("2025-03-04"), day("2025-03-05")
    beside: Grid = [
        ["Drop-off slip", None, None, "Drop-off slip"], ["Date:", one, None, "Date:", two], ["From:", "hotel", None, "From:", "school"],
        ["What:", "leaves", None, "What:", "coffee"], ["Amount:", "20 lb", None, "Amount:", "1 pail"], [],
        ["Drop-off slip", None, None, "Drop-off slip"], ["Date:", three, None, "Date:", None], ["From:", "ladle", None, "From:", None],
        ["What:", "leaves", None, "What:", None], ["Amount:", "3 totes", None, "Amount:", None],
    ]  # fmt: skip
    writers.xlsx(folder / "pads.xlsx", {
        "Beside": beside,
        "Two by two": [["Date:", one, "From:", "hotel"], ["What:", "leaves", "Weight (lb):", 31],
                       ["Date:", two, "From:", "ladle"], ["What:", "coffee", "Weight (lb):", 32]],
        "No. 101": [["Kestrel Bend Community Farm"], ["Slip no. 101"], ["Date:", two], ["From:", "hotel"], ["Food scraps:", "2 totes"],
                    ["Coffee:", None], ["Leaves:", "20 lb"], ["Signature:"]],
        "No. 102": [["Date:", "March 5, 2025"], ["Driver:", "Bo"], ["Material:", "coffee"], ["Weight:", "7 lb"]],
    })  # fmt: skip
    writers.xlsx(folder / "doubtful.xlsx", {  # is the pail a part of it, or a load of its own?
        "Slips": [*_slip("Date:|From:|What:|Amount:", one, "hotel", "food scraps", "60 lb"), [None, "1 pail"],
                  *_slip("Date:|From:|What:|Amount:", two, "hotel", "food scraps", "61 lb")],
    })  # fmt: skip
    return Truth([
        Entry(one, HOTEL, LEAVES, kg=20 * LB),
        Entry(two, SCHOOL, COFFEE, count=1, container="pail"),
        Entry(three, LADLE, LEAVES, count=3, container="tote"),
        Entry(one, HOTEL, LEAVES, kg=31 * LB),
        Entry(two, LADLE, COFFEE, kg=32 * LB),
        Entry(two, HOTEL, FOOD, count=2, container="tote"),
        Entry(two, HOTEL, LEAVES, kg=20 * LB),
        Entry(three, None, COFFEE, kg=7 * LB),
    ], aside={"quantity unreadable": 2})  # fmt: skip


def _month(year: int, month: int, said: dict[int, object], head: str, first: int = 0) -> Grid:
    """Return a month drawn as a calendar, a row of numbers and a row of squares for each week."""
    names = head.split()
    rows: Grid = [[*names]]
    for week in calendar.Calendar(first).monthdayscalendar(year, month):
        days = week[: len(names)]
        if any(days):
            rows += [[d or None for d in days], [said.get(d) if d else None for d in days]]
    return rows


_DAYS = "Monday Tuesday Wednesday Thursday Friday Saturday Sunday"


@case("calendars", "French headings")
def months_drawn_as_calendars(folder: Path) -> Truth:
    texts = {
        3: "hotel 2 totes food scraps", 4: "1 pail coffee (school)", 5: "closed", 6: "Ann's birthday", 31: "Copper Ladle: 20 lb leaves",
        11: "2 totes to the school", 12: "3 totes, 3/4 full",
    }  # fmt: skip
    short = _month(2025, 5, {1: "2 bacs", 30: "12,5 kg"}, "lun mar mer jeu ven")
    summed = [[*row, *([None] * (7 - len(row))), *more] for row, more in zip(
        _month(2024, 6, {3: 10, 4: 11, 28: 12}, "S M T W T F S", 6), [["Total"], [], [], [], [], [], [], [], [], [], [], []], strict=False,
    )]  # fmt: skip
    writers.xlsx(folder / "2025.xlsx", {
        "March 2025": _month(2025, 3, texts, _DAYS),
        "May": [["Restes de cuisine"], ["hotel"], *short, ["Total", "2 bacs"]],
        "Numbers": [["June 2024, leaves from the school (lb)"], *summed],
        "Squares": [["April 2025 - hotel - leaves"], ["Mon", "Tue", "Wed", "Thu", "Fri"], [None, "1: 2 totes", "2", "3", "4 - 1 tote"],
                    ["7", "8 5 lb", "9", "10", "11"]],
        "Who": [["March 2025"],
                ["Week", "Mon", "Tue", "Wed", "Thu", "Fri"], ["10", 3, 4, 5, 6, 7], ["hotel", "2 totes leaves", None, "1 pail coffee"],
                ["school", None, "9 lb coffee"], ["11", 10, 11, 12, 13, 14], ["hotel", "3 totes leaves"], ["school"]],
    })  # fmt: skip
    return Truth([
        Entry(day("2025-03-03"), HOTEL, FOOD, count=2, container="tote"),
        Entry(day("2025-03-04"), SCHOOL, COFFEE, count=1, container="pail"),
        Entry(day("2025-03-31"), LADLE, LEAVES, kg=20 * LB),
        Entry(day("2025-05-01"), HOTEL, FOOD, count=2, container="tote"),
        Entry(day("2025-05-30"), HOTEL, FOOD, kg=12.5),
        *(Entry(day(f"2024-06-{n:02}"), SCHOOL, LEAVES, kg=lb * LB) for n, lb in ((3, 10), (4, 11), (28, 12))),
        Entry(day("2025-04-01"), HOTEL, LEAVES, count=2, container="tote"),
        Entry(day("2025-04-04"), HOTEL, LEAVES, count=1, container="tote"),
        Entry(day("2025-04-08"), HOTEL, LEAVES, kg=5 * LB),
        Entry(day("2025-03-03"), HOTEL, LEAVES, count=2, container="tote"),
        Entry(day("2025-03-05"), HOTEL, COFFEE, count=1, container="pail"),
        Entry(day("2025-03-04"), SCHOOL, COFFEE, kg=9 * LB),
        Entry(day("2025-03-10"), HOTEL, LEAVES, count=3, container="tote"),
    ], aside={"quantity unreadable": 1, "no material": 1}, skipped={"closed": 1, "total or subtotal": 1})  # fmt: skip


@case("calendars", "quantity unreadable")
def calendars_nobody_could_be_sure_of(folder: Path) -> Truth:
    right = _month(2025, 3, {3: "2 totes leaves", 4: "1 tote leaves"}, _DAYS)
    writers.xlsx(folder / "doubtful.xlsx", {
        "April 2025": right,  # 3 April 2025 was no Monday: an old heading, or an old month?
        "Sheet2": [["Leaves (lb)"], *_month(2025, 3, {3: 20, 5: 22}, _DAYS)],  # of no month
        "March 2025": [["Leaves (lb)"], *right[:1], [3, 4, 5, 6, 7], [10, None, 12], [17, 18, 19, 20, 21], [24, None, 26]],  # a week is missing
    })  # fmt: skip
    return Truth([], aside={"quantity unreadable": 8})


@case("diaries", "entries in words only", "French headings")
def diaries_of_a_yard(folder: Path) -> Truth:
    writers.xlsx(folder / "diaries.xlsx", {
        "Yard 2025": [
            ["Yard diary"], ["Monday 3 March"], ["Two totes of food scraps from the Copper Ladle"], ["1 pail coffee, school"],
            ["Rained all day."], [], ["March 10"], ["hotel: 3 pails food scraps, 3/4 full"], ["Returned 2 totes to the hotel"],
            ["Tuesday"], ["hotel 1 tote food scraps"],
        ],
        "In a line": [
            ["March 3, 2025: hotel, 2 totes food scraps"], ["March 4, 2025 - 12 lb coffee from school"], ["March 6, 2025: nothing"],
            ["3/4 tote of leaves from the hotel"],
        ],
        "Journal": [["3 mars 2025"], ["hotel :"], ["2 bacs de leaves"], ["school :"], ["12,5 kg de coffee"], ["Total : 2 bacs"]],
        "By day": [[day("2025-03-03")], ["hotel", "food scraps", "2 pails"], ["school", "coffee", "1 pail"], [day("2025-03-04")],
                  ["hotel", "leaves", "30 lb"]],
    })  # fmt: skip
    one, two, six = day("2025-03-03"), day("2025-03-04"), day("2025-03-06")
    return Truth([
        Entry(one, LADLE, FOOD, count=2, container="tote"),
        Entry(one, SCHOOL, COFFEE, count=1, container="pail"),
        Entry(day("2025-03-10"), HOTEL, FOOD, count=3, container="pail", fill=0.75),
        Entry(one, HOTEL, FOOD, count=2, container="tote"),
        Entry(two, SCHOOL, COFFEE, kg=12 * LB),
        Entry(six, HOTEL, LEAVES, count=1, container="tote", fill=0.75),
        Entry(one, HOTEL, LEAVES, count=2, container="tote"),
        Entry(one, SCHOOL, COFFEE, kg=12.5),
        Entry(one, HOTEL, FOOD, count=2, container="pail"),
        Entry(one, SCHOOL, COFFEE, count=1, container="pail"),
        Entry(two, HOTEL, LEAVES, kg=30 * LB),
    ], aside={"quantity unreadable": 2}, skipped={"nothing delivered": 1, "total or subtotal": 1})  # fmt: skip


@case("on its side", "slips", "quantity unreadable")
def forms_with_something_missing(folder: Path) -> Truth:
    one, two, three = day("2025-03-03"), day("2025-03-04"), day("2025-03-05")
    writers.xlsx(folder / "forms.xlsx", {
        "No word for the day": [["Log of the yard", "RT"], [None, one, two], ["Source", "hotel", "school"], ["Material", "leaves", "coffee"],
                                ["Amount", "2 totes", "9 lb"]],
        "In one cell": [["Date: March 3, 2025  From: hotel  What: leaves  Amount: 20 lb"],
                        ["Date: March 4, 2025  From: school  What: coffee  Amount: 2 pails"]],
        "Site's own": [["Kestrel Bend Community Farm", None, "Kestrel Bend Community Farm"], ["Date:", one, "Date:", three],
                       ["Who:", None, "Who:", "ladle"], ["What:", "leaves", "What:", "leaves"], ["How much:", "1 tote", "How much:", "3 totes"]],
        "Example": [["Date:", one], ["From:", "hotel"], ["What:", "leaves"], ["Weight:", "20 lb"]],
    })  # fmt: skip
    french: list[list[object]] = []
    for n, much in ((4, "8 lb"), (5, "9 kg"), (6, "deux seaux")):
        french += [
            [f"Quand : {n} mars 2025"],
            ["De qui : hotel"],
            ["Contenu : coffee"],
            [f"Quantité : {much}"],
            [],
        ]
    french[3] = ["Quantité : 8 lb", None, "ou 9"]  # nobody can tell which
    writers.xlsx(folder / "doubtful.xlsx", {
        "Bons": french,
        "Under a log": [["Date", "Source", "Material", "Weight (lb)"], [one, "hotel", "leaves", 11], [],
                        ["Date:", two], ["From:", "hotel"], ["What:", "leaves"], ["Weight:", "20 lb"],
                        ["Date:", three], ["From:", "hotel"], ["What:", "leaves"], ["Weight:", "21 lb"]],
    })  # fmt: skip
    return Truth([
        Entry(one, HOTEL, LEAVES, count=2, container="tote"),
        Entry(two, SCHOOL, COFFEE, kg=9 * LB),
        Entry(one, HOTEL, LEAVES, kg=20 * LB),
        Entry(two, SCHOOL, COFFEE, count=2, container="pail"),
        Entry(one, None, LEAVES, count=1, container="tote"),
        Entry(three, LADLE, LEAVES, count=3, container="tote"),
    ], aside={"quantity unreadable": 7})  # fmt: skip


@case("calendars", "diaries", "French headings")
def names_beside_the_days(folder: Path) -> Truth:
    numbers: dict[int, object] = {3: "hotel 20", 5: "school 5", 11: 6, 31: "ladle, 7"}
    two_a_day: Grid = [
        ["Mon", None, "Tue", None, "Wed", None, "Thu", None, "Fri", None],
        [day("2025-04-07"), "2 totes", day("2025-04-08"), None, day("2025-04-09"), "1 pail", day("2025-04-10"), None, day("2025-04-11"), None],
    ]  # fmt: skip
    writers.xlsx(folder / "2025.xlsx", {
        "March 2025": [["Leaves (lb)"], *_month(2025, 3, numbers, "lun mar mer jeu ven sam dim")],
        "April 2025": [["Hotel coffee"], *two_a_day],
        "Two months": [
            ["May 2025 - hotel - leaves"], *_month(2025, 5, {5: "1 tote"}, _DAYS), [],
            ["June 2025 - hotel - leaves"], *_month(2025, 6, {2: "2 totes", 30: "n/a"}, _DAYS), ["Total", "3 totes"],
        ],
        "Diary": [["March 3 - Hotel"], ["2 totes food scraps"], ["9:30 1 pail coffee"], ["March 4 - School"], ["Also a pail of leaves"],
                  ["Hotel 20"], ["Washed the totes."]],
        "Carnet": [["Hotel"], ["3 mars"], ["2 seaux de leaves"], ["5 mars"], ["rien"], ["School"], ["3 mars"], ["un seau de leaves"]],
    })  # fmt: skip
    three, four = day("2025-03-03"), day("2025-03-04")
    return Truth([
        Entry(three, HOTEL, LEAVES, kg=20 * LB),
        Entry(day("2025-03-05"), SCHOOL, LEAVES, kg=5 * LB),
        Entry(day("2025-03-11"), None, LEAVES, kg=6 * LB),
        Entry(day("2025-03-31"), LADLE, LEAVES, kg=7 * LB),
        Entry(day("2025-04-07"), HOTEL, COFFEE, count=2, container="tote"),
        Entry(day("2025-04-09"), HOTEL, COFFEE, count=1, container="pail"),
        Entry(day("2025-05-05"), HOTEL, LEAVES, count=1, container="tote"),
        Entry(day("2025-06-02"), HOTEL, LEAVES, count=2, container="tote"),
        Entry(three, HOTEL, FOOD, count=2, container="tote"),
        Entry(three, HOTEL, COFFEE, count=1, container="pail"),
        Entry(four, SCHOOL, LEAVES, count=1, container="pail"),
        Entry(three, HOTEL, LEAVES, count=2, container="pail"),
        Entry(three, SCHOOL, LEAVES, count=1, container="pail"),
    ], aside={"quantity unreadable": 1}, skipped={"nothing delivered": 2, "total or subtotal": 1})  # fmt: skip
