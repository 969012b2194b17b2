"""What a yard needs to know of itself: contamination by source, who takes part, mix, stock, heat."""

from __future__ import annotations

from markupsafe import Markup

from divert.core.words import N_, Text
from divert.figures.numbers.printed import Printer
from divert.figures.numbers.scales import Scale
from divert.figures.numbers.tables import Group, Row, Table, between
from divert.figures.yard import Contamination, HotRun
from divert.report.board.capacity import capacity, yielded
from divert.report.board.figures import Board
from divert.report.board.section import Section
from divert.report.charts.chart import as_name

_MOST = 8
_TENTHS = Scale("%", 0.1)


def contamination_section(board: Board) -> Section | None:
    """Return the removed share of each source in the latest quarter, and whom it grows for."""
    printer, found = board.printer, board.now.contamination
    if not found:
        return None
    latest = max((c for c in found if c.removed_kg > 0), key=lambda c: c.end, default=None)
    if latest is None:
        return None
    here = [(i, c) for i, c in enumerate(found) if c.quarter == latest.quarter and c.removed_kg > 0]
    here.sort(key=lambda item: -item[1].share.central)
    rows = []
    for i, one in here[:_MOST]:
        share = printer.range(f"contamination[{i}].share", one.share, _TENTHS)
        rows.append(
            Row(as_name(one.source), (share, between(share, printer), _growing(one, board)))
        )
    table = Table(
        caption="",
        stub=printer.say(Text(N_("Source"))),
        heads=(
            printer.say(Text(N_("Picked out, % of what it sent"))),
            printer.say(Text(N_("90\u202f% range"))),
            printer.say(Text(N_("Against four quarters before"))),
        ),
        groups=(Group("", tuple(rows)),),
        words=frozenset({2}),
    )
    grows = [c.source for _, c in here if c.growing]
    title = Text(N_("Contamination by source, {quarter}"), {"quarter": latest.quarter})
    if grows:
        title = Text(N_("Contamination grows for {names}"), {"names": printer.names(grows[:3])})
    note = Text(N_("What was picked out over what was received, as written down. Grows: clearly above the "
                   "four quarters before (common practice)."))  # fmt: skip
    return Section(printer.plain(title), printer.plain(note), None, (table,), half=True)


def _growing(one: Contamination, board: Board) -> str:
    return board.printer.plain(Text(N_("grows") if one.growing else N_("not clearly more")))


def yard_section(board: Board) -> Section | None:
    """Return the other figures of the yard, a sentence each; questions, never instructions."""
    words = [
        said
        for said in (
            capacity(board), yielded(board), _taking_part(board), _mix(board), _volume(board),
            _stock(board), *_heat(board),
        )
        if said is not None
    ]  # fmt: skip
    if not words:
        return None
    return Section(
        board.printer.plain(Text(N_("How the yard runs"))), words=tuple(words), half=True
    )


def _taking_part(board: Board) -> Markup | None:
    printer, months = board.printer, board.now.participation
    active = [(m.active, i) for i, m in enumerate(months) if m.active]
    if not active:
        return None
    least, most = min(active), max(active)
    ends = [printer.count(f"participation[{i}].active", n) for n, i in (least, most)]
    values: dict[str, object] = {
        "active": _from_to(*ends) if least[0] != most[0] else ends[0],
        "new": sum(m.new for m in months),
        "lost": sum(m.lost for m in months),
    }
    return printer.say(
        Text(N_("Sources that brought something in a month: {active}. New in this period: {new}; "
                "without a load for 90 days (common practice) since their last: {lost}."), values)
    )  # fmt: skip


def _from_to(low: object, high: object) -> object:
    """Return two ends as a span, or the one number that both are."""
    return low if low == high else Text(N_("{low} to {high}"), {"low": low, "high": high})


def _mix(board: Board) -> Markup | None:
    mix, printer = board.now.feed_mix, board.printer
    known = [] if mix is None else [m for m in mix.months if m.carbon_to_nitrogen is not None]
    if not known:
        return None
    ratios = [round(m.carbon_to_nitrogen or 0.0) for m in known]
    wetness = [round(100 * (m.moisture or 0.0)) for m in known]
    carbon, moisture = board.bands["feed-carbon"], board.bands["feed-moisture"]
    values: dict[str, object] = {
        "ratio": _from_to(min(ratios), max(ratios)), "wetness": _from_to(min(wetness), max(wetness)),
        "least": round(carbon.ask[0]), "most": round(carbon.ask[1]),
        "driest": round(100 * moisture.ask[0]), "wettest": round(100 * moisture.ask[1]),
        "source": carbon.printed.citation,
    }  # fmt: skip
    return printer.say(
        Text(N_("What went in, month by month, by typical values: carbon to nitrogen {ratio} to 1, "
                "moisture {wetness}\u202f%. For hot piles {least} to {most} to 1 and {driest} to "
                "{wettest}\u202f% are reasonable ({source}, from memory); is all brown material logged?"),
             values)
    )  # fmt: skip


def _volume(board: Board) -> Markup | None:
    found, printer = board.now.volume_reduction, board.printer
    if found is None:
        return None
    share = printer.share("volume_reduction.share", found.share)
    return printer.say(
        Text(N_("Product out over material in, by volume, over 12 months: {share}."),
             {"share": printer.with_unit(share)})
    )  # fmt: skip


def _stock(board: Board) -> Markup | None:
    found, printer = board.now.stock, board.printer
    if found is None or found.kg.central <= 0:
        return None
    scale = printer.scale("mass", found.kg.high, unit=board.mass.unit)
    amount = printer.range("stock.kg", found.kg, scale)
    values: dict[str, object] = {
        "amount": printer.with_unit(amount), "range": between(amount, printer),
        "day": board.now.period.end,
    }  # fmt: skip
    message = N_("On the site on {day}: about {amount} ({range}), fed less half of its mass and less what "
                 "was harvested (common practice).")  # fmt: skip
    if found.counted_on is not None:
        values["counted"] = found.counted_on
        message = N_("On the site on {day}: about {amount} ({range}), from the stocktake of {counted} and "
                     "what came and went since.")  # fmt: skip
    said = [printer.say(Text(message, values))]
    if found.limit_kg is not None:
        limit = printer.one("stock.limit_kg", found.limit_kg, scale)
        told: dict[str, object] = {"limit": printer.with_unit(limit), "day": found.full_on}
        more = N_("The permit allows {limit}; at this pace it is not passed.")
        if found.full_on is not None:
            more = N_("The permit allows {limit}; at this pace it is passed about {day}.")
        if found.kg.central >= found.limit_kg:
            more = N_("The permit allows {limit}: it is passed.")
        said.append(printer.say(Text(more, told)))
    return Markup(" ").join(said)


def _damp_and_turned(place: int, one: HotRun, printer: Printer) -> list[Markup]:
    """Return a pile's moisture and turnings in a sentence, none where neither was written down."""
    parts: list[Text] = []
    values: dict[str, object] = {"pile": one.pile}
    if one.driest is not None and one.wettest is not None:
        values |= {
            name: printer.share(f"process_log[{place}].{name}", share)
            for name, share in (("driest", one.driest), ("wettest", one.wettest))
        }
        parts.append(Text(N_("{pile}: moisture {driest} to {wettest}\u202f%."), values))
    if one.turned:
        values["turned"] = printer.count(f"process_log[{place}].turned", one.turned)
        parts.append(Text(N_("{pile}: turned, as often as written down: {turned}."), values))
    return [printer.say(part) for part in parts]


def _heat(board: Board) -> list[Markup]:
    printer, out = board.printer, []
    for i, one in enumerate(board.now.process_log[:_MOST]):
        if not one.entries:
            out += _damp_and_turned(i, one, printer)
            continue
        days = printer.count(f"process_log[{i}].days", one.days)
        values = {"pile": one.pile, "days": days, "start": one.start, "end": one.end}
        message = N_("{pile}: longest run of days on record at or above 55\u202f°C: {days}.")
        if one.days > 1:
            message = N_("{pile}: longest run of days on record at or above 55\u202f°C: {days}, {start} to "
                         "{end}.")  # fmt: skip
        said = [printer.say(Text(message, values)), *_damp_and_turned(i, one, printer)]
        out.append(Markup(" ").join(said))
    if out:
        message = N_("As recorded; 55\u202f°C is what rules on hot composting name (common practice). "
                     "These records are not proof of pathogen reduction.")  # fmt: skip
        out.append(printer.say(Text(message)))
    return out
