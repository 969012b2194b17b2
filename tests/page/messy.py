"""Three made-up workbooks as a crew leaves them, for a yard that nobody prepared."""

from __future__ import annotations

import datetime as dt
from pathlib import Path

import xlsxwriter

TODAY = dt.date(2025, 7, 10)


def _book(path: Path, sheets: dict[str, list[list[object]]]) -> None:
    with xlsxwriter.Workbook(str(path)) as book:
        day = book.add_format({"num_format": "yyyy-mm-dd"})
        for name, rows in sheets.items():
            sheet = book.add_worksheet(name)
            for r, row in enumerate(rows):
                for c, cell in enumerate(row):
                    if isinstance(cell, dt.date):
                        sheet.write_datetime(
                            r, c, dt.datetime(cell.year, cell.month, cell.day), day
                        )
                    elif cell is not None:
                        sheet.write(r, c, cell)


def write_messy(folder: Path) -> list[Path]:
    """Write the three workbooks and return their paths.

    Pickups: weighed loads of two kitchens, 10 lb a load on 26 Mondays from 6 January 2025, one of
    them under a misspelt name. Totes: loads counted in totes nobody described. Hours: no intake.
    """
    folder.mkdir(parents=True, exist_ok=True)
    first = dt.date(2025, 1, 6)
    pickups: list[list[object]] = [
        ["PICKUPS 2025"],
        [],
        ["Date", "From", "What", "Weight (lb)", "Notes"],
    ]
    for week in range(26):
        name = "Hollow Oak kitchin" if week == 3 else "Hollow Oak kitchen"
        pickups.append([first + dt.timedelta(days=7 * week), name, "food scraps", 10, None])
    pickups.append(["TOTAL", None, None, 260, None])
    totes: list[list[object]] = [["Day", "Who", "Stuff", "Container", "How many", "How full"]]
    for week in range(6):
        totes.append(
            [
                first + dt.timedelta(days=7 * week + 2),
                "Mill Lane stall",
                "coffee grounds",
                "crate",
                2,
                "full",
            ]
        )
    hours: list[list[object]] = [["Date", "Activity", "Hours"], [first, "turning", 3]]
    paths = [folder / "pickups.xlsx", folder / "totes.xlsx", folder / "hours.xlsx"]
    _book(paths[0], {"2025": pickups})
    _book(paths[1], {"Drop-offs": totes})
    _book(paths[2], {"Volunteer hours": hours})
    return paths
