"""What a grant statement leaves out, and why: not claimed, moved, turned away, set aside."""

from __future__ import annotations

from markupsafe import Markup

from divert.core.words import N_, Text
from divert.figures.contract import Figures
from divert.figures.numbers.printed import Printer
from divert.figures.numbers.scales import Scale
from divert.figures.numbers.tables import Group, Row, Table, marked
from divert.report.charts.chart import as_name
from divert.report.wording.assumed_fates import not_told_sentence, unstated
from divert.report.wording.method_box import Note
from divert.report.wording.set_aside import causes

_WHY = {
    "composted": N_("Was composted before: nothing changed for it"),
    "recycled": N_("Was recycled before"),
    "fed to animals": N_("Was fed to animals before"),
    "spread on land": N_("Was spread on land before"),
    "bought in": N_("Bought in for the beds"),
    "donated as food": N_("Donated as food, not composted"),
    "required by law": N_("Kept out of landfills by law anyhow"),
    "not stated": N_("Not stated where it went before"),
}
_USUAL = ("composted", "recycled", "fed to animals", "spread on land")  # of a list of materials


def left_out_table(total: Figures, scale: Scale, printer: Printer) -> Table | None:
    """Return received mass that is not claimed, by where it went before; None without any."""
    kinds = [k for k, mass in total.not_claimed.items() if mass.central != 0]
    if not kinds:
        return None
    printed = [
        printer.central(f"total:not_claimed.{k}", total.not_claimed[k], scale) for k in kinds
    ]
    assumed = bool(unstated(total, total.by_material))
    claimed = [
        Row(printer.say(_why(k, assumed)), (figure,))
        for k, figure in zip(kinds, printed, strict=True)
    ]
    whole = printer.central("total:mass.not_claimed", total.mass.not_claimed, scale)
    claimed.append(Row(printer.say(Text(N_("Received, not claimed"))), (whole,), "total"))
    return Table(
        caption=printer.say(
            Text(N_("Left out of the claim, {unit}"), {"unit": printer.unit_in_full(scale.unit)})
        ),
        stub="",
        heads=(printer.say(Text(N_("Total"))),),
        groups=(Group("", tuple(claimed)),),
    )


def _why(before: str, assumed: bool) -> Text:
    """Return why a fate is not claimed; of one that may only be the usual, that it may be."""
    why = Text(_WHY.get(before, before))
    if assumed and before in _USUAL:
        return Text(N_("{why}, as stated or as is usual"), {"why": why})
    return why


def set_aside_table(total: Figures, printer: Printer) -> Table | None:
    """Return how many entries could not be used, by reason; None where all could."""
    if not total.rows.set_aside:
        return None
    rows = [
        Row(as_name(cause), (printer.number(count),)) for cause, count in causes(total, printer)
    ]
    whole = printer.count("total:rows.set_aside", total.rows.set_aside)
    rows.append(Row(printer.say(Text(N_("Set aside in all"))), (marked(whole),), "total"))
    seen = printer.count("total:rows.seen", total.rows.seen)
    return Table(
        caption=printer.say(Text(N_("Set aside: entries that could not be used"))),
        stub=printer.say(Text(N_("Reason"))),
        heads=(printer.say(Text(N_("Entries, of {seen} seen in the site's files"),
                                {"seen": seen})),),
        groups=(Group("", tuple(rows)),),
    )  # fmt: skip


def exclusions(total: Figures, printer: Printer) -> tuple[Note, ...]:
    """Return what the figures never hold, in words."""
    notes = [
        Note(
            printer.plain(Text(N_("Net, not gross."))),
            printer.say(
                Text(N_("Contamination picked out and residue screened out are taken off before "
                        "anything is called diverted. Loss of mass in the beds is not diversion, and "
                        "finished product is never added to it."))
            ),
        ),
        Note(
            printer.plain(Text(N_("Only what would have been thrown away."))),
            printer.say(
                Text(N_("Material counts as diverted only where it went to a landfill or an "
                        "incinerator before."))
            ),
        ),
        *_not_told(total, printer),
        Note(
            printer.plain(Text(N_("Left out of the gases:"))),
            printer.say(
                Text(N_("biogenic CO₂, stored carbon, fertilizer or peat replaced, energy recovery."))
            ),
        ),
    ]  # fmt: skip
    for path, mass, lead, message in (
        (
            "moved",
            total.moved,
            N_("Moved within the site:"),
            N_("{mass}. It was received once, when it came in."),
        ),
        (
            "rejected",
            total.rejected,
            N_("Loads turned away:"),
            N_("{mass}. They were never received, and count in no line."),
        ),
    ):
        if mass.central:
            figure = printer.central(f"total:{path}", mass, printer.scale("mass", mass.central))
            text = Text(message, {"mass": printer.with_unit(figure)})
            notes.append(Note(printer.plain(Text(lead)), printer.say(text)))
    burned = (total.diverted_by_before or {}).get("incinerator")
    if burned is not None and burned.central:
        scale = printer.scale("mass", total.mass.received.central)
        figure = printer.central("total:diverted_by_before.incinerator", burned, scale)
        notes.append(
            Note(
                printer.plain(Text(N_("Incinerator."))),
                printer.say(
                    Text(N_("{mass} of the diverted mass was bound for an incinerator: it counts as "
                            "mass and avoids no landfill methane."),
                         {"mass": printer.with_unit(figure)})
                ),
            )
        )  # fmt: skip
    return tuple(notes)


def whose_claim(share: float | None, total: Figures, scale: Scale, printer: Printer) -> Markup:
    """Return the rule of attribution, and the grant's share of the total where it has one."""
    others = printer.say(
        Text(N_("Donors of the material, other funders and the town may count the same mass: do not "
                "add their figures to these."))
    )  # fmt: skip
    if share is None:
        return others
    part = printer.one(f"{share:g}*total:mass.diverted.central",
                       total.mass.diverted.central * share, scale)  # fmt: skip
    said = printer.say(
        Text(
            N_("The tables show the whole program. This grant pays for {share} of it; of the "
               "diverted total that share is {amount}."),
            {"share": Markup("{}\u202f%").format(printer.number(share * 100, _decimals(share))),
             "amount": printer.with_unit(part)},
        )
    )  # fmt: skip
    return Markup("{} {}").format(said, others)


def _decimals(share: float) -> int:
    return 0 if abs(share * 100 - round(share * 100)) < 1e-9 else 1


def _not_told(total: Figures, printer: Printer) -> tuple[Note, ...]:
    names = unstated(total, total.by_material)
    if not names:
        return ()
    return (Note(printer.plain(Text(N_("Not told."))), not_told_sentence(names, printer)),)
