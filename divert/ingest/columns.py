"""Settle what each column of a table is: by its heading first, by what stands in it where that is open."""

from __future__ import annotations

import datetime as dt
import itertools
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np

from divert.ingest.cells import fill, mark, quantity, unit
from divert.ingest.cells.date import read_cell as read_date
from divert.ingest.cells.problem import Problem
from divert.ingest.headings import QUANTITIES, Heading
from divert.ingest.known import Known, row_kinds
from divert.ingest.lexicon import bare, words
from divert.ingest.sheet import Distinct, Sheet, as_text, is_number, letter
from divert.ingest.tables import Head, Table
from divert.names import plain

_SAMPLE = 80  # distinct cells looked at to say what a column holds
NAMED = (
    "source",
    "material",
    "container",
    "product",
    "destination",
    "name",
    "fuel",
    "condition",
    "before",
)
IGNORED = ("weekday", "time", "by", "id", "running", "price", "other", "")
TEXTS = ("note", "status")


@dataclass(frozen=True)
class Content:
    """Shares (0-1, of the filled cells) of what stands in a column."""

    filled: int = 0
    numbers: float = 0.0
    dates: float = 0.0
    days: float = 0.0
    weekdays: float = 0.0
    sources: float = 0.0
    materials: float = 0.0
    containers: float = 0.0
    units: float = 0.0
    quantities: float = 0.0
    kinds: float = 0.0
    befores: float = 0.0
    conditions: float = 0.0
    fills: float = 0.0


@dataclass(frozen=True)
class Column:
    """One column of a table: what its head says, what it was taken to be, and its cells."""

    index: int
    head: Head
    field: str
    cells: Distinct
    known: Known

    __hash__ = object.__hash__

    @property
    def heading(self) -> Heading:
        """Return what the head was read as."""
        return self.head.heading

    @property
    def letter(self) -> str:
        """Return the column's letter."""
        return letter(self.index)

    @cached_property
    def content(self) -> Content:
        """Return what stands in the column."""
        return _content(self.cells, self.known)


def _content(cells: Distinct, known: Known) -> Content:
    found = cells.cells[:_SAMPLE]
    if not found:
        return Content()
    weights = np.bincount(cells.codes[cells.codes >= 0], minlength=len(cells.cells))[:_SAMPLE]
    told: dict[str, float] = {}
    total = 0
    for cell, weight in zip(found, weights, strict=True):
        text = as_text(cell)
        if mark.read_start(text) or mark.is_total_label(text):
            continue
        total += int(weight)
        for what in _facts(cell, text, known):
            told[what] = told.get(what, 0.0) + float(weight)
    return Content(filled=total, **{k: v / total for k, v in told.items()} if total else {})


def _facts(cell: object, text: str, known: Known) -> Iterable[str]:
    if isinstance(cell, dt.date):
        return ["dates"]
    if isinstance(cell, int | float):
        facts = ["numbers", "quantities"]
        return [*facts, "days"] if cell == cell // 1 and 1 <= cell <= 31 else facts
    facts = []
    if is_number(text):
        facts.append("numbers")
    read = read_date(text)
    if not isinstance(read, Problem):
        facts.append("dates" if read.readings else "days")
    for what, names in (("sources", known.sources), ("materials", known.materials)):
        if names.find(text):
            facts.append(what)
    if known.befores.find(text):
        facts.append("befores")
    if known.conditions.find(text):
        facts.append("conditions")
    if plain(text) in row_kinds():
        facts.append("kinds")
    if bare(text).strip(".") in words("months")["weekdays"]["words"]:
        facts.append("weekdays")
    taken = known.containers.take(bare(text), 0)
    if known.containers.find(text) or (taken and taken[1] == len(bare(text))):
        facts.append("containers")
    elif unit.read_cell(text, known.trade.meaning):
        facts.append("units")
    if not isinstance(quantity.read_cell(text, known.trade), Problem):
        facts.append("quantities")
    if not isinstance(fill.read_cell(text), Problem):
        facts.append("fills")
    return facts


def columns_of(sheet: Sheet, table: Table, known: Known) -> list[Column]:
    """Return a table's columns with their fields settled, columns with no heading among them."""
    heads = {h.column: h for h in table.heads}
    columns = []
    for index in range(table.left, _right(sheet, table) + 1):
        cells = sheet.columns[index].part(table.first, table.end)
        head = heads.get(index) or Head(index, "", "", Heading())
        if index not in heads and not cells.cells:
            continue
        columns.append(Column(index, head, head.heading.field, cells, known))
    return columns


def _right(sheet: Sheet, table: Table) -> int:
    """Return the last column: the last heading's, or data beside it that has none."""
    right = table.right
    while right + 1 < len(sheet.columns):
        if (
            sheet.columns[right + 1].codes[
                table.heading_rows[0] if table.heading_rows else 0 : table.end
            ]
            < 0
        ).all():
            break
        if table.heading_rows and sheet.columns[right + 1].at(table.heading_rows[-1]) is not None:
            break
        right += 1
    return right


def settle(columns: Sequence[Column], kind: str, known: Known) -> list[Column]:
    """Return the columns with every field settled; each field that names a thing is held by one."""
    out = [replace(c, field=_by_content(c, kind)) for c in columns]
    out = _types(out)
    out = _one_each(out, kind)
    out = _missing(out, kind, known)
    out = _totals(out)
    out = _taken_out(out, kind)
    return _free_text(out)


def _taken_out(columns: list[Column], kind: str) -> list[Column]:
    """On a sheet of what was taken out, the amount taken out is the quantity."""
    if kind not in ("removed", "residue", "rejected"):
        return columns
    taken = [
        c for c in columns if c.field in ("removed", "contamination") and not c.heading.percent
    ]
    if not taken:
        return columns
    one = taken[0]
    out = []
    for column in columns:
        if column is one:
            column = replace(
                column,
                field="weight"
                if one.heading.unit and one.heading.unit.dimension == "mass"
                else "quantity",
            )
        elif column.field in QUANTITIES and one.heading.unit is not None:
            column = replace(column, field="other")
        out.append(column)
    return out


def _free_text(columns: list[Column]) -> list[Column]:
    """Where no column holds amounts, take the one that says "3 totes food scraps" for the quantity."""
    if any(
        c.field in QUANTITIES or (c.field == "" and c.content.quantities > 0.5) for c in columns
    ):
        return columns
    open_ = [
        c
        for c in columns
        if c.field in ("material", "product", "note", "other", "container", "")
        and c.content.quantities > 0.5
    ]
    best = max(open_, key=lambda c: c.content.quantities, default=None)
    if best is None or (best.field == "container" and best.content.containers > 0.5):
        return columns
    return [replace(c, field="quantity") if c is best else c for c in columns]


def _by_content(column: Column, kind: str) -> str:
    field, content = column.heading.field, column.content
    if not content.filled:
        return field
    if field in (
        "source",
        "material",
        "product",
        "destination",
        "name",
        "condition",
        "before",
        "fuel",
        "type",
    ):
        if content.numbers > 0.6 and content.containers < 0.5:
            unit = column.heading.unit  # a name over numbers labels them: "School" over pounds
            return "" if unit is None else "weight" if unit.dimension == "mass" else "volume"
        if field == "before" and content.befores < 0.3:
            return "note" if content.materials < 0.5 else "material"
    if field == "container" and content.numbers > 0.6:
        return "count"
    if field == "count" and not column.heading.container and _numbers_rows(column.cells):
        return "id"
    if field in ("day", "weekday"):
        if content.dates > 0.5:
            return "date"
        return "day" if content.days > 0.5 and field == "day" else "weekday"
    if field == "date" and content.dates + content.days < 0.2 and content.quantities > 0.5:
        return "quantity" if column.heading.text and not column.heading.said else "date"
    if field == "unit" and content.numbers > 0.6:
        return "count"
    if field == "total" and kind == "sale":
        return "total"
    if field == "total" and content.numbers + content.quantities < 0.3:
        return "note"
    if field == "id" and content.dates > 0.6 and content.numbers < 0.5:
        return "date"
    if field == "quantity" and content.numbers < 0.2 and content.quantities < 0.3:
        for name, share in (
            ("material", content.materials),
            ("date", content.dates),
            ("source", content.sources),
            ("container", content.containers),
            ("unit", content.units),
        ):
            if share > 0.5:
                return name
    if field == "fill" and content.fills < 0.2 and content.containers > 0.5:
        return "container"
    return field


def _types(columns: list[Column]) -> list[Column]:
    """Settle "Type" columns by what stands in them, else by what is missing."""
    have = {c.field for c in columns}
    out = []
    for column in columns:
        if column.field != "type":
            out.append(column)
            continue
        content = column.content
        shares = {
            "material": content.materials,
            "container": content.containers,
            "kind": content.kinds,
            "source": content.sources,
            "unit": content.units,
        }
        best = max(shares, key=lambda k: shares[k])
        field = best if shares[best] >= 0.5 else "material"
        if field in have or (field == "material" and shares[best] < 0.5 and "product" in have):
            field = next((f for f in ("material", "container") if f not in have), "note")
        have.add(field)
        out.append(replace(column, field=field))
    return out


def _numbers_rows(cells: Distinct) -> bool:
    """Return whether a column only numbers its rows: 1, 2, 3 and on."""
    found = [c for c in cells.cells if isinstance(c, int | float)]
    if (
        len(found) < 3
        or len(found) < len(cells.cells)
        or int((cells.codes >= 0).sum()) != len(found)
    ):
        return False
    return all(b - a == 1 for a, b in itertools.pairwise(found))


_ONE = (
    "date",
    "source",
    "material",
    "container",
    "condition",
    "before",
    "destination",
    "product",
    "name",
    "unit",
    "fuel",
    "kind",
    "currency",
    "day",
    "month",
    "year",
)


def _one_each(columns: list[Column], kind: str) -> list[Column]:
    """Where two columns claim one field, keep the likelier; fit the fields to the kind of sheet."""
    columns = [replace(c, field=_for_kind(c, kind, columns)) for c in columns]
    for field in _ONE:
        rivals = [c for c in columns if c.field == field]
        if len(rivals) < 2:
            continue
        keep = max(
            rivals, key=lambda c: (_fit(c), c.heading.said and not c.heading.label, -c.index)
        )
        columns = [
            replace(c, field="other") if c in rivals and c is not keep else c for c in columns
        ]
    return columns


def _fit(column: Column) -> float:
    content = column.content
    share = {
        "date": content.dates + 0.2 * content.days,
        "source": content.sources,
        "material": content.materials,
        "container": content.containers,
        "before": content.befores,
        "unit": content.units + content.containers,
    }.get(column.field, 1.0)
    return round(share, 1) + (0.01 if content.filled else 0.0)


def _for_kind(column: Column, kind: str, columns: Sequence[Column]) -> str:
    field = column.field
    have = {c.field for c in columns}
    if kind == "activity":
        return (
            {"material": "name", "product": "name", "source": "by", "quantity": "quantity"}.get(
                field, field
            )
            if "name" not in have or field != "source"
            else "other"
        )
    if kind == "fuel":
        return {"material": "fuel", "product": "fuel", "name": "fuel", "source": "note"}.get(
            field, field
        )
    if kind == "sale":
        if field == "total" and not {"money"} & have:
            return "money"
        if field == "quantity" and column.heading.unit is None:
            return "count"
    if kind in ("sale", "harvest"):
        if field in ("material", "name", "type") and "product" not in have:
            return "product"
        if field == "source" and kind == "harvest":
            return "other"
        return "destination" if field == "source" and "destination" not in have else field
    if field == "product":
        return "material" if "material" not in have else "other"
    if field == "name":
        if column.content.materials > max(0.5, column.content.sources):
            return "material" if "material" not in have else "other"
        return "source" if "source" not in have else "by"
    if field in ("people", "hours", "money"):
        return "other"
    if field == "fuel":
        return "material" if "material" not in have else "other"
    if field == "before" and kind != "intake":
        return "destination"
    return field


def _missing(columns: list[Column], kind: str, known: Known) -> list[Column]:
    """Take a column with no known heading to be what stands in it, where nothing else is that."""
    for field in ("date", "source", "material", "container", "unit"):

        def share(column: Column, name: str = f"{field}s") -> float:
            return float(getattr(column.content, name))

        target = "product" if field == "material" and kind in ("harvest", "sale") else field
        if any(c.field == target for c in columns):
            continue
        open_ = [
            c
            for c in columns
            if c.field in ("", "other", "destination", "note")
            and c.content.filled
            and not (c.field == "note" and c.heading.said)
        ]
        best = max(open_, key=share, default=None)
        if best is not None and share(best) >= (0.5 if best.field in ("", "other") else 0.8):
            if field == "unit" and share(best) < 0.8:
                continue
            columns = [replace(c, field=target) if c is best else c for c in columns]
    return columns


def _totals(columns: list[Column]) -> list[Column]:
    """Take "Total (lb)" for the quantity itself where the table has no other."""
    totals = [c for c in columns if c.field == "total" and c.content.filled]
    others = [
        c
        for c in columns
        if (c.field in QUANTITIES and c.field != "each")
        or (c.field == "" and c.heading.label and c.content.numbers > 0.6)
    ]
    counts = all(c.field == "count" for c in others)
    if len(totals) != 1 or (
        others and not (counts and totals[0].heading.unit is not None and len(others) == 1)
    ):
        return columns
    total = totals[0]
    dimension = total.heading.unit.dimension if total.heading.unit else ""
    field = {"mass": "weight", "volume": "volume"}.get(dimension, "quantity")
    return [replace(c, field=field) if c is total else c for c in columns]
