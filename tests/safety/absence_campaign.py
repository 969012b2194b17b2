"""What can happen to the files of the sample site, one after another, and whether it is noticed.

After each try either the figures are exactly those of before, or the difference is named by file
and mass, the status is 1 and nothing can be issued. Anything else is silent. As a script it makes
every try and prints the table: ``python tests/safety/absence_campaign.py``.
"""

from __future__ import annotations

import csv
import datetime as dt
import shutil
import sys
import tempfile
from collections import Counter
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from pathlib import Path

import openpyxl
import pandas as pd
import python_calamine as calamine
from odf.opendocument import OpenDocumentSpreadsheet
from odf.table import Table, TableCell, TableRow
from odf.text import P

from divert.convert import Workings
from divert.core.findings import CannotRun
from divert.core.period import read_period
from divert.inventory.open_site import open_site
from divert.publish.write import write_reports

SAMPLE = Path(__file__).parents[2] / "sample_data"
TODAY = dt.date(2026, 7, 1)
CUTS = 10


@dataclass(frozen=True)
class Try:
    """One thing that happens to one file of a folder."""

    what: str
    file: str
    do: Callable[[Path], None]


def made(folder: Path) -> Workings:
    """Copy the sample's own sheets and settings, and read them once so that they are remembered."""
    folder.mkdir(parents=True)
    for path in SAMPLE.iterdir():
        if path.suffix in (".toml", ".xlsx", ".csv", ".svg"):
            shutil.copy(path, folder / path.name)
    return open_site(folder, as_of=TODAY, remember=True)


def inputs(folder: Path) -> list[str]:
    """Return the names of the input files."""
    return sorted(p.name for p in folder.iterdir() if p.suffix in (".xlsx", ".csv"))


def tries(names: Iterable[str]) -> Iterator[Try]:
    """Yield everything that is tried."""
    names = list(names)
    for place, name in enumerate(names):
        yield Try("delete", name, lambda f, n=name: (f / n).unlink())
        for cut in range(CUTS):
            yield Try(f"truncate {cut}/{CUTS}", name, lambda f, n=name, c=cut: _cut(f / n, c))
        yield Try("empty", name, lambda f, n=name: (f / n).write_bytes(b""))
        yield Try("rename", name, lambda f, n=name: _rename(f / n))
        yield Try("copy, one row changed", name, lambda f, n=name: _changed_copy(f / n))
        yield Try("copy as CSV", name, lambda f, n=name: _as_text(f / n))
        yield Try("copy as ODS", name, lambda f, n=name: _as_ods(f / n))
        yield Try("move into a folder", name, lambda f, n=name: _move(f / n))
        other = names[(place + 1) % len(names)]
        yield Try("swap two", name, lambda f, n=name, o=other: _swap(f / n, f / o))


def _cut(path: Path, tenths: int) -> None:
    data = path.read_bytes()
    path.write_bytes(data[: len(data) * tenths // CUTS])


def _rename(path: Path) -> None:
    path.rename(path.with_name(f"renamed{path.suffix}"))


def _move(path: Path) -> None:
    (path.parent / "kept").mkdir()
    path.rename(path.parent / "kept" / path.name)


def _swap(one: Path, other: Path) -> None:
    """Give each the other's bytes; where they are of two formats, each keeps its own ending."""
    mine, theirs = one.read_bytes(), other.read_bytes()
    if one.suffix == other.suffix:
        one.write_bytes(theirs)
        other.write_bytes(mine)
        return
    one.unlink()
    other.unlink()
    one.with_suffix(other.suffix).write_bytes(theirs)
    other.with_suffix(one.suffix).write_bytes(mine)


def _changed_copy(path: Path) -> None:
    """Leave a copy beside the file with its last number changed, under a name that comes first."""
    copy = path.with_name(f"A {path.name}")
    if path.suffix == ".csv":
        lines = path.read_text(encoding="cp1252").splitlines()
        place = max(i for i, line in enumerate(lines) if any(c.isdigit() for c in line))
        lines[place] = "".join("7" if c.isdigit() and c != "7" else c for c in lines[place])
        copy.write_text("\n".join(lines), encoding="cp1252")
        return
    book = openpyxl.load_workbook(path, data_only=True)
    cells = [
        c for sheet in book for row in sheet.iter_rows() for c in row
        if isinstance(c.value, int | float) and not isinstance(c.value, bool)
    ]  # fmt: skip
    cells[-1].value = float(cells[-1].value) + 13  # type: ignore[arg-type]
    book.save(copy)


def _grids(path: Path) -> dict[str, list[list[object]]]:
    if path.suffix == ".csv":
        with path.open(encoding="cp1252", newline="") as file:
            dialect = csv.Sniffer().sniff(file.read(2000))
            file.seek(0)
            return {path.stem: [list(row) for row in csv.reader(file, dialect)]}
    book = calamine.load_workbook(path)
    return {name: book.get_sheet_by_name(name).to_python() for name in book.sheet_names}


def _as_text(path: Path) -> None:
    """Leave the longest tab as a CSV beside its workbook; a CSV as one with semicolons."""
    name, rows = max(_grids(path).items(), key=lambda item: len(item[1]))
    mark = ";" if path.suffix == ".csv" else ","
    with (path.parent / f"{path.stem} - {name}.csv").open(
        "w", encoding="utf-8", newline=""
    ) as file:
        csv.writer(file, delimiter=mark).writerows(rows)


def _as_ods(path: Path) -> None:
    document = OpenDocumentSpreadsheet()
    for name, rows in _grids(path).items():
        table = Table(name=name)
        for row in rows:
            line = TableRow()
            for cell in row:
                line.addElement(_ods_cell(cell))
            table.addElement(line)
        document.spreadsheet.addElement(table)
    document.save(str(path.with_suffix(".ods")))


def _ods_cell(cell: object) -> TableCell:
    if isinstance(cell, dt.date):
        return TableCell(valuetype="date", datevalue=cell.isoformat())
    if isinstance(cell, int | float) and not isinstance(cell, bool):
        return TableCell(valuetype="float", value=str(cell))
    made = TableCell(valuetype="string")
    made.addElement(P(text=str(cell)))
    return made


def signature(workings: Workings) -> dict[tuple[object, ...], tuple[float, float]]:
    """Return what every figure is made of: mass and removed by kind, month, source, material, fate."""
    ledger = workings.ledger
    frame = pd.DataFrame({
        "month": ledger["date"].dt.strftime("%Y-%m"),
        "amount": ledger["amount"].fillna(0.0),
        "kg": ledger["mass_kg"].fillna(0.0),
        "off": ledger["removed_kg"].fillna(0.0),
        **{n: ledger[n].astype(object).fillna("") for n in ("kind", "source", "material", "before", "basis")},
    })  # fmt: skip
    by = ["kind", "month", "source", "material", "before", "basis"]
    sums = frame.groupby(by)[["kg", "off", "amount"]].sum()
    return {
        key: (round(float(kg), 6), round(float(off + amount), 6))
        for key, kg, off, amount in zip(
            sums.index.tolist(), sums["kg"], sums["off"], sums["amount"], strict=True
        )
    }


def outcome(before: dict[tuple[object, ...], tuple[float, float]], folder: Path) -> str:
    """Return "same", "named" or "silent" for what a folder says after something happened to it."""
    workings = open_site(folder, as_of=TODAY, remember=True)
    same = signature(workings) == before
    named = [f for f in workings.findings if f.blocks and f.answer is None]
    if not named:
        return "same" if same else "silent"
    told = all(f.where.file for f in named) and any(f.mass_kg for f in named)
    return "named" if told and _refused(workings) else "silent"


def _refused(workings: Workings) -> bool:
    site = workings.site
    period = read_period("2026-Q2", as_of=TODAY, started=site.started, year_starts=1)
    try:
        write_reports(workings, "board", period, TODAY, formats=("html",), issue=True)
    except CannotRun as refusal:
        return "Nothing was issued" in str(refusal.message)
    return False


def campaign(
    chosen: Callable[[int, Try], bool] = lambda place, one: True,
) -> Counter[tuple[str, str]]:
    """Make the tries and return how often each kind of try came to each outcome."""
    found: Counter[tuple[str, str]] = Counter()
    with tempfile.TemporaryDirectory() as place:
        whole = Path(place) / "whole"
        before = signature(made(whole))
        for number, one in enumerate(tries(inputs(whole))):
            if not chosen(number, one):
                continue
            folder = Path(place) / "tried"
            shutil.copytree(whole, folder)
            one.do(folder)
            result = outcome(before, folder)
            found[one.what.split(" ")[0] if one.what.startswith("trunc") else one.what, result] += 1
            if result == "silent":
                print(f"silent: {one.what}: {one.file}", file=sys.stderr)
            shutil.rmtree(folder)
    return found


def table(found: Counter[tuple[str, str]]) -> str:
    """Return the outcome as lines: what was tried, how often, and what came of it."""
    whats = list(dict.fromkeys(what for what, _ in found))
    lines = [f"{'what happened to a file':<24} tries   same  named silent"]
    for what in (*whats, "all"):
        counts = [
            sum(n for (w, r), n in found.items() if r == result and what in (w, "all"))
            for result in ("same", "named", "silent")
        ]
        lines.append(f"{what:<24} {sum(counts):5d}  {counts[0]:5d}  {counts[1]:5d}  {counts[2]:5d}")
    return "\n".join(lines)


if __name__ == "__main__":
    print(table(campaign()))
