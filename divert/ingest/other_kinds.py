"""Entries that are no material: activities, fuel, and the money side of sales."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
import numpy.typing as npt

from divert.ingest.amounts import CLOSED, NOTHING, PROBLEM, UNKNOWN, VALUE, read_amounts
from divert.ingest.cells.unit import read_cell as read_unit
from divert.ingest.coded import Coded, Part, constant, of_cells
from divert.ingest.columns import Column
from divert.ingest.headings import norm
from divert.ingest.layout import Group
from divert.ingest.measure import Measured
from divert.ingest.money import read_money
from divert.ingest.rows import Rows
from divert.ingest.sheet import as_text
from divert.ingest.when import When

if TYPE_CHECKING:
    from divert.ingest.entries import Reading1

Bools = npt.NDArray[np.bool_]
Objects = npt.NDArray[np.object_]
Floats = npt.NDArray[np.float64]
LITRE_M3 = 0.001


def _currency(column: Column | None, job: Reading1) -> str:
    said = column.heading.money if column is not None else None
    return said or job.known.site.currency


def activity_part(
    job: Reading1, group: Group, rows: Rows, dated: When, notes: Objects | None
) -> tuple[Part | None, dict[str, Bools]]:
    """Return the entries of one counting column of an activity table, and what became of its rows."""
    column = group.first
    size = len(rows.reason)
    money = column.field == "money"
    numbers, state, currency, said_units = _read(column, job, money)
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
    names = _activity_names(job, column, group, money, size)
    texts = {
        "kind": constant("activity", size),
        "name": names,
        "unit": said_units.filled(constant("" if money else _activity_unit(column, job), size)),
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
    column: Column, job: Reading1, money: bool
) -> tuple[Floats, npt.NDArray[np.int8], Coded, Coded]:
    size = len(column.cells.codes)
    if money:
        amounts, state, currencies = read_money(column.cells)
        return (
            amounts,
            state,
            currencies.filled(constant(_currency(column, job), size)),
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


def _numbers_with_words(column: Column) -> Floats:
    """Read "12 people" or "3.5 hrs": the number, whatever was counted."""
    import re

    from divert.ingest.cells.number import even, take_number
    from divert.ingest.lexicon import bare

    found = []
    for cell in column.cells.cells:
        text = bare(even(cell)) if isinstance(cell, str) else ""
        try:
            taken = take_number(text)
        except ValueError:
            taken = None
        whole = taken is not None and re.fullmatch(r"\s*[a-z]*\.?", text[taken[1] :]) is not None
        found.append(taken[0] if taken is not None and whole else np.nan)
    return np.array([*found, np.nan])[column.cells.codes]


def _activity_unit(column: Column, job: Reading1) -> str:
    return {"hours": "hours", "people": "people"}.get(column.field, "")


def _activity_names(job: Reading1, column: Column, group: Group, money: bool, size: int) -> Coded:
    """Return each row's activity: its name column, else the site's name for what the sheet and head say."""
    known = job.known.activities
    named = job.layout.shared.get("name")
    head = column.head.text.split("(")[0].strip() or column.field
    if money:
        return constant("spent", size)
    subjects = [job.sheet.name, *job.table.titles]
    for said in (head, *(f"{_one(s)} {head}" for s in subjects), *subjects):
        whole = known.find(said)
        if whole:
            return constant(whole, size)
    if named is not None:
        unit = {"hours": "hours", "people": "visitors"}.get(column.field, "")

        def read(cell: object) -> str:
            text = as_text(cell) if isinstance(cell, str | int | float) else ""
            return (
                known.find(text)
                or known.find(f"{text} {unit}")
                or known.find(f"{_one(text)} {unit}")
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
        return constant(f"{_one(job.sheet.name)} {head}".casefold(), size)
    return constant(head.casefold(), size)


def _one(name: str) -> str:
    return " ".join(norm(name).split())


def fuel_part(job: Reading1, group: Group, amounts: Measured, used: npt.NDArray[np.int64],
              days: npt.NDArray[np.datetime64], note: Objects | None) -> Part:  # fmt: skip
    """Return fuel entries: the fuel's name and litres."""
    size = len(amounts.count)
    find = job.known.fuels.find
    column = job.layout.shared.get("fuel")
    names = (
        of_cells(column.cells, lambda c: find(as_text(c)) or as_text(c))
        if column is not None
        else constant("", size)
    )
    said = group.label.other or group.label.material
    for text in (said, group.first.head.text, *job.table.titles, job.sheet.name, job.sheet.file):
        fuel = find(text) or next(
            (f for w in text.replace(".", " ").replace("_", " ").split() if (f := find(w))), ""
        )
        if fuel:
            names = names.filled(constant(fuel, size))
            break
    texts = {
        "kind": constant("fuel", size), "name": names, "unit": constant("L", size),
        "file": constant(job.sheet.file, size), "sheet": constant(job.sheet.name, size),
        "column": constant(group.first.letter, size),
    }  # fmt: skip
    found = of_cells(group.first.cells, as_text).texts()
    return Part(
        len(used), days[used], used + job.table.first + 1,
        {k: v.take(used) for k, v in texts.items()},
        {"amount": (amounts.volume_m3 / LITRE_M3)[used]},
        {"found": found[used]} | ({} if note is None else {"note": note[used]}),
    )  # fmt: skip


def sale_numbers(job: Reading1, group: Group, amounts: Measured) -> tuple[Coded, Coded, Floats]:
    """Return a sale's currency, what one unit of it is, and the money taken."""
    size = len(amounts.count)
    column = next(iter(group.columns.get("money", ())), None)
    price = job.layout.shared.get("price")
    money = np.full(size, np.nan)
    currency = constant("", size)
    if column is not None:
        money, _, currency = read_money(column.cells)
    elif price is not None:
        each, _, currency = read_money(price.cells)
        money = each * amounts.count
    currency = currency.filled(constant(_currency(column or price, job), size))
    from divert.ingest.coded import of_texts

    return currency.where(np.isnan(money), constant("", size)), of_texts(amounts.container), money


def unit_word(text: str, job: Reading1) -> str:
    """Return a unit column's word as the units table spells it, or the word itself."""
    unit = read_unit(text, job.known.trade.meaning)
    return unit.name if unit is not None else text
