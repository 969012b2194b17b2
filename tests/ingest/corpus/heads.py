"""Which rows are headings, and which of two columns a heading's word stands for."""

from __future__ import annotations

from pathlib import Path

from divert.site.model import Container, Source

from . import writers
from .book import (
    COFFEE,
    FLORIST,
    FLOWERS,
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
)

A, B, C = day("2025-03-03"), day("2025-03-10"), day("2025-03-17")


@case("unusual headings", "who and where")
def where_it_came_from_and_who_wrote_it_down(folder: Path) -> Truth:
    writers.xlsx(folder / "log.xlsx", {
        "A": [["date", "where", "what", "how much", "who"], [A, "school", "food scraps", "2 pails", "RT"],
              [B, "hotel", "coffee", "3 pails", "jp"]],
        "B": [["date", "who", "what", "how much", "stopped off at"], [A, "RT", "food scraps", "1 pail", "school"],
              [B, "jp", "coffee", "4 pails", "hotel"]],
    })  # fmt: skip
    return Truth([
        Entry(A, SCHOOL, FOOD, count=2, container="pail"), Entry(B, HOTEL, COFFEE, count=3, container="pail"),
        Entry(A, SCHOOL, FOOD, count=1, container="pail"), Entry(B, HOTEL, COFFEE, count=4, container="pail"),
    ])  # fmt: skip


@case("ditto", "no heading in the middle of a log")
def days_said_in_words(folder: Path) -> Truth:
    """Words such as "same day" mean the day above; "market day" is a day that nobody knows, and no heading."""
    writers.text(folder / "log.csv", [
        ["Date", "Source", "Material", "Quantity"],
        ["2025-03-03", "hotel", "food scraps", "2 pails"],
        ["same day", "school", "coffee", "1 pail"],
        ["même jour", "school", "leaves", "2 pails"],
        ["later that day", "ladle", "coffee", "10 lb"],
        ["market day", "Someone New", "garden stuff", "2 pails"],
        ["jour de marché", "hotel", "leaves", "2 pails"],
        ["2025-03-10", "hotel", "food scraps", "3 pails"],
    ])  # fmt: skip
    return Truth([
        Entry(A, HOTEL, FOOD, count=2, container="pail"), Entry(A, SCHOOL, COFFEE, count=1, container="pail"),
        Entry(A, SCHOOL, LEAVES, count=2, container="pail"), Entry(A, LADLE, COFFEE, kg=10 * LB),
        Entry(B, HOTEL, FOOD, count=3, container="pail"),
    ], aside={"no date": 2})  # fmt: skip


@case("multi-line headings", "units in headings", "gross and tare")
def headings_of_three_rows_and_pounds_by_their_sign(folder: Path) -> Truth:
    writers.text(folder / "log.csv", [
        ["Collected", "", "", "Scale", ""], ["Date", "Source", "Material", "Gross", "Tare"], ["", "", "", "lb", "lb"],
        ["2025-03-03", "hotel", "food scraps", "50", "30"], ["2025-03-10", "hotel", "food scraps", "51", "30"],
    ])  # fmt: skip
    writers.xlsx(folder / "other.xlsx", {"A": [["Date", "Source", "Material", "Weight #", "Bin #"], [A, "school", "coffee", 12, 4]]})  # fmt: skip
    return Truth([
        Entry(A, HOTEL, FOOD, kg=20 * LB), Entry(B, HOTEL, FOOD, kg=21 * LB), Entry(A, SCHOOL, COFFEE, kg=12 * LB),
    ])  # fmt: skip


@case("dates across", "weeks across")
def weeks_across(folder: Path) -> Truth:
    """Of "Wk 1" nobody can tell which days it means; on a sheet named for a month it is of that month."""
    writers.text(folder / "weeks.csv", [
        ["Food scraps (lb) 2025", "", ""], ["Site", "Week of 3/3", "Week of 3/10"], ["hotel", "24", "12"], ["ladle", "22", "25"],
    ])  # fmt: skip
    writers.xlsx(
        folder / "down.xlsx",
        {
            "Kitchens": [
                ["w/c", "hotel coffee (kg)", "school coffee (kg)"],
                [A, 10, 20],
                [B, 11, 21],
            ]
        },
    )
    numbered = [["Coffee (lb)"], ["Site", "Wk 1", "Wk 2"], ["hotel", 24, 12]]
    writers.xlsx(folder / "numbered.xlsx", {"Coffee": numbered, "March 2025": numbered})
    return Truth([
        Entry(A, HOTEL, FOOD, kg=24 * LB), Entry(B, HOTEL, FOOD, kg=12 * LB),
        Entry(A, LADLE, FOOD, kg=22 * LB), Entry(B, LADLE, FOOD, kg=25 * LB),
        Entry(A, HOTEL, COFFEE, kg=10), Entry(A, SCHOOL, COFFEE, kg=20),
        Entry(B, HOTEL, COFFEE, kg=11), Entry(B, SCHOOL, COFFEE, kg=21),
        *(Entry(day("2025-03-01"), HOTEL, COFFEE, kg=n * LB) for n in (24, 12)),
    ], aside={"no date": 2}, site={"dates": "month first"})  # fmt: skip


@case("wide by source", "names like numbers")
def flats_by_their_numbers(folder: Path) -> Truth:
    flats = tuple(Source(name) for name in ("101", "102", "3B", "12-A"))
    head = ["Date", "101", "102", "3B", "12-A"]
    writers.text(
        folder / "log.csv", [["Food scraps lb 2025"], head, ["2025-03-03", "2", "4", "9", "4"]]
    )
    writers.xlsx(folder / "more.xlsx", {"lb": [["Coffee (lb)"], ["Date", 101, 102], [B, 5, 6]]})
    return Truth([
        Entry(A, "101", FOOD, kg=2 * LB), Entry(A, "102", FOOD, kg=4 * LB), Entry(A, "3B", FOOD, kg=9 * LB),
        Entry(A, "12-A", FOOD, kg=4 * LB), Entry(B, "101", COFFEE, kg=5 * LB), Entry(B, "102", COFFEE, kg=6 * LB),
    ], site={"sources": flats})  # fmt: skip


@case("two weights of one load", "total beside its parts")
def parts_that_a_total_adds_up(folder: Path) -> Truth:
    """Three weights under one word are three loads where their total stands beside them, else nobody can tell."""
    rows = [
        ["2025-03-03", "hotel", "food scraps", "30", "26", "27", "83"],
        ["2025-03-10", "hotel", "food scraps", "18", "", "12", "30"],
    ]
    writers.text(
        folder / "a.csv", [["Date", "Source", "Material", "lb", "lb", "lb", "Total"], *rows]
    )
    writers.text(
        folder / "b.csv",
        [
            ["Date", "Source", "Material", "lb", "lb", "lb"],
            ["2025-03-17", "hotel", "food scraps", "30", "26", "27"],
        ],
    )
    return Truth(
        [
            *(Entry(A, HOTEL, FOOD, kg=n * LB) for n in (30, 26, 27)),
            *(Entry(B, HOTEL, FOOD, kg=n * LB) for n in (18, 12)),
        ],
        aside={"quantity unreadable": 1},
    )


@case("residue", "removed", "total beside its parts")
def rubbish_by_its_kinds(folder: Path) -> Truth:
    writers.xlsx(folder / "yard.xlsx", {
        "Screening rejects": [["Date", "Overs (lb)", "Plastic (lb)"], [A, 20, 3]],
        "Contamination removed": [
            ["Date", "Source", "Load weight (lb)", "Trash (lb)", "Glass (lb)", "Total removed (lb)"], [A, "hotel", 100, 2, 1, 3],
        ],
        "Residue": [["Date", "Big pieces (lb)", "Wood (lb)", "Both (lb)"], [A, 7, 2, 9], [B, 8, 4, 12]],
    })  # fmt: skip
    residue = [(A, 20), (A, 3), (A, 7), (A, 2), (B, 8), (B, 4)]
    return Truth([
        *(Entry(d, kg=n * LB, kind="residue") for d, n in residue),
        *(Entry(A, HOTEL, kg=n * LB, kind="removed") for n in (2, 1)),
    ])  # fmt: skip


@case("fill in the heading")
def full_totes_and_half_full_ones(folder: Path) -> Truth:
    writers.xlsx(folder / "log.xlsx", {
        "A": [["Date", "Source", "Material", "Full totes", "Half full totes"], [A, "school", "food scraps", 2, 1], [B, "hotel", "coffee", 3, None]],
        "B": [["Date", "Source", "Material", "Bacs pleins"], [A, "school", "leaves", 4]],
        "C": [["Date", "Source", "Material", "Totes full"], [A, "ladle", "coffee", "75%"]],
    })  # fmt: skip
    return Truth([
        Entry(A, SCHOOL, FOOD, count=2, container="tote", fill=1), Entry(A, SCHOOL, FOOD, count=1, container="tote", fill=0.5),
        Entry(B, HOTEL, COFFEE, count=3, container="tote", fill=1), Entry(A, SCHOOL, LEAVES, count=4, container="tote", fill=1),
        Entry(A, LADLE, COFFEE, count=1, container="tote", fill=0.75),
    ])  # fmt: skip


@case("gross and tare", "unusual headings", "spent grain")
def headings_of_weights_that_say_something_else(folder: Path) -> Truth:
    writers.xlsx(folder / "log.xlsx", {
        "A": [["Date", "Source", "Material", "Full (lb)", "Tare (lb)"], [A, "school", "food scraps", 50, 12]],
        "B": [["Date", "Source", "Grain spent (lb)"], [A, "ladle", 300]],
    })  # fmt: skip
    return Truth(
        [Entry(A, SCHOOL, FOOD, kg=38 * LB), Entry(A, LADLE, "brewery spent grain", kg=300 * LB)]
    )


@case("no quantity", "unusual headings")
def loads_without_an_amount_that_a_person_could_read(folder: Path) -> Truth:
    """Whatever else stands in a workbook: what names day, source and material is a load, and never passed over."""
    writers.xlsx(folder / "log.xlsx", {
        "2025": [WEIGHED, [A, "school", "food scraps", 20]],
        "A": [["Date", "Source", "Material", "Initials"], [A, "hotel", "coffee", "RT"], [B, "hotel", "coffee", "RT"]],
        "B": [["Date", "Source", "Spent (lb)"], [A, "hotel", 12], [None, None, None], [C, "ladle", 14], ["Total", None, 26]],
        "Temperatures": [["Date", "Bed", "Temperature"], [A, "Bed 1", 65]],
    })  # fmt: skip
    return Truth(
        [Entry(A, SCHOOL, FOOD, kg=20 * LB)],
        aside={"no quantity": 2, "quantity unreadable": 2},
        codes=("sheet not read",),
    )


@case("one sheet per source", "who and where")
def what_a_kitchens_own_sheet_calls_its_columns(folder: Path) -> Truth:
    """Its name says the source; neither the crew's names nor a heading for the amounts is another."""
    writers.xlsx(folder / "2025.xlsx", {
        "Hotel": [["Kind", "Date collected", "Value", "Measure"], ["food scraps", A, 51, "LB"], ["coffee", B, 2, "pails"]],
        "School": [["Date", "Material", "kg", "Who"], [A, "coffee", 78, "RT"], [B, "leaves", 75, "Ana"]],
    })  # fmt: skip
    return Truth([
        Entry(A, HOTEL, FOOD, kg=51 * LB), Entry(B, HOTEL, COFFEE, count=2, container="pail"),
        Entry(A, SCHOOL, COFFEE, kg=78), Entry(B, SCHOOL, LEAVES, kg=75),
    ])  # fmt: skip


@case("French headings", "dates as text", "gross and tare")
def a_day_under_collected(folder: Path) -> Truth:
    writers.text(folder / "mars 2025.csv", [
        ["Billet", "Collecté le", "Lieu", "Type", "Poids brut (kg)", "Tare (kg)"],
        ["1000", "3 mars 2025", "hotel", "coffee", "22", "5"], ["1001", "10 mars 2025", "school", "leaves", "51", "2"],
    ])  # fmt: skip
    return Truth([Entry(A, HOTEL, COFFEE, kg=17), Entry(B, SCHOOL, LEAVES, kg=49)])


@case("headings repeated down the page", "missing year from title")
def a_heading_typed_again_in_capitals(folder: Path) -> Truth:
    writers.text(folder / "log.csv", [
        ["Année 2025"], ["Jour", "Provenance", "Matière", "kg"], ["3 mars", "school", "coffee", "22"],
        ["JOUR", "PROVENANCE", "MATIERE", "KG"], ["10 mars", "school", "leaves", "23"],
    ])  # fmt: skip
    return Truth([Entry(A, SCHOOL, COFFEE, kg=22), Entry(B, SCHOOL, LEAVES, kg=23)])


@case("dates across", "days of a month across", "units in titles")
def days_of_a_month_by_other_spellings(folder: Path) -> Truth:
    last = range(4, 32)
    day_after = ["Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun"]
    none = [None] * 28
    writers.xlsx(folder / "2025.xlsx", {
        "March": [["Pounds of food scraps"], ["Source", "1st", "2nd", "3rd", *(f"{n}th" for n in last)], ["hotel", None, 2, 3, *none]],
        "Mar 2025 pails food scraps": [[None, *range(1, 32)], ["school", None, None, 4, *none]],
        "Avril": [["Feuilles (seaux) - mars 2025"], ["Provenance", "1er", 2, 3, *last], ["hotel", None, None, 5, *none]],
        "Days": [["March 2025 - coffee, lb"], ["Source", *(f"{day_after[(n + 4) % 7]} {n}" for n in range(1, 32))], ["ladle", None, None, 6, *none]],
        "Jours": [["Mars 2025 - coffee, kg"], ["Source", *(f"{('lun', 'mar', 'mer', 'jeu', 'ven', 'sam', 'dim')[(n + 4) % 7]} {n}" for n in range(1, 32))],
                  ["ladle", None, None, 7, *none]],
    })  # fmt: skip
    return Truth([
        Entry(day("2025-03-02"), HOTEL, FOOD, kg=2 * LB), Entry(A, HOTEL, FOOD, kg=3 * LB),
        Entry(A, SCHOOL, FOOD, count=4, container="pail"), Entry(A, HOTEL, LEAVES, count=5, container="pail"),
        Entry(A, LADLE, COFFEE, kg=6 * LB), Entry(A, LADLE, COFFEE, kg=7),
    ])  # fmt: skip


@case("units in titles", "title rows above")
def titles_that_say_source_material_and_unit(folder: Path) -> Truth:
    titles = [
        "Food scraps from the hotel (lb/day)", "Daily food scraps, Harborside Hotel, in lbs.", "Food scraps lb — Hotel",
        "Harborside Hotel - Food Waste Log 2025 (all weights lbs)", "Hotel food scraps, lb, 2025", "lb of food scraps, hotel",
        "Restes: food scraps, hotel (lb par jour)",
    ]  # fmt: skip
    writers.xlsx(folder / "log.xlsx", {
        f"{n}": [[title], ["Week of", "Mon", "Tue", "Wed"], [A, None, 10 + n, None]] for n, title in enumerate(titles)
    })  # fmt: skip
    writers.xlsx(
        folder / "months.xlsx",
        {"2025": [["Hotel coffee, lb, 2025"], ["Day", "Feb", "Mar"], [2, None, 4], [3, 5, 6]]},
    )
    return Truth([
        *(Entry(day("2025-03-04"), HOTEL, FOOD, kg=(10 + n) * LB) for n in range(len(titles))),
        Entry(day("2025-03-02"), HOTEL, COFFEE, kg=4 * LB), Entry(day("2025-02-03"), HOTEL, COFFEE, kg=5 * LB),
        Entry(A, HOTEL, COFFEE, kg=6 * LB),
    ])  # fmt: skip


@case("wide by source", "total beside its parts", "dates across", "units behind names")
def sums_in_the_middle_and_units_behind_names(folder: Path) -> Truth:
    writers.xlsx(folder / "log.xlsx", {
        "A": [["Coffee (lb)"], ["Date", "Hotel", "School", "Subtotal", "Ladle", "Florist", "Total"], [A, 1, 2, 3, 4, None, 7], [B, 2, 3, 5, 4, 1, 10]],
        "B": [["Leaves (lb)"], ["Date", "Hotel", "School", "Kitchens", "Ladle"], [A, 1, 2, 3, 4], [B, 2, 3, 5, 4], [C, 5, 6, 11, 1]],
        "C": [["Material", A, B], ["Hotel", None, None], ["Food scraps (lb)", 26, 16], ["Coffee (kg)", 22, 11],
              ["School", None, None], ["Cut flowers (pails)", None, 2]],
    })  # fmt: skip
    both = [
        (A, HOTEL, 1),
        (A, SCHOOL, 2),
        (A, LADLE, 4),
        (B, HOTEL, 2),
        (B, SCHOOL, 3),
        (B, LADLE, 4),
    ]
    coffee = [*both, (B, FLORIST, 1)]
    leaves = [*both, (C, HOTEL, 5), (C, SCHOOL, 6), (C, LADLE, 1)]
    return Truth([
        *(Entry(d, s, COFFEE, kg=n * LB) for d, s, n in coffee), *(Entry(d, s, LEAVES, kg=n * LB) for d, s, n in leaves),
        Entry(A, HOTEL, FOOD, kg=26 * LB), Entry(B, HOTEL, FOOD, kg=16 * LB),
        Entry(A, HOTEL, COFFEE, kg=22), Entry(B, HOTEL, COFFEE, kg=11), Entry(B, SCHOOL, FLOWERS, count=2, container="pail"),
    ])  # fmt: skip


@case("dates as text", "ditto", "missing year from sheet name")
def days_under_collected_without_their_year(folder: Path) -> Truth:
    writers.xlsx(folder / "log 2025.xlsx", {
        "March": [["Collected", "From", "Material", "# of pails"], ["3/3", "hotel", "coffee", 1], ['"', "school", "leaves", 2], ["3/10", "hotel", "leaves", 4]],
        "Bins": [["Date", "Source", "Material", "Collected"], [C, "hotel", "coffee", "1/4 tote"]],
    })  # fmt: skip
    return Truth([
        Entry(A, HOTEL, COFFEE, count=1, container="pail"), Entry(A, SCHOOL, LEAVES, count=2, container="pail"),
        Entry(B, HOTEL, LEAVES, count=4, container="pail"), Entry(C, HOTEL, COFFEE, container="tote", count=1, fill=0.25),
    ], site={"dates": "month first"})  # fmt: skip


@case("wide by source", "names that begin like other words")
def names_before_units_and_small_words(folder: Path) -> Truth:
    """The words "The" and "St" belong to the names, and a colon stands between a source and what came from it."""
    sources = (
        Source("The Merle Bakehouse", ("bakehouse",)),
        Source("St Quill's Primary", ("St Quill's",)),
    )
    writers.xlsx(folder / "log.xlsx", {
        "Pairs": [["Food scraps"], ["Date", "The Merle Bakehouse pails", "The Merle Bakehouse lb", "St Quill's pails"], [A, 2, 40, 3]],
        "Bread": [["2025 – THE MERLE BAKEHOUSE: COFFEE, LBS"], ["Week of", "Mon", "Tue"], [A, 10, 11]],
    })  # fmt: skip
    return Truth([
        Entry(A, "The Merle Bakehouse", FOOD, kg=40 * LB, count=2, container="pail"), Entry(A, "St Quill's Primary", FOOD, count=3, container="pail"),
        Entry(A, "The Merle Bakehouse", COFFEE, kg=10 * LB), Entry(day("2025-03-04"), "The Merle Bakehouse", COFFEE, kg=11 * LB),
    ], site={"sources": sources})  # fmt: skip


@case("weigh-ins", "French headings")
def weighings_of_loads_and_for_the_density(folder: Path) -> Truth:
    """Weighings that say from whom and of what are the log; weigh-ins that no log has are asked about."""
    loads = [
        ["Jour de collecte", "Donateur", "Type de matière", "Nb de bacs", "Poids net (kg)"],
        [A, "hotel", "coffee", 2, 60],
    ]
    totes = [
        ["Date", "Source", "Material", "Container", "How many", "Net weight (lb)"],
        [A, "hotel", "coffee", "tote", 1, 70],
        [B, "school", "leaves", "tote", 1, 20],
    ]
    writers.xlsx(folder / "2025.xlsx", {"Pesées": loads, "Weigh-ins": totes})
    return Truth([
        Entry(A, HOTEL, COFFEE, kg=60, count=2, container="tote"),
        Entry(A, HOTEL, COFFEE, kg=70 * LB, count=1, container="tote", kind="weigh-in"),
        Entry(B, SCHOOL, LEAVES, kg=20 * LB, count=1, container="tote", kind="weigh-in"),
    ], codes=("weighed, not received",))  # fmt: skip


@case("removed", "unusual headings")
def pounds_of_who_knows_what(folder: Path) -> Truth:
    """Pounds that are not read are asked about; a number of anything else is only mentioned."""
    writers.xlsx(folder / "log.xlsx", {
        "Contamination": [["Date", "Source", "Trash (lb)", "Sorted (lb)"], [A, "hotel", 3, 90]],
        "2025": [[*WEIGHED, "Nozzle setting"], [A, "school", "food scraps", 20, 4711]],
    })  # fmt: skip
    return Truth(
        [Entry(A, HOTEL, kg=3 * LB, kind="removed"), Entry(A, SCHOOL, FOOD, kg=20 * LB)],
        codes=("numbers not read", "sheet not read"),
    )


@case(
    "names that begin like other words",
    "multi-line headings",
    "wide by source",
    "tables side by side",
)
def a_sites_names_that_hold_words_of_the_trade(folder: Path) -> Truth:
    sources = tuple(Source(name, also) for name, also in (
        ("Café Mars et Merle", ("Mars",)), ("CPE 3 Sacs", ("3 Sacs",)), ("Résidence Le Total", ("Le Total",)), ("Bin 97 Bistro", ("Bin 97",)),
    ))  # fmt: skip
    containers = (
        Container("yard bag", (), 0.1),
        Container("bac de 240 L", (), 0.24),
        Container("bac de 120 L", ("petit bac",), 0.12),
    )
    none = [None] * 2
    writers.xlsx(folder / "2025.xlsx", {
        "Bags": [["Date", "Source", "Material", "yard bags", "Nb de bacs de 240 L", "petits bacs"], [A, "Bin 97", "leaves", 2, None, None],
                 [B, "3 Sacs", "leaves", None, 1, 3]],
        "Semaines": [["CPE 3 SACS : feuilles (kg)"], ["Semaine du", "Lun", "Mar", "Mer"], [A, None, 9, None]],
        "Bands": [["Date", "Matière", "Poids (kg)"], ["Café Mars et Merle", *none], [A, "coffee", 42], ["CPE 3 Sacs", *none], [A, "coffee", 43]],
        "Paires": [["Food scraps"], ["Date", "Bin 97 yard bags", "Bin 97 lbs"], [A, 1, None], [B, 3, 61]],
        "Groupes": [["Coffee 2025"], [None, "CPE 3 Sacs", None, None, "Résidence Le Total", None, None],
                    ["Date", *["Brut (kg)", "Tare (kg)", "Net (kg)"] * 2], [C, 49, 5, 44, 26, 5, 21]],
        "Côte à côte": [["Feuilles"], ["Résidence Le Total", None, None, "Café Mars et Merle", None], ["Date", "kg", None, "Date", "kg"], [A, 9, None, B, 58]],
    })  # fmt: skip
    mars, sacs, total, bin97 = (s.name for s in sources)
    return Truth([
        Entry(A, bin97, LEAVES, count=2, container="yard bag"), Entry(B, sacs, LEAVES, count=1, container="bac de 240 L"),
        Entry(B, sacs, LEAVES, count=3, container="bac de 120 L"), Entry(day("2025-03-04"), sacs, LEAVES, kg=9),
        Entry(A, mars, COFFEE, kg=42), Entry(A, sacs, COFFEE, kg=43), Entry(A, bin97, FOOD, count=1, container="yard bag"),
        Entry(B, bin97, FOOD, kg=61 * LB, count=3, container="yard bag"), Entry(C, sacs, COFFEE, kg=44), Entry(C, total, COFFEE, kg=21),
        Entry(A, total, LEAVES, kg=9), Entry(B, mars, LEAVES, kg=58),
    ], site={"sources": sources, "containers": containers})  # fmt: skip


@case("units in titles", "numbers that are no amount", "names like numbers")
def parts_of_a_day_under_a_title(folder: Path) -> Truth:
    """Meals, carts and weighings of a day are loads of what the title says; stops are none."""
    rows = [[A, 10, 4, 5, 19], [B, 11, 6, 7, 24]]
    writers.xlsx(folder / "hotel.xlsx", {
        "Meals": [["Hotel food scraps (lb)"], ["Date", "Breakfast", "Lunch", "Dinner", "Total"], *rows],
        "Leaves": [["Hotel leaves (lb)"], ["Date", "Cart A", "Cart B", "Cart C", "Total"], *rows],
        "Thrice": [["Hotel coffee (lb)"], ["Date", "1st", "2nd", "3rd", "Total"], *rows],
    })  # fmt: skip
    writers.xlsx(
        folder / "stops.xlsx",
        {
            "2025": [
                ["Food scraps (lb)"],
                ["Date", "Hotel", "# of stops", "Ladle", "Total stops"],
                [C, 5, 3, 6, 3],
            ]
        },
    )
    return Truth([
        *(Entry(r[0], HOTEL, m, kg=n * LB) for m in (FOOD, LEAVES, COFFEE) for r in rows for n in r[1:4]),  # type: ignore[arg-type, operator]
        Entry(C, HOTEL, FOOD, kg=5 * LB), Entry(C, LADLE, FOOD, kg=6 * LB),
    ])  # fmt: skip


@case("one sheet per source", "wide by source", "title rows above")
def words_that_are_no_source_where_one_is_known(folder: Path) -> Truth:
    writers.xlsx(folder / "Hotel.xlsx", {"2025": [["Slip", "Date", "Material", "Value", "Unit"],
                 [1001, A, "coffee", 2, "pails"], [1002, B, "leaves", 3, "pails"], [1003, C, "coffee", 12, "lb"]]})  # fmt: skip
    writers.xlsx(folder / "log.xlsx", {
        "Pairs": [["Coffee"], ["Date", "school pails", "Quillmarsh School kitchen lb"], [A, 2, 40]],
        "A": [["School: coffee, kg, 2025"], ["Week of", "Mon", "Tue"], [B, 10, None]],
    })  # fmt: skip
    return Truth([
        Entry(A, HOTEL, COFFEE, count=2, container="pail"), Entry(B, HOTEL, LEAVES, count=3, container="pail"), Entry(C, HOTEL, COFFEE, kg=12 * LB),
        Entry(A, SCHOOL, COFFEE, kg=40 * LB, count=2, container="pail"), Entry(B, SCHOOL, COFFEE, kg=10),
    ])  # fmt: skip


@case("units in headings", "numbers that are no amount", "title rows above")
def two_units_in_one_heading_and_what_left_the_site(folder: Path) -> Truth:
    """A bare number under "lb/kg" is asked about; castings and residue beside the intake are no intake."""
    writers.xlsx(folder / "log.xlsx", {
        "A": [["Date", "Source", "Material", "Weight (lb/kg)"], [A, "hotel", "coffee", 20], [B, "hotel", "coffee", "9 kg"]],
        "B": [["Date", "Source", "Food scraps in (lb)", "Castings out (lb)", "Residue (lb)"], [A, "school", 30, 5, 1]],
        "C": [["Organisme :", "Harborside Hotel"], ["Date", "Matière", "kg"], [C, "leaves", 8]],
    })  # fmt: skip
    return Truth(
        [
            Entry(B, HOTEL, COFFEE, kg=9),
            Entry(A, SCHOOL, FOOD, kg=30 * LB),
            Entry(C, HOTEL, LEAVES, kg=8),
        ],
        aside={"unit unknown": 1},
        codes=("numbers not read",),
    )


@case("wide by source", "numbers that are no amount")
def columns_among_sources_that_are_none(folder: Path) -> Truth:
    writers.xlsx(folder / "log.xlsx", {
        "2025": [["Food scraps (lb)"], ["Date", "Hotel", "School", "Gizmo", "Fuel (gal)", "Cost"], [A, 10, 12, 88000, 3, 40], [B, 11, 13, 88100, 4, 41]],
    })  # fmt: skip
    loads = [(A, HOTEL, 10), (A, SCHOOL, 12), (B, HOTEL, 11), (B, SCHOOL, 13)]
    return Truth([Entry(d, s, FOOD, kg=n * LB) for d, s, n in loads], codes=("numbers not read",))
