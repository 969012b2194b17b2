"""Plans as the text of reading.toml: one [[sheet]] each, its tables below it, a line for each column."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import fields, replace
from typing import Any

from divert.ingest.cells.date import Day
from divert.ingest.plan.sheet_plan import ColumnPlan, LoadPlan, Says, SheetPlan, TablePlan

Value = str | int | float | bool | Sequence["Value"] | Mapping[str, "Value"]


def plans_text(plans: Iterable[SheetPlan], beside: Sequence[SheetPlan] = ()) -> str:
    """Return the text of some plans; one that is like an earlier one, or one ``beside``, says only that."""
    written = list(beside)
    out: list[str] = []
    for plan in plans:
        out.append(sheet_text(plan, next((p for p in written if alike(p, plan)), None)))
        written.append(plan)
    return "\n".join(out)


def alike(first: SheetPlan, second: SheetPlan) -> bool:
    """Return whether two sheets have the same headings in the same places, and are taken the same.

    Titles, what they and the names around them say, such as the month, and the order of dates may
    differ where they are the same for all tables.
    """
    if not first.tables or len({(t.says, t.dates, t.titles) for t in second.tables}) != 1:
        return False
    return _bare(first) == _bare(second)


def _bare(plan: SheetPlan) -> SheetPlan:
    tables = tuple(replace(t, says=Says(), dates=None, titles=()) for t in plan.tables)
    return replace(plan, file="", sheet="", ruled="", tables=tables)


def sheet_text(plan: SheetPlan, like: SheetPlan | None = None) -> str:
    """Return the text of one plan; where it is ``like`` another, only what differs from that."""
    lines = ["[[sheet]]", f"file = {_value(plan.file)}", f"sheet = {_value(plan.sheet)}"]
    if plan.ruled:
        lines.append(f"ruled = {_value(plan.ruled)}")
    if like is not None:
        lines.append(f"like = {_value(name_of(like, plan.file))}")
        lines.append(f"says = {_value(_keys(plan.tables[0].says))}")
        if plan.tables[0].titles:
            lines.append(f"titles = {_value(list(plan.tables[0].titles))}")
        if plan.tables[0].dates:
            lines.append(f"dates = {_value(plan.tables[0].dates)}")
        return "\n".join(lines) + "\n"
    lines.append(f"lies = {_value(plan.lies)}")
    return "\n".join(lines) + "\n" + "".join(map(_table, plan.tables))


def name_of(plan: SheetPlan, file: str) -> str:
    """Return how a sheet is named beside another: by itself within one file, else after its file."""
    return plan.sheet if plan.file == file else f"{plan.file}!{plan.sheet}"


def _table(plan: TablePlan) -> str:
    keys: dict[str, Value] = {
        "holds": plan.holds,
        "headings": list(plan.headings),
        "rows": f"{plan.first}:{plan.last or ''}",
        "across": f"{plan.left}:{plan.right}",
        "repeats": list(plan.repeats),
        "titles": list(plan.titles),
        "says": _keys(plan.says),
        "dates": plan.dates or "",
        "doubted": plan.doubted,
    }
    lines = ["", "[[sheet.table]]", *(f"{k} = {_value(v)}" for k, v in keys.items() if _is_set(v))]
    lines += _list("columns", map(_keys, plan.columns))
    lines += _list("loads", map(_keys, plan.loads))
    return "\n".join(lines) + "\n"


def _list(key: str, items: Iterable[Mapping[str, Value]]) -> list[str]:
    rows = [f"  {_value(item)}," for item in items]
    return [f"{key} = [", *rows, "]"] if rows else []


def _keys(plan: ColumnPlan | LoadPlan | Says) -> dict[str, Value]:
    """Return what a part of a plan says, by the keys of reading.toml; what is not said is left out."""
    said = {"is" if f.name == "role" else f.name: getattr(plan, f.name) for f in fields(plan)}
    return {key: _plain(value) for key, value in said.items() if _is_set(value)}


def _plain(value: Any) -> Value:
    if isinstance(value, Day):
        return _day(value)
    return [_plain(one) for one in value] if isinstance(value, tuple) else value


def _day(day: Day) -> str:
    """Return a day as 2025-03-04, what it does not say left out: --03-04, 2025-03."""
    start = f"{day.year:04d}-" if day.year is not None else "--"
    return f"{start}{day.month:02d}" + (f"-{day.day:02d}" if day.day is not None else "")


def _is_set(value: object) -> bool:
    return value is not None and value is not False and (value == 0 or bool(value))


def _value(value: Value) -> str:
    """Return a value as TOML writes it."""
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, str):
        return f'"{"".join(map(_character, value))}"'
    if isinstance(value, int | float):
        return repr(value)
    if isinstance(value, Mapping):
        return (
            "{ " + ", ".join(f"{k} = {_value(v)}" for k, v in value.items()) + " }"
            if value
            else "{}"
        )
    return "[" + ", ".join(map(_value, value)) + "]"


def _character(c: str) -> str:
    if c in '"\\':
        return f"\\{c}"
    return c if c.isprintable() else f"\\U{ord(c):08X}"
