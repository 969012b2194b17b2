"""What came out and what it cost or earned: harvest and money."""

from __future__ import annotations

from divert.core.words import N_, Text
from divert.figures.contract import Figures
from divert.figures.numbers.money import money_rows
from divert.figures.numbers.printed import Printer
from divert.figures.numbers.product_scale import product_scale
from divert.figures.numbers.tables import Cell, Group, Row, Table, marked, more_row
from divert.report.board.figures import Board
from divert.report.board.first import harvested
from divert.report.board.section import Section
from divert.report.board.year_before import days_compared
from divert.report.charts.chart import as_name
from divert.report.wording.material_names import material_name

_MOST_LOTS = 8
_MONEY = ("disposal_fee_avoided.central", "sales", "bags", "spent", "spent_per_tonne")


def harvest_section(board: Board) -> Section:
    """Return what was harvested and where it went."""
    printer, now = board.printer, board.now
    known = [(i, h) for i, h in enumerate(now.harvest) if h.mass_kg or h.volume_m3]
    if not known and now.harvests_set_aside:
        title = printer.plain(Text(N_("No harvest could be counted")))
        count = printer.count("harvests_set_aside", now.harvests_set_aside)
        said = Text(N_("Harvests logged in boxes or bags whose size nobody has stated: {count}."),
                    {"count": count})  # fmt: skip
        return Section(title, printer.say(said), half=True)
    if not known:
        title = printer.plain(Text(N_("No harvest was logged")))
        note = printer.plain(
            Text(N_("The material is still in the beds, or was not written down."))
        )
        return Section(title, note, half=True)
    _, whole = harvested(now, "period")
    mass = product_scale(whole, board.mass, printer) if whole else board.mass
    unweighed = [h.volume_m3 for _, h in known if h.volume_m3 and h.mass_kg is None]
    volume = printer.scale("volume", sum(unweighed)) if unweighed else None
    printed = {
        i: printer.central(f"harvest[{i}].mass_kg", h.mass_kg, mass)
        for i, h in known if h.mass_kg is not None
    }  # fmt: skip
    rows = []
    for i, harvest in known[:_MOST_LOTS]:
        cells: list[Cell] = [harvest.destination or printer.say(Text(N_("not recorded")))]
        if volume is not None:
            cells.append(
                marked(printer.one(f"harvest[{i}].volume_m3", harvest.volume_m3, volume))
                if harvest.volume_m3 else "–"
            )  # fmt: skip
        cells.append(printed.get(i, "–"))
        rows.append(Row(as_name(material_name(harvest.product, printer)), tuple(cells)))
    if len(known) > _MOST_LOTS:
        rows.append(more_row(len(known) - _MOST_LOTS, 2 if volume is None else 3, printer))
    if whole and len(known) > 1:
        total = printer.one(harvested(now, "period")[0], whole, mass)
        between: tuple[Cell, ...] = ("",) if volume is None else ("", "")
        rows.append(Row(printer.say(Text(N_("All product"))), (*between, total), "total"))
    heads: list[Cell] = [printer.say(Text(N_("Where it went")))]
    if volume is not None:
        heads.append(printer.unit_in_full(volume.unit))
    heads.append(printer.unit_in_full(mass.unit))
    table = Table("", printer.say(Text(N_("Product"))), tuple(heads), (Group("", tuple(rows)),),
                  frozenset({0}), "even")  # fmt: skip
    about = Text(N_("Harvested in this period. Product is no part of what was diverted, and is never "
                    "added to it."))  # fmt: skip
    title = printer.plain(Text(N_("What came out of the beds")))
    return Section(title, printer.plain(about), None, (table,), half=True)


def money_section(board: Board) -> Section | None:
    """Return sales, fees avoided and spending, with the year before; None where none is recorded."""
    printer, now, before = board.printer, board.now, board.before
    sets = [("before", before), ("period", now)] if before is not None else [("period", now)]
    rows = money_rows(_MONEY, sets, printer)
    if not rows:
        return None
    heads = [printer.say(Text(N_("A year before")))] if before is not None else []
    table = Table("", "", (*heads, printer.say(Text(N_("Now")))), (Group("", rows),))
    return Section(
        printer.plain(_money_finding(now)),
        " ".join((_money_note(now, printer), days_compared(board))).strip(),
        None,
        (table,),
        half=True,
    )


def _money_note(now: Figures, printer: Printer) -> str:
    values = {"currency": now.money.currency}
    if now.money.disposal_fee_avoided is None:
        return printer.plain(Text(N_("Amounts in {currency}, as far as they were written down."),
                                  values))  # fmt: skip
    return printer.plain(
        Text(N_("Amounts in {currency}, as far as they were written down. Fees avoided are what the "
                "givers saved, at the stated fee, on the mass diverted: no income of this yard, and "
                "never added to its sales."), values)
    )  # fmt: skip


def _money_finding(now: Figures) -> Text:
    money = now.money
    sales = money.sales or 0.0  # a fee avoided is the giver's saving, and no income of the yard
    if money.spent is None:
        return Text(N_("What it earned")) if sales else Text(N_("Money"))
    if sales >= money.spent:
        return Text(N_("Sales cover what was spent"))
    return Text(N_("Sales do not cover what was spent"))
