"""What came out and what it cost or earned: harvest, yield, beds, money."""

from __future__ import annotations

from markupsafe import Markup

from divert.core.words import N_, Text
from divert.factors import Band
from divert.figures.contract import Figures
from divert.figures.numbers.money import money_rows
from divert.figures.numbers.printed import THIN, Printer
from divert.figures.numbers.product_scale import product_scale
from divert.figures.numbers.scales import FACTOR, Scale
from divert.figures.numbers.tables import Cell, Group, Row, Table, marked, more_row
from divert.report.board.figures import Board
from divert.report.board.first import harvested
from divert.report.board.section import Section
from divert.report.board.year_before import days_compared
from divert.report.charts.bands import Against, Bands, bands
from divert.report.charts.chart import Amount, amount, as_name
from divert.report.charts.drawn import Drawn, drawn, half_width_mm
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


def yield_band(board: Board) -> Band | None:
    """Return the band of the site's product: castings where it has beds, else compost."""
    return board.bands.get("castings-yield" if board.site.beds else "compost-yield")


def yield_section(board: Board) -> Section | None:
    """Return the yield of the last 12 months against its band, or None where it is not known."""
    found, band, printer = board.now.yield_, yield_band(board), board.printer
    if found is None or found.share is None or band is None or not found.product.central:
        return None  # without a harvest nothing is known of the yield
    share = printer.share("yield.share", found.share)
    values = {
        "share": printer.with_unit(share),
        "low": _percent(band.ordinary[0], board),
        "high": _percent(band.ordinary[1], board),
        "most": _percent(band.ask[1], board),
    }
    within = band.ordinary[0] <= found.share <= band.ordinary[1]
    title = (
        N_("Yield: within the ordinary band") if within
        else N_("Yield: above the ordinary band") if found.share > band.ordinary[1]
        else N_("Yield: below the ordinary band")
    )  # fmt: skip
    said = Text(
        N_("Mass of product over wet mass fed, twelve months: {share}. Ordinary is {low} to {high}; above "
           "{most} is not plausible. A band asks a question, it corrects nothing."), values,
    )  # fmt: skip
    words = (printer.say(said), _band_source(band, board))
    return Section(printer.plain(Text(title)), "", None, words=words, half=True)


def _band_source(band: Band, board: Board) -> Markup:
    source = Text(N_("Band: {source}."), {"source": Text(band.printed.citation.rstrip("."))})
    return board.printer.say(source)


def _banded(message: str, shown: Drawn, band: Band, board: Board) -> Section:
    """Return a drawing against a band, with whose band it is."""
    printer = board.printer
    finding = f"{shown.title[:1].lower()}{shown.title[1:]}"
    return Section(printer.plain(Text(message, {"finding": finding})), shown.note, shown,
                   words=(_band_source(band, board),), half=True)  # fmt: skip


def _percent(share: float, board: Board) -> str:
    return f"{board.printer.number(share * 100)}{THIN}%"


def beds_section(board: Board) -> Section | None:
    """Return what each bed is fed a week against its band; None where no bed is set up."""
    printer, now = board.printer, board.now
    band = board.bands.get("bed-feed")
    known = list(enumerate(now.beds))
    if not known or band is None:
        return None
    loads = [b.feed_kg_per_m2_week for _, b in known if b.feed_kg_per_m2_week is not None]
    unit = printer.scale("bed load", 1.0).unit
    scale = Scale(unit, 0.1 if not loads or max(loads) >= FACTOR[unit] else 0.01)
    rows = []
    for i, bed in known:
        load = bed.feed_kg_per_m2_week
        rows.append(
            Against(
                bed.bed,
                None if load is None
                else amount(printer.one(f"beds[{i}].feed_kg_per_m2_week", load, scale)),
                bed.band in ("ask", "implausible"),
            )
        )  # fmt: skip
    alike = {b.value.text for b in rows if b.value is not None}
    if len(alike) == 1 and all(b.value is not None for b in rows):
        return _alike(rows, alike.pop(), unit, band, board)
    ends = [Amount(end / FACTOR[unit], printer.number(end / FACTOR[unit], 1))
            for end in (band.ordinary[1], band.ask[1])]  # fmt: skip
    data = Bands(
        tuple(rows), band.ordinary[0] / FACTOR[unit], ends[0], ends[1],
        printer.plain(Text(N_("Feed to the worm beds, mean of 12 months"))), printer.unit(unit),
    )  # fmt: skip
    shown = drawn(lambda look: bands(data, look), half_width_mm(board.look), printer.language,
                  board.look, screen=board.screen)  # fmt: skip
    return _banded(N_("Worm beds: {finding}"), shown, band, board)


def _alike(rows: list[Against], load: str, unit: str, band: Band, board: Board) -> Section:
    """Return beds that are all fed alike in one sentence: equal bars show nothing."""
    printer = board.printer
    heavy = any(row.asked for row in rows)
    high, most = (printer.number(end / FACTOR[unit], 1) for end in (band.ordinary[1], band.ask[1]))
    values = {"load": f"{load}{THIN}{printer.unit(unit)}", "high": high, "most": most,
              "count": len(rows)}  # fmt: skip
    title = (
        N_("Worm beds: above the ordinary band")
        if heavy
        else N_("Worm beds: within the ordinary band")
    )
    if (
        not heavy
        and float(rows[0].value.value if rows[0].value else 0) < band.ordinary[0] / FACTOR[unit]
    ):
        title = N_("Worm beds: fed little")
    message = (
        N_("Fed a week, mean of twelve months: {load}. Ordinary is up to {high}; above {most} is not "
           "plausible.")
        if len(rows) == 1
        else N_("Each of {count} beds is fed alike a week, mean of twelve months: {load}. Ordinary is "
                "up to {high}; above {most} is not plausible.")
    )  # fmt: skip
    words = (printer.say(Text(message, values)), _band_source(band, board))
    return Section(printer.plain(Text(title)), "", None, words=words, half=True)


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
