"""Activities: hours, visitors, money spent, whatever else a funder counts."""

from __future__ import annotations

import datetime as dt
import re
from pathlib import PurePosixPath

import numpy as np
import numpy.typing as npt

from divert.ingest.amounts.column import CLOSED, NOTHING, PROBLEM, UNKNOWN, VALUE, read_amounts
from divert.ingest.amounts.money import read_money
from divert.ingest.arrays import Bools, Floats, Objects
from divert.ingest.cells.number import even, take_number
from divert.ingest.coded import Coded, Part, constant, of_cells
from divert.ingest.days.dated_rows import When
from divert.ingest.entries.degrees import degrees
from divert.ingest.entries.job import TableJob
from divert.ingest.entries.process import read_measure
from divert.ingest.lexicon import bare
from divert.ingest.sheet import as_text
from divert.ingest.tables.columns import Column
from divert.ingest.tables.groups import Group
from divert.ingest.tables.heading_words import norm
from divert.ingest.tables.overrides import rule_for
from divert.ingest.tables.rows import Rows


def currency_of(column: Column | None, job: TableJob) -> str:
    """Return the currency of a column of money: its heading's, else the site's."""
    said = column.heading.money if column is not None else None
    return said or job.known.site.currency


def activity_part(
    job: TableJob, group: Group, rows: Rows, dated: When, notes: Objects | None
) -> tuple[Part | None, dict[str, Bools]]:
    """Return the entries of one counting column of an activity table, and what became of its rows."""
    column = group.first
    size = len(rows.reason)
    money = column.field == "money"
    rule = rule_for(job.known.site, job.sheet.file, job.sheet.name)
    process = rule is not None and rule.holds == "process"
    measured = read_measure(column, job.known.trade) if process else None
    numbers, state, currency, said_units = _read(column, job, money)
    if measured is not None:
        numbers, state, said_units = measured
    elif process:
        said_units = degrees(column)
    open_rows = rows.open
    filled = open_rows & (state != 0)
    value = filled & (state == VALUE) & (numbers != 0)
    taken: dict[str, Bools] = {
        "nothing delivered": filled & ((state == NOTHING) | ((state == VALUE) & (numbers == 0))),
        "closed": filled & (state == CLOSED),
        "no quantity": filled & (state == UNKNOWN),
        "quantity unreadable": filled & (state == PROBLEM),
    }
    missing = value & np.isnat(dated.days)
    future = value & (dated.days > np.datetime64(job.as_of, "D"))
    early = value & (dated.days < np.datetime64(job.known.site.started, "D"))
    taken |= {"no date": missing, "date in the future": future, "date before the start": early}
    good = value & ~missing & ~future & ~early
    taken["used"] = good
    used = np.flatnonzero(good)
    if not len(used):
        return None, taken
    names = _activity_names(job, column, money, size)
    texts = {
        "kind": constant("process" if process else "activity", size),
        "name": names,
        "unit": said_units.filled(
            constant(column.field if column.field in ("hours", "people") else "", size)
        ),
        "currency": currency if money else constant("", size),
        "file": constant(job.sheet.file, size),
        "sheet": constant(job.sheet.name, size),
        "column": constant(column.letter, size),
    }
    found = of_cells(column.cells, as_text).texts()
    part = Part(
        len(used), dated.days[used], used + job.table.first + 1,
        {k: v.take(used) for k, v in texts.items()}, {"amount": numbers[used]},
        {"found": found[used]} | ({} if notes is None else {"note": notes[used]}),
    )  # fmt: skip
    return part, taken


def _read(
    column: Column, job: TableJob, money: bool
) -> tuple[Floats, npt.NDArray[np.int8], Coded, Coded]:
    size = len(column.cells.codes)
    if money:
        amounts, state, currencies = read_money(column.cells)
        return (
            amounts,
            state,
            currencies.filled(constant(currency_of(column, job), size)),
            constant("", size),
        )
    read = read_amounts(column.cells, job.known.trade)
    unit_column = job.layout.shared.get("unit")
    units = (
        of_cells(unit_column.cells, lambda c: as_text(c).casefold())
        if unit_column is not None
        else constant("", size)
    )
    state = read.state.copy()
    words = (state == PROBLEM) | ((state == VALUE) & np.isnan(read.number))
    spoken = _numbers_with_words(column) if words.any() else read.number
    number = np.where(np.isnan(read.number), spoken, read.number)
    state[~np.isnan(number) & (state == PROBLEM)] = VALUE
    state[(state == VALUE) & np.isnan(number)] = PROBLEM
    return number, state, constant("", size), units


_CLOCK = re.compile(r"(\d{1,2})\s*(?:h|:|hrs?|heures?)\s*([0-5]\d)(?:\s*(?:m|min|minutes))?\.?")


def _hours(cell: object) -> float | None:
    """Return the hours of 2:15 or 2h30, typed as a text or taken for a time of day."""
    if isinstance(cell, dt.timedelta):
        return cell.total_seconds() / 3600
    if isinstance(cell, dt.time):
        return cell.hour + cell.minute / 60
    match = _CLOCK.fullmatch(bare(cell)) if isinstance(cell, str) else None
    return int(match[1]) + int(match[2]) / 60 if match else None


def _numbers_with_words(column: Column) -> Floats:
    """Read "12 people" or "3.5 hrs": the number, whatever was counted."""
    found = []
    for cell in column.cells.cells:
        if column.field == "hours" and (hours := _hours(cell)) is not None:
            found.append(hours)
            continue
        text = bare(even(cell)) if isinstance(cell, str) else ""
        try:
            taken = take_number(text)
        except ValueError:
            taken = None
        whole = taken is not None and re.fullmatch(r"\s*[a-z]*\.?", text[taken[1] :]) is not None
        found.append(taken[0] if taken is not None and whole else np.nan)
    return np.array([*found, np.nan])[column.cells.codes]


_PEOPLE = (
    "name",
    "nom",
    "volunteer name",
    "nom du benevole",
)  # whose hours they were, not what was done


def _activity_names(job: TableJob, column: Column, money: bool, size: int) -> Coded:
    """Return each row's activity: its name column, else the site's name for what the sheet and head say."""
    known = job.known.activities
    named = job.layout.shared.get("name")
    head = column.head.text.split("(")[0].strip() or column.field
    if money:
        return constant("spent", size)
    subjects = [job.sheet.name, *job.table.titles, PurePosixPath(job.sheet.file).stem]
    for said in (head, *(f"{norm(s)} {head}" for s in subjects), *subjects):
        whole = known.find(said)
        if whole:
            return constant(whole, size)
    people = named is not None and column.field == "hours" and norm(named.head.text) in _PEOPLE
    if named is not None and not people:
        unit = {"hours": "hours", "people": "visitors"}.get(column.field, "")

        def read(cell: object) -> str:
            text = as_text(cell) if isinstance(cell, str | int | float) else ""
            return (
                known.find(text)
                or known.find(f"{text} {unit}")
                or known.find(f"{norm(text)} {unit}")
                or text
            )

        return of_cells(named.cells, read)
    generic = norm(head) in (
        "hour",
        "people",
        "number",
        "count",
        "attendance",
        "quantity",
        "amount",
        "person",
        "nombre",
        "heure",
        "personne",
    )
    if generic and job.sheet.name:
        return constant(f"{norm(job.sheet.name)} {head}".casefold(), size)
    return constant(head.casefold(), size)
