"""Write the made-up site's sheets, as untidy as a real crew's: python sample_data/make_sample.py

The same script gives the same cells every time. What is true stands in deliveries.py; this file only
spells it as four hands would: one sheet a month, one column a material, a bakery's own list, and
the yard book.
"""

from __future__ import annotations

import datetime as dt
import sys
from collections.abc import Iterable, Sequence
from itertools import groupby
from pathlib import Path
from random import Random

import xlsxwriter

HERE = Path(__file__).parent
sys.path.insert(0, str(HERE))

import deliveries as true  # noqa: E402 - found beside this file
from cells import put  # noqa: E402
from yard_book import write_yard_book  # noqa: E402

WIDE_FROM = dt.date(2025, 4, 1)  # the crew changed its sheet
GROSS_FROM = dt.date(2024, 10, 1)  # and, before that, began to weigh with the container
TARE_POUNDS = {"pail": 1.9, "tote": 6.5, "box": 4.0, "paper bag": 0.0, "leaf bag": 0.0}
SHORT = {
    true.SCHOOL: ("Quillmarsh", "school", "Quillmarsh School kitchen"),
    true.CAFE: ("Lantern Row", "cafe", "Lantern Row Café"),
    true.JUICE: ("juice bar", "Tangle & Pip"),
    true.FLORIST: ("florist", "Wren & Thistle", "Wren and Thistle"),
    true.BRANCH: ("Two Oaks", "credit union"),
    true.BREWERY: ("brewery", "Saltmarrow"),
    true.STABLES: ("stables", "Marlow Bend"),
    true.CO_OP: ("co-op", "Harrowgate Lane Co-op", "coop"),
    true.FERNSIDE: ("Fernside", "Fernside House"),
    true.PARISH: ("Old Ferry", "Old Ferry Hall"),
    true.NEIGHBOURS: ("Alder St", "neighbors", "Alder Street drop-off"),
}
CALLED = {
    "kitchen scraps": ("kitchen scraps", "food scraps", "scraps"),
    "produce": ("produce", "veg trimmings"),
    "coffee grounds": ("coffee grounds", "grounds"),
    "juice pulp": ("juice pulp", "pulp"),
    "spent grain": ("spent grain", "grain"),
    "cut flowers": ("cut flowers", "flowers"),
    "office paper": ("office paper", "shredded paper"),
    "stable manure": ("stable manure", "manure"),
    "leaves": ("leaves", "bagged leaves"),
    "pumpkins": ("pumpkins", "jack-o-lanterns"),
}
FILLS = {
    1.0: ("full", "full", "100%"),
    0.75: ("3/4", "75%", "¾"),
    0.5: ("half", "1/2", "50%"),
    0.25: ("1/4", "quarter"),
}
HANDS = ("RT", "jm", "Dee", "RT")
TALL_HEADING = ("Date", "From", "What", "Container", "How many", "How full", "Weight (lb)",
                "Trash pulled (lb)", "By", "Notes")  # fmt: skip
WIDE = ("kitchen scraps", "produce", "coffee grounds", "juice pulp", "spent grain", "pumpkins",
        "cut flowers", "office paper", "stable manure", "leaves")  # fmt: skip
WEIGHED_HEADS = 6  # so many of them are headed "(lb)"
Row = list[object]


def pick(random: Random, options: Sequence[str]) -> str:
    """Return one of the options."""
    return options[int(random.random() * len(options))]


def new_book(name: str) -> tuple[xlsxwriter.Workbook, dict[str, object]]:
    """Return a workbook whose bytes do not depend on the day, with its formats."""
    book = xlsxwriter.Workbook(str(HERE / name))
    book.set_properties({"created": dt.datetime(2024, 4, 1)})
    formats = {
        "day": book.add_format({"num_format": "m/d/yy"}),
        "bold": book.add_format({"bold": True}),
        "middle": book.add_format({"bold": True, "align": "center"}),
    }
    return book, formats


def tall_row(random: Random, load: true.Load, gross: bool) -> Row:
    """Return one load as the first sheet has it; weighed with its container where ``gross``."""
    weight: object = load.pounds
    if load.pounds is not None and gross:
        weight = true.halves(load.pounds + load.count * TARE_POUNDS[load.container])
    elif load.pounds is not None and random.random() < 0.03:
        weight = f"{load.pounds * 0.45359237:.1f} kg"
    return [
        load.day,
        pick(random, SHORT[load.source]),
        pick(random, CALLED[load.material]),
        load.container + ("s" if load.count > 1 and random.random() < 0.5 else ""),
        load.count,
        None if load.fill is None else pick(random, FILLS[load.fill]),
        weight,
        load.removed,
        pick(random, HANDS),
        None,
    ]


def with_dittos(random: Random, rows: list[Row], month: int) -> list[Row]:
    """Return the rows with a repeated day left blank (a ditto in every third month), names as dittos."""
    out = [list(row) for row in rows]
    for above, row, shown in zip(rows, rows[1:], out[1:], strict=False):
        if row[0] == above[0] and len(row) > 3:
            shown[0] = '"' if month % 3 == 0 else None
        if row[1] == above[1] and random.random() < 0.6:
            shown[1] = pick(random, ('"', "ditto"))
    return out


def written(cell: object) -> object:
    """Return a date as someone types it who has the cell set to text."""
    return f"{cell:%m/%d/%Y}" if isinstance(cell, dt.date) else cell


def insert(rows: list[Row], row: Row) -> None:
    """Put a row where its day belongs."""
    after = [at for at, other in enumerate(rows) if str(other[0]) > str(row[0])]
    rows.insert(after[0] if after else len(rows), row)


def slips_of_the_tall_log(month: str, rows: list[Row]) -> list[Row]:
    """Return a month's rows with the slips that this month has."""
    if month == "2024-05":
        rows[9][9] = "lid was off, wet"
        insert(rows, [dt.date(2024, 5, 18), "juice bar", "no pickup"])
    if month == "2024-07":
        rows[weighed(rows, 7)][2] = "kichen scarps"
        rows[15][1] = "Farnside Hse"
    if month == "2024-09":
        rows.insert(13, list(rows[12]))  # written twice
    if month == "2024-11":  # there is no such day
        rows.insert(
            40, ["11/31/2024", "Fernside", "scraps", "tote", 1, "3/4", None, None, "jm", None]
        )
    if month == "2024-12":  # nobody has heard of it, and it was not weighed
        insert(rows, [dt.date(2024, 12, 14), "neighbors", "wreaths", "leaf bag", 2, "full", None,
                      None, "Dee", None])  # fmt: skip
    if month == "2025-01":
        insert(rows, [dt.date(2025, 1, 21), "closed - snow"])
    if month == "2025-02":
        rows[6][3:7] = ["pail", "½", None, None]
    return rows


def weighed(rows: list[Row], start: int) -> int:
    """Return the place of the first row from ``start`` on that has a weight in pounds."""
    return next(at for at in range(start, len(rows)) if isinstance(rows[at][6], float))


def write_tall_log(loads: Iterable[true.Load]) -> None:
    """Write the first year: a sheet a month, a title, dittos, a total and notes beneath."""
    random = Random(1)
    book, form = new_book("Crew log 2024-25.xlsx")
    notes = book.add_worksheet("READ ME")
    for row, line in enumerate(
        ("Weigh it if the scale is free. If not: how many, and how full.",
         "Pounds only please!!", "From October: leave it in the container, we take the tare off.")
    ):  # fmt: skip
        notes.write_string(row, 0, line)
    for month, group in groupby(loads, key=lambda load: f"{load.day:%Y-%m}"):
        first = dt.date.fromisoformat(f"{month}-01")
        gross = first >= GROSS_FROM
        sheet = book.add_worksheet(f"{first:%b} {first:%y}")
        sheet.set_column(0, 9, 14)
        sheet.merge_range(0, 0, 0, 9, f"Kestrel Bend yard log, {first:%B %Y}", form["middle"])
        heading = list(TALL_HEADING)
        heading[6] = "Gross wt (lb)" if gross else heading[6]
        put(sheet, 2, heading, form["day"])
        rows = [tall_row(random, load, gross) for load in group]
        rows = slips_of_the_tall_log(month, rows)
        said = [row[0] for row in rows]
        rows = with_dittos(random, rows, first.month)
        if month == "2024-06":  # typed as text: the site says that the month comes first
            rows = [[written(row[0]), *row[1:]] for row in rows]
        at = 3
        for number, row in enumerate(rows):
            if month == "2024-10" and number == 25:  # top of the second page
                put(sheet, at, heading, form["day"])
                at += 1
                row = [said[number], *row[1:]]
            put(sheet, at, row, form["day"])
            at += 1
        weights = [row[6] for row in rows if len(row) > 6 and isinstance(row[6], float)]
        sheet.write_string(at + 1, 0, "TOTAL", form["bold"])
        sheet.write_formula(at + 1, 6, f"=SUM(G4:G{at})", form["bold"], sum(weights))
        if month == "2024-12":
            sheet.write_string(at + 3, 0, "Back on Jan 6. Happy new year!")
    book.close()


def wide_cell(random: Random, load: true.Load) -> object:
    """Return one load as a cell of the second sheet."""
    if load.pounds is not None:
        return f"{load.pounds:g} lb" if WIDE.index(load.material) >= WEIGHED_HEADS else load.pounds
    name = load.container + ("s" if load.count > 1 else "")
    fill = pick(random, FILLS[load.fill or 1.0])
    return f"{load.count} {name}, {fill}" + ("" if fill == "full" else " full")


def wide_rows(random: Random, loads: Iterable[true.Load]) -> list[Row]:
    """Return a row for each source and day, one cell for each material."""
    rows = []
    for (day, source), group in groupby(loads, key=lambda load: (load.day, load.source)):
        cells: Row = [None] * len(WIDE)
        for load in group:
            cells[WIDE.index(load.material)] = wide_cell(random, load)
        rows.append([day, pick(random, SHORT[source]), *cells, None])
    return rows


def slips_of_the_wide_log(sheet: str, rows: list[Row]) -> list[Row]:
    """Return a quarter's rows with the slips that this quarter has."""
    rest: Row = [None] * 9
    if sheet == "2025 Q3":
        rows[18][0] = dt.date(2052, 7, 22)
    if sheet == "2025 Q4":
        insert(rows, [dt.date(2025, 11, 2), "Old Ferry", "½ pail", *rest])
        rows.insert(51, list(rows[50]))  # written twice
    if sheet == "2026 Q1":
        insert(rows, [dt.date(2026, 1, 27), "closed, snow"])
    if sheet == "2026 Q2":
        insert(rows, [dt.date(2026, 6, 26), "school", "14 totes, full", *rest,
                      "end of term clear-out"])  # fmt: skip
    return rows


def write_wide_log(loads: Iterable[true.Load]) -> None:
    """Write the second year: a sheet a quarter, a column a material, headings on two lines."""
    random = Random(2)
    book, form = new_book("Drop-offs 2025-26.xlsx")
    quarters = groupby(loads, key=lambda load: f"{load.day.year} Q{(load.day.month + 2) // 3}")
    for name, group in quarters:
        sheet = book.add_worksheet(name)
        sheet.set_column(0, 12, 15)
        sheet.write_string(0, 0, "What came in", form["bold"])
        heads = [name.capitalize() for name in WIDE]
        heads[:WEIGHED_HEADS] = [f"{head} (lb)" for head in heads[:WEIGHED_HEADS]]
        put(sheet, 2, ("Date", "Source", *heads, "Notes"), form["day"])
        rows = slips_of_the_wide_log(name, wide_rows(random, group))
        for at, row in enumerate(rows, start=3):
            put(sheet, at, row, form["day"])
        end = 3 + len(rows)
        sheet.write_string(end + 1, 0, "Totals", form["bold"])
        for column in range(2, 2 + WEIGHED_HEADS):
            letter = chr(ord("A") + column)
            numbers = [row[column] for row in rows if len(row) > column]
            total = sum(value for value in numbers if isinstance(value, int | float))
            sheet.write_formula(end + 1, column, f"=SUM({letter}4:{letter}{end})", None, total)
    book.close()


def write_bakery_list(loads: Iterable[true.Load]) -> None:
    """Write the bakery's own list: French, semicolons, decimal commas, Windows-1252."""
    random = Random(3)
    months = ("janv.", "févr.", "mars", "avril", "mai", "juin", "juil.", "août", "sept.", "oct.",
              "nov.", "déc.")  # fmt: skip
    fills = {1.0: "plein", 0.75: "75 %", 0.5: "à moitié", 0.25: "25 %"}
    lines = ["Date;Fournisseur;Matière;Contenant;Nombre;Remplissage;Poids (kg);Remarques"]
    for load in loads:
        day = f"{load.day.day} {months[load.day.month - 1]} {load.day.year}"
        pails = ("seau", str(load.count), fills.get(load.fill or 0, ""))
        kg = "" if load.pounds is None else f"{load.pounds * 0.45359237:.1f}".replace(".", ",")
        material = pick(random, ("restes de cuisine", "restes de table", "restes de cuisine"))
        lines.append(";".join((day, "Boulangerie du Vieux Quai", material, *pails, kg, "")))
    text = "\r\n".join(lines) + "\r\n"
    (HERE / "Boulangerie du Vieux Quai.csv").write_bytes(text.encode("cp1252"))


def main() -> None:
    """Write every sheet of the sample site."""
    loads = true.deliveries()
    yard = [load for load in loads if load.source != true.BAKERY]
    write_tall_log(load for load in yard if load.day < WIDE_FROM)
    write_wide_log(load for load in yard if load.day >= WIDE_FROM)
    write_bakery_list(load for load in loads if load.source == true.BAKERY)
    write_yard_book()


if __name__ == "__main__":
    main()
