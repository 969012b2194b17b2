"""Plans as the text of reading.toml: one [[sheet]] each, its tables below it, a line for each column."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace

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

    What the names around them say, such as the month, and the order of dates may differ where it is
    the same for all tables.
    """
    if not first.tables or len({(t.says, t.dates) for t in second.tables}) != 1:
        return False
    return _bare(first) == _bare(second)


def _bare(plan: SheetPlan) -> SheetPlan:
    tables = tuple(replace(t, says=Says(), dates=None) for t in plan.tables)
    return replace(plan, file="", sheet="", ruled="", tables=tables)


def sheet_text(plan: SheetPlan, like: SheetPlan | None = None) -> str:
    """Return the text of one plan; where it is ``like`` another, only what differs from that."""
    lines = ["[[sheet]]", f"file = {_value(plan.file)}", f"sheet = {_value(plan.sheet)}"]
    if plan.ruled:
        lines.append(f"ruled = {_value(plan.ruled)}")
    if like is not None:
        lines.append(f"like = {_value(name_of(like, plan.file))}")
        lines.append(f"says = {_value(_says(plan.tables[0].says))}")
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
        "says": _says(plan.says),
        "dates": plan.dates or "",
        "doubted": plan.doubted,
    }
    lines = ["", "[[sheet.table]]", *(f"{k} = {_value(v)}" for k, v in keys.items() if _is_set(v))]
    lines += _list("columns", map(_column, plan.columns))
    lines += _list("loads", map(_load, plan.loads))
    return "\n".join(lines) + "\n"


def _list(key: str, items: Iterable[Mapping[str, Value]]) -> list[str]:
    rows = [f"  {_value(item)}," for item in items]
    return [f"{key} = [", *rows, "]"] if rows else []


def _column(plan: ColumnPlan) -> dict[str, Value]:
    return _set(
        {
            "at": plan.at,
            "over": plan.over,
            "heading": plan.heading,
            "is": plan.role,
            "unit": plan.unit,
            "percent": plan.percent,
            "money": plan.money,
            "label": plan.label,
            "container": plan.container,
            "size_m3": plan.size_m3,
            "fill": plan.fill,
            "unsized": plan.unsized,
        }
    )


def _load(plan: LoadPlan) -> dict[str, Value]:
    return _set(
        {
            "columns": list(plan.columns),
            "only_where_blank": list(plan.only_where_blank),
            "source": plan.source,
            "material": plan.material,
            "container": plan.container,
            "size_m3": plan.size_m3,
            "day": _day(plan.day),
            "weekday": plan.weekday,
            "number": plan.number,
            "year": plan.year,
            "other": plan.other,
            "ambiguous": plan.ambiguous,
            "by_site": plan.by_site,
        }
    )


def _says(says: Says) -> dict[str, Value]:
    return _set(
        {
            "source": says.source,
            "material": says.material,
            "container": says.container,
            "unit": says.unit,
            "years": list(says.years),
            "month": says.month,
            "day": says.day,
            "span": [_day(d) or "" for d in says.span or ()],
        }
    )


def _day(day: Day | None) -> str | None:
    """Return a day as 2025-03-04, what it does not say left out: --03-04, 2025-03."""
    if day is None:
        return None
    start = f"{day.year:04d}-" if day.year is not None else "--"
    return f"{start}{day.month:02d}" + (f"-{day.day:02d}" if day.day is not None else "")


def _set(keys: Mapping[str, Value | None]) -> dict[str, Value]:
    return {k: v for k, v in keys.items() if v is not None and _is_set(v)}


def _is_set(value: Value) -> bool:
    return value is not False and (value == 0 or bool(value))


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
