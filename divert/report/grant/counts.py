"""What a funder counts beside mass: activities, money, product."""

from __future__ import annotations

from divert.core.words import N_, Text
from divert.figures.contract import Activity, Figures
from divert.figures.numbers.money import money_rows
from divert.figures.numbers.printed import Printed, Printer
from divert.figures.numbers.product_scale import product_scale
from divert.figures.numbers.scales import Scale
from divert.figures.numbers.tables import Cell, Group, Row, Table
from divert.figures.yard import Harvest
from divert.report.charts.chart import as_name
from divert.report.grant.columns import GrantFigures
from divert.report.wording.material_names import material_name

_MONEY = ("spent", "spent_per_tonne", "sales", "disposal_fee_avoided.central")


def counts_table(figures: GrantFigures, mass: Scale, printer: Printer) -> Table | None:
    """Return activities, money and harvest for the period and in total; None where none is logged."""
    sets = (("period", figures.period), ("total", figures.total))
    groups = [
        Group(printer.say(Text(N_("Diversion rate"))), _rate(sets, mass, printer)),
        Group(printer.say(Text(N_("Activities"))), _activities(sets, printer)),
        Group(printer.say(Text(N_("Product harvested"))), _harvest(sets, mass, printer)),
        Group(
            printer.say(Text(N_("Money, {currency}"), {"currency": figures.total.money.currency})),
            money_rows(_MONEY, sets, printer),
        ),
    ]
    shown = tuple(group for group in groups if group.rows)
    if not shown:
        return None
    return Table(
        caption=printer.say(Text(N_("Activities, product and money"))),
        stub="",
        heads=(printer.say(Text(N_("This period"))), printer.say(Text(N_("Total")))),
        groups=shown,
    )


Sets = tuple[tuple[str, Figures], ...]


def _rate(sets: Sets, mass: Scale, printer: Printer) -> tuple[Row, ...]:
    """Return what was hauled away as rubbish, and the share that was not; where it is logged."""
    found = [(name, figures.diversion_rate) for name, figures in sets]
    known = [rate.disposed.central for _, rate in found if rate is not None]
    if not known:
        return ()
    scale = product_scale(max(known), mass, printer)
    hauled = tuple(
        "–" if rate is None
        else printer.central(f"{name}:diversion_rate.disposed", rate.disposed, scale)
        for name, rate in found
    )  # fmt: skip
    rates: tuple[Cell, ...] = tuple(
        "–" if rate is None
        else printer.with_unit(printer.share(f"{name}:diversion_rate.rate", rate.rate))
        for name, rate in found
    )  # fmt: skip
    unit = {"unit": printer.unit_in_full(scale.unit)}
    return (
        Row(printer.say(Text(N_("Rubbish hauled away, {unit}"), unit)), hauled),
        Row(printer.say(Text(N_("Diverted, of what this yard handled"))), rates),
    )


def _activities(sets: Sets, printer: Printer) -> tuple[Row, ...]:
    rows = []
    for activity in sets[-1][1].activities:
        total = activity.amount
        scale = Scale("count", 1.0 if total == round(total) else 0.1)
        cells: list[Cell] = []
        for name, figures in sets:
            place = _find(figures.activities, activity)
            cells.append(
                "–" if place is None
                else printer.one(f"{name}:activities[{place}].amount",
                                 figures.activities[place].amount, scale)
            )  # fmt: skip
        head = as_name(activity.name)
        if activity.unit and activity.unit.casefold() not in activity.name.casefold():
            head = f"{head}, {activity.unit}"
        rows.append(Row(head, tuple(cells)))
    return tuple(rows)


def _find(activities: tuple[Activity, ...], wanted: Activity) -> int | None:
    for place, one in enumerate(activities):
        if (one.name, one.unit) == (wanted.name, wanted.unit):
            return place
    return None


def _harvest(sets: Sets, mass: Scale, printer: Printer) -> tuple[Row, ...]:
    """Return one row a product: its mass, added over where it went."""
    total = sets[-1][1]
    products = list(
        dict.fromkeys(h.product for h in total.harvest if h.mass_kg and h.mass_kg.central)
    )
    scale = product_scale(sum(_mass(h) for h in total.harvest), mass, printer)
    rows = []
    for product in products:
        cells: list[Cell] = []
        for of_set, figures in sets:
            places = [i for i, h in enumerate(figures.harvest) if h.product == product and _mass(h)]
            if not places:
                cells.append("–")
                continue
            cells.append(_harvested(figures, places, of_set, scale, printer))
        rows.append(
            Row(
                f"{as_name(material_name(product, printer))}, {printer.unit_in_full(scale.unit)}",
                tuple(cells),
            )
        )
    return tuple(rows)


def _harvested(
    figures: Figures, places: list[int], of_set: str, scale: Scale, printer: Printer
) -> Printed:
    first = figures.harvest[places[0]].mass_kg
    if len(places) == 1 and first is not None:
        return printer.central(f"{of_set}:harvest[{places[0]}].mass_kg", first, scale)
    key = "+".join(f"{of_set}:harvest[{i}].mass_kg.central" for i in places)
    return printer.one(key, sum(_mass(figures.harvest[i]) for i in places), scale)


def _mass(harvest: Harvest) -> float:
    return 0.0 if harvest.mass_kg is None else harvest.mass_kg.central
