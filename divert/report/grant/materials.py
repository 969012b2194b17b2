"""A grant statement's table by material: received in all, and diverted as reported over time."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from divert.core.range import Range
from divert.core.words import N_, Text
from divert.figures.figure_path import get
from divert.figures.numbers.printed import Printed, Printer
from divert.figures.numbers.scales import Scale
from divert.figures.numbers.tables import Cell, Group, Row, Table, parts_add_up, rounding_note
from divert.report.grant.columns import Columns, StatementColumn
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
    groups = _grouped([item["material"] for item in materials], strangers)
    places = {item["material"]: i for i, item in enumerate(materials)}
    shown = columns.shown
    rows, adding = [], []
    for group in groups:
        head = shown_material(group[0], strangers, printer)
        if group[0] in strangers:
            head = printer.plain(
                Text(N_("Names not in the site's list: {count}"), {"count": len(group)})
            )
        elif len(group) > 1:
            head = printer.plain(Text(N_("Other materials: {count}"), {"count": len(group)}))
        line = [_diverted(c, group, scale, printer) for c in shown]
        taken_in = _received(total, [places[n] for n in group], materials, scale, printer)
        rows.append(Row(head, (*_shown(columns, line), taken_in)))
        adding.append((*line, taken_in))
    wholes = [c.printed("mass.diverted", scale, printer, within="mass.received") for c in shown]
    all_in = total.printed("mass.received", scale, printer)
    rows.append(
        Row(printer.say(Text(N_("All materials"))), (*_shown(columns, wholes), all_in), "total")
    )
    heads = [printer.say(c.head) for c in columns.all]
    heads.append(printer.say(Text(N_("Received in total"))))
    return Table(
        caption=printer.say(
            Text(N_("Diverted by material, {unit}"), {"unit": printer.unit_in_full(scale.unit)})
        ),
        stub=printer.say(Text(N_("Material"))),
        heads=tuple(heads),
        groups=(Group("", tuple(rows)),),
        note=rounding_note(printer, *_columns_add_up(adding, (*wholes, all_in))),
    )


def _columns_add_up(lines: list[tuple[Cell, ...]], wholes: tuple[Printed, ...]) -> list[bool]:
    columns = ([line[j] for line in lines] for j in range(len(wholes)))
    return [
        parts_add_up([cell for cell in column if isinstance(cell, Printed)], whole)
        for column, whole in zip(columns, wholes, strict=True)
    ]


def _grouped(names: list[str], strangers: frozenset[str]) -> list[list[str]]:
    """Return each of the largest materials by itself, all others as one, and strangers as one.

    A name the site does not list is a slip of the pen until somebody says otherwise.
    """
    known = [name for name in names if name not in strangers]
    unknown = [name for name in names if name in strangers]
    groups = [[name] for name in known]
    if len(known) > _MOST + 1:
        groups = [*groups[:_MOST], known[_MOST:]]
    return [*groups, unknown] if unknown else groups


def _shown(columns: Columns, filled: list[Any]) -> tuple[Cell, ...]:
    waiting = iter(filled)
    return tuple("–" if c.empty else next(waiting) for c in columns.all)


def _received(
    total: StatementColumn, places: list[int], materials: Any, scale: Scale, printer: Printer
) -> Printed:
    if len(places) == 1:
        return total.printed(f"by_material[{places[0]}].received", scale, printer)
    key = "+".join(total.key(f"by_material[{i}].received.central") for i in places)
    return printer.one(key, sum(materials[i]["received"]["central"] for i in places), scale)


def _diverted(column: StatementColumn, group: list[str], scale: Scale, printer: Printer) -> Cell:
    """Return what a column diverted of some materials; a dash where it knows none of them."""
    terms = [term for name in group for term in _terms(column, name)]
    if not terms:
        return "–"
    if len(terms) == 1 and terms[0][0] > 0:
        _, path, found = terms[0]
        spread, whole = Range(**found["diverted"]), Range(**found["received"])
        return printer.central(path, spread, scale, within=whole)
    key = "+".join(f"{'' if sign > 0 else '-'}{path}.central" for sign, path, _ in terms)
    kg = sum(sign * float(found["diverted"]["central"]) for sign, _, found in terms)
    return printer.one(key, kg, scale)


def _terms(column: StatementColumn, name: str) -> list[tuple[int, str, Mapping[str, Any]]]:
    """Return (sign, path of the diverted mass, the material) in each set of a column that has it."""
    out = []
    for sign, sets in ((1, column.plus), (-1, column.minus)):
        for of_set, figures in sets:
            for place, item in enumerate(figures.get("by_material") or ()):
                if item["material"] == name:
                    out.append((sign, f"{of_set}:by_material[{place}].diverted", item))
    return out
