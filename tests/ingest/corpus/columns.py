"""Columns that are not what their heading could also mean."""

from __future__ import annotations

from pathlib import Path

from . import writers
from .book import COFFEE, FLOWERS, FOOD, HOTEL, LADLE, LB, LEAVES, SCHOOL, Entry, Truth, case, day


@case("ordinary headings", "no quantity")
def ticket_numbers_are_no_counts(folder: Path) -> Truth:
    one, two, three = day("2025-03-03"), day("2025-03-04"), day("2025-03-05")
    writers.xlsx(folder / "tickets.xlsx", {
        "A": [["No.", "Date", "Source", "Material", "Container", "Weight (lb)"],
              [10031, one, "hotel", "food scraps", "tote", 60], [10025, two, "school", "coffee", "pail", None],
              [10023, three, "school", "coffee", "pail", 22]],
        "B": [["Nº", "Date", "Fournisseur", "Matière", "Poids (lb)"],
              [1, one, "hotel", "leaves", 10], [3, two, "hotel", "leaves", 11], [4, three, "hotel", "leaves", 12],
              [9, day("2025-03-06"), "hotel", "leaves", 13]],
        "C": [["#", "Container", "Date", "Source", "Material"],
              [2, "pail", one, "school", "food scraps"], [3, "pail", two, "school", "food scraps"],
              [2, "tote", three, "school", "food scraps"]],
    })  # fmt: skip
    return Truth([
        Entry(one, HOTEL, FOOD, kg=60 * LB, container="tote"),
        Entry(three, SCHOOL, COFFEE, kg=22 * LB, container="pail"),
        Entry(one, HOTEL, LEAVES, kg=10 * LB),
        Entry(two, HOTEL, LEAVES, kg=11 * LB),
        Entry(three, HOTEL, LEAVES, kg=12 * LB),
        Entry(day("2025-03-06"), HOTEL, LEAVES, kg=13 * LB),
        Entry(one, SCHOOL, FOOD, count=2, container="pail"),
        Entry(two, SCHOOL, FOOD, count=3, container="pail"),
        Entry(three, SCHOOL, FOOD, count=2, container="tote"),
    ], aside={"no quantity": 1})  # fmt: skip


@case("3/4 full", "quantity unreadable")
def fills_counted_in_parts(folder: Path) -> Truth:
    heads = ["Date", "Source", "Material", "Container", "Count"]
    days = [day(f"2025-03-{n:02}") for n in range(1, 32)]

    def sheet(first: int, fill: str, *said: object) -> list[list[object]]:
        rows = zip(days[first:], said, strict=False)
        return [[*heads, fill], *([d, "hotel", "food scraps", "tote", 2, f] for d, f in rows)]

    writers.xlsx(folder / "fills.xlsx", {
        "A": sheet(0, "Quarters full", 3, 1, 4, "3/4"),
        "B": sheet(4, "How full (out of 10)", 7, 10, 1),
        "C": sheet(7, "Remplissage (quarts)", 2, 1),
        "D": sheet(9, "How full", 1, 2, 3, 4, "half"),  # parts of nobody knows what
        "E": sheet(14, "Full", 1, 0.5, 1, 1),
    })  # fmt: skip
    fills = [0.75, 0.25, 1.0, 0.75, 0.7, 1.0, 0.1, 0.5, 0.25, None, None, None, None, 0.5, 1.0, 0.5, 1.0, 1.0]  # fmt: skip
    return Truth([
        Entry(d, HOTEL, FOOD, count=2, container="tote", fill=fill)
        for d, fill in zip(days, fills, strict=False) if fill is not None
    ], aside={"quantity unreadable": 4})  # fmt: skip


@case("units in headings", "removed")
def a_school_weighs_all_its_rubbish(folder: Path) -> Truth:
    one, two = day("2025-03-03"), day("2025-03-04")
    writers.xlsx(folder / "audit.xlsx", {"School": [
        ["Date", "Food scraps (lb)", "Trash (lb)", "Recycling (lb)", "Total (lb)", "# students"],
        [one, 40, 12, 8, 60, 240], [two, 38, 10, 9, 57, 236],
    ], "Hotel": [
        ["Date", "Compost (lb)", "Poubelle (lb)", "Recyclage (lb)"], [one, 30, 5, 6],  # a bin: of what, nobody says
    ], "Two loads": [  # what was taken out of both is taken off once, of the heavier
        ["Date", "Source", "Food scraps (lb)", "Leaves (lb)", "Trash removed (lb)"],
        [one, "hotel", 50, 20, 3], [two, "hotel", None, 21, 2],
    ]})  # fmt: skip
    return Truth([
        Entry(one, SCHOOL, FOOD, kg=40 * LB),
        Entry(two, SCHOOL, FOOD, kg=38 * LB),
        Entry(one, HOTEL, FOOD, kg=50 * LB, removed=3 * LB),
        Entry(one, HOTEL, LEAVES, kg=20 * LB),
        Entry(two, HOTEL, LEAVES, kg=21 * LB, removed=2 * LB),
    ], aside={"no material": 1}, codes=("no material", "sheet not read"))  # fmt: skip


@case("ordinary headings", "activities")
def people_and_hours_beside_loads(folder: Path) -> Truth:
    one, two = day("2025-03-03"), day("2025-03-04")
    writers.xlsx(folder / "mixed.xlsx", {
        "A": [["Food scraps (lb)"], ["Date", "Hotel", "School", "Visitors", "Rainfall (mm)"], [one, 20, 12, 5, 3], [two, 21, 13, 0, 0]],
        "B": [["Restes de cuisine"], ["Date", "Client", "Nb", "Récipient", "% plein", "Par", "Heure"],
              [one, "hotel", 2, "seau", "50 %", "RT", "9h30"], [two, "hotel", 1, "bac", "100 %", "RT", "14h05"]],
        "C": [["Date", "Hours", "People"], [one, 3.5, 4]],
    })  # fmt: skip
    writers.xlsx(folder / "piles.xlsx", {"Piles": [
        ["Date", "Pile", "Length (ft)", "Largeur (ft)", "Height (ft)", "Volume (yd3)", "Temp F"], [one, "A", 10, 6, 4, 6.2, 131],
    ]})  # fmt: skip
    loads = [(one, HOTEL, 20), (one, SCHOOL, 12), (two, HOTEL, 21), (two, SCHOOL, 13)]
    return Truth([
        *(Entry(d, s, FOOD, kg=lb * LB) for d, s, lb in loads),
        Entry(one, HOTEL, FOOD, count=2, container="pail", fill=0.5),
        Entry(two, HOTEL, FOOD, count=1, container="tote", fill=1.0),
        Entry(one, kind="activity", name="c hours", amount=3.5, unit="hours"),
        Entry(one, kind="activity", name="c people", amount=4, unit="people"),
    ])  # fmt: skip


@case("csv comma", "headings repeated down the page", "total by label")
def a_total_of_texts_and_a_heading_printed_again(folder: Path) -> Truth:
    one, two, three = "2025-03-03", "2025-03-04", "2025-03-05"
    writers.text(folder / "wide.csv", [
        ["Coffee (lb)"], ["Date in", "Hotel", "School", "Ladle", "Total"],
        [one, "", "84.5", "0", "84.5"], [two, "37", "-", "2.25", "39.25"], [three, "7.0", "1.5", "", "8.5"],
    ])  # fmt: skip
    head = ["Date", "Fournisseur", "Produit", "Poids net (kg)"]
    writers.xlsx(folder / "pages.xlsx", {"Journal": [
        head, [day(one), "hotel", "food scraps", "néant"], head, [day(two), "ladle", "food scraps", 8], [day(three), "ladle", "coffee", 9],
    ]})  # fmt: skip
    coffee = [(one, SCHOOL, 84.5), (two, HOTEL, 37), (two, LADLE, 2.25), (three, HOTEL, 7), (three, SCHOOL, 1.5)]  # fmt: skip
    return Truth([
        *(Entry(day(d), s, COFFEE, kg=lb * LB) for d, s, lb in coffee),
        Entry(day(two), LADLE, FOOD, kg=8),
        Entry(day(three), LADLE, COFFEE, kg=9),
    ])  # fmt: skip


@case("two weights of one load")
def weighed_before_and_after(folder: Path) -> Truth:
    one, two = day("2025-03-03"), day("2025-03-04")
    heads = ["Date", "Source", "Material"]

    def sheet(first: str, second: str, *pairs: tuple[object, object]) -> list[list[object]]:
        rows = zip((one, two), pairs, strict=True)
        return [[*heads, first, second], *([d, "hotel", "food scraps", *p] for d, p in rows)]

    writers.xlsx(folder / "scale.xlsx", {
        "A": sheet("Scale before (lb)", "Scale after (lb)", (200, 222), (222, 250)),
        "B": sheet("Actual lb", "Est. lb", (28, 30), (17, None)),
        "C": sheet("Poids réel (lb)", "Poids estimé (lb)", (None, 40), (41, 50)),
        "D": sheet("Before (lb)", "After (lb)", (100, 95), (60, 58)),  # sorted, or emptied? nobody can tell
    })  # fmt: skip
    said = [(one, 22), (two, 28), (one, 28), (two, 17), (one, 40), (two, 41)]
    return Truth(
        [Entry(d, HOTEL, FOOD, kg=lb * LB) for d, lb in said], aside={"quantity unreadable": 2}
    )


@case("wide by source", "dates across", "total by label")
def a_first_column_without_a_heading(folder: Path) -> Truth:
    one, two = day("2025-03-03"), day("2025-03-10")
    writers.xlsx(folder / "2025.xlsx", {
        "A": [["Collection of 3 March 2025 (lb)"], [None, "Food scraps", "Coffee", "Total"], ["Hotel", 20, None, 20], ["Ladle", 11, 9, 20],
              ["Total", 31, 9, 40]],
        "B": [["Food scraps (lb)"], [None, one, two], ["School", 22, 23], ["Ladle", 12, 13], ["Total", 34, 36]],
        "C": [["Leaves (lb)"], [None, "Hotel", "School"], [one, 5, 6], [two, 7, 8], ["Total", 12, 14]],
        "D": [["Cut flowers (lb)"], [None, "Hotel", "School"], ["Jan", 1, 2], ["Feb", 3, 4], ["Total", 4, 6]],
    })  # fmt: skip
    jan, feb = day("2025-01-01"), day("2025-02-01")
    said = [
        (one, HOTEL, FOOD, 20), (one, LADLE, FOOD, 11), (one, LADLE, COFFEE, 9), (one, SCHOOL, FOOD, 22), (two, SCHOOL, FOOD, 23),
        (one, LADLE, FOOD, 12), (two, LADLE, FOOD, 13), (one, HOTEL, LEAVES, 5), (one, SCHOOL, LEAVES, 6), (two, HOTEL, LEAVES, 7),
        (two, SCHOOL, LEAVES, 8), (jan, HOTEL, FLOWERS, 1), (jan, SCHOOL, FLOWERS, 2), (feb, HOTEL, FLOWERS, 3), (feb, SCHOOL, FLOWERS, 4),
    ]  # fmt: skip
    return Truth([Entry(d, s, m, kg=lb * LB) for d, s, m, lb in said])


@case("ordinary headings", "csv comma", "quantity unreadable")
def several_things_in_one_row(folder: Path) -> Truth:
    one, two, three = day("2025-03-03"), day("2025-03-04"), day("2025-03-05")
    writers.xlsx(folder / "two.xlsx", {"A": [
        ["Date", "Source", "Material 1", "Weight 1 (lb)", "Material 2", "Weight 2 (lb)"],
        [one, "hotel", "food scraps", 20, "leaves", 3], [two, "school", "coffee", 11, None, None],
    ], "B": [
        ["Date", "Source", "Matière", "Poids (kg)", "Matière 2", "Poids 2 (kg)"],
        [one, "ladle", "leaves", 5, "coffee", 6],
    ]})  # fmt: skip
    writers.xlsx(folder / "tare.xlsx", {"A": [
        ["Date", "Source", "Material", "Container", "Gross (lb)", "Tare (lb)"],
        [one, "hotel", "leaves", None, 62, 6], [two, "hotel", "leaves", None, 50, None], [three, "hotel", "leaves", "tote", 49, None],
    ], "B": [
        ["Date", "Source", "Material", "Weight (lb)", "Status", "Notes"],
        [two, "ladle", "leaves", 30, "returned", None], [three, "ladle", "leaves", 31, "ok", "returned 2 empty totes"],
    ]})  # fmt: skip
    spaced = 'Date, Source, Material, "Weight (lb)"\n2025-03-03, "School", "food scraps", "1,020"\n2025-03-04, hotel, coffee, 12\n'
    (folder / "tablet.csv").write_text(spaced, encoding="utf-8")
    return Truth([
        Entry(one, HOTEL, FOOD, kg=20 * LB), Entry(one, HOTEL, LEAVES, kg=3 * LB), Entry(two, SCHOOL, COFFEE, kg=11 * LB),
        Entry(one, LADLE, LEAVES, kg=5), Entry(one, LADLE, COFFEE, kg=6),
        Entry(one, HOTEL, LEAVES, kg=56 * LB), Entry(three, HOTEL, LEAVES, gross=49 * LB, count=1, container="tote"),
        Entry(two, LADLE, LEAVES, kg=30 * LB, kind="rejected"), Entry(three, LADLE, LEAVES, kg=31 * LB),
        Entry(one, SCHOOL, FOOD, kg=1020 * LB), Entry(two, HOTEL, COFFEE, kg=12 * LB),
    ], aside={"quantity unreadable": 1})  # fmt: skip


@case("headings repeated down the page", "utf-8 with mark")
def narrow_tables_printed_over_pages(folder: Path) -> Truth:
    head = ["When", "No. of totes"]
    writers.text(folder / "School 2025.csv", [
        ["Food scraps"], head, ["2025-03-03", "2.5"], ["2025-03-04", "1"], ["2025-03-05", "3"], head, ["2025-03-06", "0.5"],
    ], encoding="utf-8-sig")  # fmt: skip
    writers.xlsx(folder / "2025.xlsx", {"April": [
        ["Hotel food scraps"], ["Day", "lb"], [3, 20], ["4", "21"], ["Day", "lb"], ["5th", "22"], [6, 23],
    ]})  # fmt: skip
    totes = [(3, 2.5), (4, 1), (5, 3), (6, 0.5)]
    return Truth([
        *(
            Entry(day(f"2025-03-0{n}"), SCHOOL, FOOD, count=max(1, c), container="tote", fill=c if c < 1 else None)
            for n, c in totes
        ),
        *(Entry(day(f"2025-04-0{n}"), HOTEL, FOOD, kg=(17 + n) * LB) for n in (3, 4, 5, 6)),
    ])  # fmt: skip


@case("French headings", "ways to write an amount")
def fills_said_in_french(folder: Path) -> Truth:
    said = {
        "1 seau aux 2/3": (1, 2 / 3), "2 seaux aux 3/4": (2, 0.75), "1 seau rempli à 75 %": (1, 0.75), "un seau aux 3/4 plein": (1, 0.75),
        "1 seau (rempli aux 2/3)": (1, 2 / 3), "3 pails filled to 50%": (3, 0.5), "2 seaux aux deux tiers": (2, 2 / 3),
    }  # fmt: skip
    fills = {"aux 2/3": 2 / 3, "rempli à 75 %": 0.75, "à 3/4": 0.75, "plein aux 3/4": 0.75}
    days = [day(f"2025-03-{n:02}") for n in range(1, 13)]
    writers.xlsx(folder / "seaux.xlsx", {
        "A": [["Date", "Origine", "Matière", "Quantité"], *([d, "hotel", "leaves", text] for d, text in zip(days, said, strict=False)),
              [days[11], "hotel", "leaves", "12 kg 500"]],
        "B": [["Date", "Origine", "Matière", "Contenant", "Nombre", "Remplissage"],
              *([d, "ladle", "leaves", "seau", 2, text] for d, text in zip(days, fills, strict=False))],
    })  # fmt: skip
    return Truth([
        *(Entry(d, HOTEL, LEAVES, count=n, container="pail", fill=f) for d, (n, f) in zip(days, said.values(), strict=False)),
        Entry(days[11], HOTEL, LEAVES, kg=12.5),
        *(Entry(d, LADLE, LEAVES, count=2, container="pail", fill=f) for d, f in zip(days, fills.values(), strict=False)),
    ])  # fmt: skip
