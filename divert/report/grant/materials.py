"""A grant statement's table by material: received in all, and diverted as reported over time."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from divert.core.words import N_, Text
from divert.figures.figure_path import get
from divert.figures.numbers.printed import Printer
from divert.figures.numbers.rounding import steps
from divert.figures.numbers.scales import Scale
from divert.figures.numbers.tables import Cell, Group, Row, Table, marked, settle
from divert.figures.numbers.two_way import add_up_both_ways, add_up_to
from divert.report.grant.columns import Column, Columns
from divert.report.wording.unknown_names import shown_material

_MOST = 16  # materials by name; the evidence lists every one


def materials_table(
    columns: Columns, scale: Scale, strangers: frozenset[str], printer: Printer
) -> Table:
    """Return one row a material: diverted in each column and in total, then received in total.

    ``strangers`` are names in the records that the site's list does not have.
    """
    total = columns.total
    materials = get(total.plus[0][1], "by_material") or []
    groups = _grouped([item["material"] for item in materials])
    places = {item["material"]: i for i, item in enumerate(materials)}
    filled = columns.filled
    received = printer.parts(
        ["+".join(total.key(f"by_material[{places[n]}].received.central") for n in group)
         for group in groups],
        [sum(materials[places[n]]["received"]["central"] for n in group) for group in groups],
        scale, total.value("mass.received.central"), "received by material",
    )  # fmt: skip
    whole = "mass.diverted.central"
    whole_steps = steps(total.value(whole) / scale.factor, scale.quantum)
    along = add_up_to([c.value(whole) / scale.factor for c in filled], whole_steps, scale.quantum)
    values = [[sum(_of(c, name) for name in group) for c in filled] for group in groups]
    totals = [sum(materials[places[n]]["diverted"]["central"] for n in group) for group in groups]
    down = add_up_to([v / scale.factor for v in totals], whole_steps, scale.quantum)
    cells = [[v / scale.factor for v in row] for row in values]
    inner = add_up_both_ways(cells, down, along, scale.quantum)
    every = (*filled, total)
    printed = settle(
        printer,
        [["+".join(filter(None, (_key(c, name) for name in group))) for c in every]
         for group in groups],
        [[*row, whole_value] for row, whole_value in zip(values, totals, strict=True)],
        [[*row, d] for row, d in zip(inner, down, strict=True)],
        scale, "diverted by material",
    )  # fmt: skip
    wholes = settle(
        printer, [[c.key(whole) for c in every]], [[c.value(whole) for c in every]],
        [[*along, whole_steps]], scale, "mass",
    )[0]  # fmt: skip
    rows = []
    for group, taken_in, line in zip(groups, received, printed, strict=True):
        head = shown_material(group[0], strangers, printer)
        if len(group) > 1:
            head = printer.plain(Text(N_("Other materials: {count}"), {"count": len(group)}))
        rows.append(Row(head, (*_shown(columns, [marked(p) for p in line]), marked(taken_in))))
    all_in = printer.one(
        total.key("mass.received.central"), total.value("mass.received.central"), scale, "mass"
    )
    rows.append(
        Row(printer.say(Text(N_("All materials"))),
            (*_shown(columns, [marked(p) for p in wholes]), marked(all_in)), "total")
    )  # fmt: skip
    heads = [printer.say(c.head) for c in columns.all]
    heads.append(printer.say(Text(N_("Received in total"))))
    return Table(
        caption=printer.say(
            Text(N_("Diverted by material, {unit}"), {"unit": printer.unit_in_full(scale.unit)})
        ),
        stub=printer.say(Text(N_("Material"))),
        heads=tuple(heads),
        groups=(Group("", tuple(rows)),),
    )


def _grouped(names: list[str]) -> list[list[str]]:
    """Return each of the largest materials by itself, and all others as one."""
    if len(names) <= _MOST + 1:
        return [[name] for name in names]
    return [*([name] for name in names[:_MOST]), names[_MOST:]]


def _shown(columns: Columns, filled: list[Any]) -> tuple[Cell, ...]:
    waiting = iter(filled)
    return tuple("–" if c.empty else next(waiting) for c in columns.all)


def _terms(column: Column, name: str) -> list[tuple[int, str, float]]:
    """Return (sign, key, kg) of a material in each set of a column that has it."""
    out = []
    for sign, sets in ((1, column.plus), (-1, column.minus)):
        for of_set, figures in sets:
            place, kg = _place(figures, name)
            if place is not None:
                out.append((sign, f"{of_set}:by_material[{place}].diverted.central", kg))
    return out


def _place(figures: Mapping[str, Any], name: str) -> tuple[int | None, float]:
    for place, item in enumerate(figures.get("by_material") or ()):
        if item["material"] == name:
            return place, float(item["diverted"]["central"])
    return None, 0.0


def _of(column: Column, name: str) -> float:
    return sum(sign * kg for sign, _, kg in _terms(column, name))


def _key(column: Column, name: str) -> str:
    return "+".join(("" if sign > 0 else "-") + key for sign, key, _ in _terms(column, name))
