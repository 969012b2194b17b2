"""Made-up inputs of modest size that are hard to read, for tests/benchmark.py."""

from __future__ import annotations

import csv
import datetime as dt
from pathlib import Path

import benchmark_data as data
import numpy as np
import xlsxwriter

WORDS = (
    "left by the gate", "two lids missing", "driver early", "rained all day", "soft fruit mostly",
    "bags torn open", "picked out forks", "asked for a second cart", "short crew", "very wet",
)  # fmt: skip
MESSY = (
    "Day", "Who brought it", "What", "In what", "How many", "How full", "Weight lb", "Picked out lb",
    "Crew", "Truck", "Route", "Gate", "Weather", "Lids", "Smell", "Photo", "Told", "Next", "Why", "Remarks",
)  # fmt: skip
DAY_ONE = 45_292  # 2024-01-01 as workbooks count days


def settings(folder: Path, sources: int = 40) -> Path:
    """Make a site folder with its settings and no sheets yet."""
    data.write_site(folder, 0, sources)
    (folder / "log.xlsx").unlink()
    return folder


def clean_books(folder: Path, books: int, rows: int = 500) -> None:
    """Write workbooks that each hold one plain log."""
    settings(folder)
    for number in range(books):
        log(folder / f"log {number:03d}.xlsx", rows, seed=number)


def log(path: Path, rows: int, seed: int = 0, stray: int = 0, width: int = 0) -> None:
    """Write a plain log; ``stray``: a row far below that holds one word; ``width``: further
    columns of which one cell in fifty is filled."""
    draw = np.random.default_rng([23, seed])
    days = np.sort(draw.integers(0, 700, rows))
    boxes = list(data.CONTAINERS)
    with xlsxwriter.Workbook(path, {"constant_memory": True}) as book:
        day = book.add_format({"num_format": "yyyy-mm-dd"})
        sheet = book.add_worksheet("Log")
        head = [
            "Date",
            "Source",
            "Material",
            "Container",
            "Count",
            "How full",
            "Weight (lb)",
            "Notes",
        ]
        sheet.write_row(0, 0, head + [f"Remark {n + 1}" for n in range(width)])
        for r in range(rows):
            sheet.write_number(r + 1, 0, DAY_ONE + int(days[r]), day)
            sheet.write_string(r + 1, 1, f"Source {draw.integers(0, 40)}")
            sheet.write_string(r + 1, 2, f"material {draw.integers(0, len(data.LIKE))}")
            sheet.write_string(r + 1, 3, boxes[draw.integers(0, len(boxes))])
            sheet.write_number(r + 1, 4, int(draw.integers(1, 6)))
            sheet.write_number(r + 1, 5, float(draw.choice([0.5, 0.75, 1.0])))
            if draw.random() < 1 / 3:
                sheet.write_number(r + 1, 6, round(float(draw.uniform(10, 180)), 1))
            for c in np.flatnonzero(draw.random(width) < 0.02):
                sheet.write_string(r + 1, 8 + int(c), WORDS[draw.integers(0, len(WORDS))])
        if stray:
            sheet.write_string(stray - 1, 0, "x")


def messy_books(folder: Path, books: int, rows: int = 500) -> None:
    """Write workbooks with twenty headings and free text in most columns."""
    settings(folder)
    for number in range(books):
        draw = np.random.default_rng([29, number])
        days = np.sort(draw.integers(0, 700, rows))
        with xlsxwriter.Workbook(
            folder / f"book {number:03d}.xlsx", {"constant_memory": True}
        ) as book:
            sheet = book.add_worksheet("Sheet1")
            sheet.write_row(0, 0, MESSY)
            for r in range(rows):
                day = dt.date(2024, 1, 1) + dt.timedelta(int(days[r]))
                words = [
                    f"{WORDS[draw.integers(0, 10)]}, {WORDS[draw.integers(0, 10)]} {r}"
                    for _ in range(12)
                ]
                kg = f"{draw.uniform(10, 180):.1f}" if draw.random() < 0.5 else "n/a"
                sheet.write_row(
                    r + 1, 0,
                    [f"{day:%m/%d/%Y}", f"Source {draw.integers(0, 40)}", f"material {draw.integers(0, 12)}",
                     "tote", int(draw.integers(1, 6)), "3/4", kg, "", *words],
                )  # fmt: skip


def strays(folder: Path, sheets: int = 3) -> None:
    """Write short logs that each hold one word in the last row that a workbook has."""
    settings(folder)
    for number in range(sheets):
        log(folder / f"log {number}.xlsx", 200, seed=number, stray=1_048_571)


def days_across(folder: Path, days: int, sources: int = 3) -> None:
    """Write a table of some sources down and that many days across."""
    settings(folder)
    with (folder / "log.csv").open("w", newline="", encoding="utf-8") as file:
        out = csv.writer(file)
        first = dt.date(2016, 1, 1)
        out.writerow(["Source", *(first + dt.timedelta(n) for n in range(days))])
        for source in range(sources):
            loads = (10 + (n * 7 + source) % 90 for n in range(days))
            out.writerow([f"Source {source % 40}", *loads])


def side_by_side(folder: Path, columns: int, rows: int = 15) -> None:
    """Write a table of that many weights a row, all under one word."""
    settings(folder)
    with (folder / "log.csv").open("w", newline="", encoding="utf-8") as file:
        out = csv.writer(file)
        out.writerow(["Source", *["Weight (lb)"] * columns])
        for row in range(rows):
            weights = (10 + (n * 7 + row) % 90 for n in range(columns))
            out.writerow([f"Source {row % 40}", *weights])


def unknown_names(folder: Path, names: int) -> None:
    """Write a log of which each row names a source nobody has told of."""
    settings(folder)
    with (folder / "log.csv").open("w", newline="", encoding="utf-8") as file:
        out = csv.writer(file)
        out.writerow(["Date", "Source", "Material", "Weight (lb)"])
        for n in range(names):
            day = dt.date(2024, 1, 1) + dt.timedelta(n % 700)
            out.writerow(
                [
                    day.isoformat(),
                    f"Stop {n * 7919 % 100_003:05d}",
                    f"material {n % 12}",
                    10 + n % 90,
                ]
            )


def many_sources(folder: Path, sources: int) -> None:
    """Write a site of that many known sources and a log in which each stands five times."""
    settings(folder, sources)
    with (folder / "log.csv").open("w", newline="", encoding="utf-8") as file:
        out = csv.writer(file)
        out.writerow(["Date", "Source", "Material", "Weight (lb)"])
        for n in range(5 * sources):
            day = dt.date(2016, 1, 1) + dt.timedelta(n * 3_600 // (5 * sources))
            out.writerow(
                [day.isoformat(), f"Source {n * 7919 % sources}", f"material {n % 12}", 10 + n % 90]
            )


def long_csv(folder: Path, rows: int) -> None:
    """Write a plain log of many rows as text."""
    settings(folder)
    draw = np.random.default_rng(31)
    days = np.sort(draw.integers(0, 3652, rows))
    boxes = list(data.CONTAINERS)
    with (folder / "log.csv").open("w", newline="", encoding="utf-8") as file:
        out = csv.writer(file)
        out.writerow(
            ["Date", "Source", "Material", "Container", "Count", "How full", "Weight (lb)"]
        )
        kinds, stops, boxed = (draw.integers(0, n, rows) for n in (12, 40, len(boxes)))
        count, fill = draw.integers(1, 6, rows), draw.choice([50, 75, 100], rows)
        pounds = np.where(draw.random(rows) < 1 / 3, draw.uniform(10, 180, rows).round(1), np.nan)
        for r in range(rows):
            day = dt.date(2016, 1, 1) + dt.timedelta(int(days[r]))
            out.writerow([day.isoformat(), f"Source {stops[r]}", f"material {kinds[r]}", boxes[boxed[r]],
                          int(count[r]), f"{fill[r]}%", "" if np.isnan(pounds[r]) else pounds[r]])  # fmt: skip
