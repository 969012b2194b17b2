"""reading.toml -> plans, or one clear message about the first mistake in it."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import fields as dataclass_fields
from dataclasses import replace
from pathlib import Path
from typing import Any

from divert.core.findings import CannotRun
from divert.core.words import N_, Text
from divert.ingest.cells.date import ORDERS, Day, Order
from divert.ingest.plan.sheet_plan import (
    LIES,
    LIST,
    ColumnPlan,
    LoadPlan,
    Says,
    SheetPlan,
    TablePlan,
)
from divert.ingest.plan.store import FILE_NAME
from divert.ingest.tables.columns import IGNORE
from divert.ingest.tables.overrides import KIND
from divert.site.built_in import fields
from divert.site.document import parsed
from divert.site.model import HOLDS
from divert.site.table import Table

_SHEET = ("file", "sheet", "lies", "ruled", "like", "says", "titles", "dates", "table")
_TABLE = (
    "holds", "headings", "rows", "across", "repeats", "titles", "says", "dates", "doubted", "columns",
    "loads",
)  # fmt: skip
_COLUMN, _LOAD, _SAYS = (
    tuple("is" if f.name == "role" else f.name for f in dataclass_fields(part))
    for part in (ColumnPlan, LoadPlan, Says)
)
_HOLDS = (*dict.fromkeys(KIND.get(h, h) for h in HOLDS), *KIND, LIST)
_KEYS = {
    "sheet": _SHEET, "table": _TABLE, "columns": _COLUMN, "loads": _LOAD, "says": _SAYS,
}  # fmt: skip


def read_plans(text: str, folder: Path) -> tuple[SheetPlan, ...]:
    """Return the plans of a reading.toml, in the order written. Raises CannotRun."""
    if not text.strip():
        return ()
    path = folder / FILE_NAME
    raw, document = parsed(path, text)
    sheets = raw.get("sheet", [])
    wrong = set(raw) - {"sheet"}
    if wrong or not _are_tables(sheets):
        raise CannotRun(
            Text(N_("{file} holds [[sheet]] tables only. Remove what else stands in it: {what}."),
                 {"file": str(path), "what": ", ".join(sorted(wrong)) or "sheet"})
        )  # fmt: skip
    plans: dict[tuple[str, str], SheetPlan] = {}
    first = 0  # of the tables of this sheet, among all of the file
    for which, values in enumerate(sheets):
        table = Table(document, "sheet", which, values)
        plan = _sheet(table, first, plans)
        first += len(values.get("table", ()))
        if plans.setdefault((plan.file, plan.sheet), plan) is not plan:
            raise table.says(
                "file", Text(N_("this sheet has an entry already; remove one of the two."))
            )
    return tuple(plans.values())


def _are_tables(value: object) -> bool:
    return isinstance(value, list) and all(isinstance(one, dict) for one in value)


def _sheet(table: Table, first: int, earlier: Mapping[tuple[str, str], SheetPlan]) -> SheetPlan:
    table.check_keys(_SHEET, _KEYS)
    file, sheet = table.required_text("file", "log 2024.xlsx"), table.text("sheet")
    if like := table.text("like"):
        of, _, named = like.rpartition("!")
        base = earlier.get((file, like)) or earlier.get((of, named))
        if base is None:
            wanted = Text(N_("Name a sheet that stands above, or FILE!SHEET of another file."))
            raise table.wrong("like", wanted)
        said, titles, dates = _says(table), table.texts("titles"), _dates(table)
        tables = tuple(replace(t, says=said, titles=titles, dates=dates) for t in base.tables)
        return SheetPlan(file, sheet, base.lies, table.text("ruled"), tables)
    below = table.values.get("table", [])
    if not _are_tables(below):
        raise table.wrong("table", Text(N_("Write each table as [[sheet.table]].")))
    own = [Table(table.document, "sheet.table", first + i, t) for i, t in enumerate(below)]
    lies = table.choice("lies", LIES, LIES[0])
    return SheetPlan(file, sheet, lies, table.text("ruled"), tuple(map(_table, own)))


def _table(table: Table) -> TablePlan:
    table.check_keys(_TABLE, _KEYS)
    start, last = _span(table, "rows", r"([1-9]\d{0,6}):([1-9]\d{0,6})?", "4:", "4:120")
    left, right = _span(table, "across", r"([A-Z]{1,3}):([A-Z]{1,3})", "A:H", "B:F")
    columns = tuple(_column(one) for one in _inline(table, "columns", _COLUMN))
    at = {c.at for c in columns}
    loads = tuple(_load(one, at) for one in _inline(table, "loads", _LOAD))
    holds = table.choice("holds", _HOLDS, "intake")
    return TablePlan(
        holds=KIND.get(holds, holds),
        first=int(start),
        last=int(last) if last else None,
        left=left,
        right=right,
        headings=_numbers(table, "headings", 1, 1_048_576),
        repeats=_numbers(table, "repeats", 1, 1_048_576),
        titles=table.texts("titles"),
        says=_says(table),
        dates=_dates(table),
        columns=columns,
        loads=loads,
        doubted=table.flag("doubted", False),
    )


def _dates(table: Table) -> Order | None:
    said = table.choice("dates", ORDERS, "")
    return next((order for order in ORDERS if order == said), None)


def _span(table: Table, key: str, pattern: str, *examples: str) -> tuple[str, str]:
    said = re.fullmatch(pattern, table.text(key).upper())
    if said is None:
        first, second = examples
        raise table.wrong(
            key,
            Text(N_('Write it as "{first}" or "{second}".'), {"first": first, "second": second}),
        )
    return said[1], said[2] or ""


def _inline(table: Table, key: str, keys: tuple[str, ...]) -> list[Table]:
    values = table.values.get(key, [])
    if not _are_tables(values):
        raise table.wrong(key, Text(N_("Write a list of tables, each in { }.")))
    out = [Table(table.document, table.name, table.which, one) for one in values]
    for one in out:
        one.check_keys(keys, _KEYS)
    return out


def _column(table: Table) -> ColumnPlan:
    role = table.choice("is", (*fields(), "other", IGNORE), "")
    return ColumnPlan(
        at=_letters(table, "at", [table.required_text("at", "C")])[0],
        heading=table.text("heading"),
        over=table.text("over"),
        role=role,
        unit=table.text("unit"),
        percent=table.flag("percent", False),
        money=table.text("money"),
        label=table.text("label"),
        container=table.text("container"),
        size_m3=table.maybe_number("size_m3", 0.0, 1000.0),
        fill=table.maybe_number("fill", 0.0, 1.5),
        unsized=table.flag("unsized", False),
        by_sum=table.flag("by_sum", False),
    )


def _load(table: Table, known: set[str]) -> LoadPlan:
    columns = _letters(table, "columns", table.texts("columns"))
    blank = _letters(table, "only_where_blank", table.texts("only_where_blank"))
    missing = [at for at in (*columns, *blank) if at not in known]
    if missing or not columns:
        wanted = Text(N_("Name letters that stand among the columns above."))
        raise table.wrong("columns", wanted)
    return LoadPlan(
        columns,
        blank,
        table.text("source"),
        table.text("material"),
        table.text("container"),
        table.maybe_number("size_m3", 0.0, 1000.0),
        _day(table, "day", table.text("day")),
        table.maybe_whole("weekday", 0, 6),
        table.maybe_whole("number", 1, 31),
        table.maybe_whole("year", 1900, 2200),
        table.text("other"),
        table.flag("ambiguous", False),
        table.flag("by_site", False),
    )


def _says(outer: Table) -> Says:
    values: Any = outer.values.get("says", {})
    if not isinstance(values, dict):
        raise outer.wrong("says", Text(N_("Write it as {example}."), {"example": "{ month = 4 }"}))
    table = Table(outer.document, outer.name, outer.which, values)
    table.check_keys(_SAYS, _KEYS)
    ends = [_day(table, "span", text) for text in table.texts("span")]
    span = tuple(d for d in ends if d is not None)
    if len(span) not in (0, 2):
        raise table.wrong("span", Text(N_("Write its first and its last month.")))
    return Says(
        table.text("source"),
        table.text("material"),
        table.text("container"),
        table.text("unit"),
        _numbers(table, "years", 1900, 2200),
        table.maybe_whole("month", 1, 12),
        table.maybe_whole("day", 1, 31),
        (span[0], span[1]) if span else None,
    )


def _letters(table: Table, key: str, values: list[str] | tuple[str, ...]) -> tuple[str, ...]:
    if not all(re.fullmatch(r"[A-Za-z]{1,3}", v) for v in values):
        raise table.wrong(key, Text(N_('Write column letters, such as "C".')))
    return tuple(v.upper() for v in values)


def _numbers(table: Table, key: str, low: int, high: int) -> tuple[int, ...]:
    values = table.values.get(key, [])
    whole = isinstance(values, list) and all(type(v) is int and low <= v <= high for v in values)
    if not whole:
        raise table.wrong(key, Text(N_("Write a list of whole numbers, such as [3].")))
    return tuple(values)


def _day(table: Table, key: str, text: str) -> Day | None:
    if not text:
        return None
    said = re.fullmatch(r"(?:(\d{4})-|--)(0[1-9]|1[0-2])(?:-(0[1-9]|[12]\d|3[01]))?", text)
    if said is None:
        raise table.wrong(key, Text(N_('Write it as "2025-03-04", or "--03-04" without a year.')))
    year, month, day = said.groups()
    return Day(int(year) if year else None, int(month), int(day) if day else None)
