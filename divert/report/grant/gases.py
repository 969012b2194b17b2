"""A grant's greenhouse gases: what the headline rests on, and how others would find them."""

from __future__ import annotations

from divert.core.words import N_, Text
from divert.figures.contract import Figures
from divert.figures.numbers.printed import Printer
from divert.figures.numbers.scales import Scale
from divert.figures.numbers.tables import Cell, Group, Row, Table, between, marked
from divert.report.charts.chart import as_name
from divert.report.wording.method_box import Note
from divert.report.wording.released import released_sentence

SETS = {"us-2026": N_("United States, 2026"), "uk-2024": N_("United Kingdom, 2024")}
CLASSES = {
    "food": N_("food waste"),
    "garden": N_("garden waste"),
    "grass": N_("grass"),
    "leaves": N_("leaves"),
    "branches": N_("branches"),
    "mixed organics": N_("mixed organics"),
    "cardboard": N_("cardboard"),
    "newspaper": N_("newspaper"),
    "office paper": N_("office paper"),
    "paper": N_("paper and card"),
    "wood": N_("wood"),
    "wood_straw": N_("wood and straw"),
}


def gas_heading(total: Figures, printer: Printer) -> str:
    """Return the heading over both tables of other choices, with their unit."""
    scale = printer.scale("co2e", total.emissions.landfill_avoided.central)
    unit = printer.unit_in_full(scale.unit)
    return printer.plain(
        Text(N_("Landfill methane avoided, found in other ways, {unit}"), {"unit": unit})
    )


def sensitivity_table(total: Figures, printer: Printer) -> Table | None:
    """Return landfill methane avoided under other choices.

    None where nothing was bound for a landfill.
    """
    headline = total.emissions.landfill_avoided
    if headline.central == 0:
        return None
    higher = total.sensitivity.get("landfill_avoided")
    scale = printer.scale("co2e", headline.central)
    central = printer.range("total:emissions.landfill_avoided", headline, scale)
    rows = [
        Row(printer.say(Text(N_("As reported: within 100 years"))),
            (marked(central), between(central, printer)), "total")
    ]  # fmt: skip
    twenty = total.emissions_within.get("20")
    if twenty is not None:
        within = printer.range("total:emissions_within.20", twenty, scale)
        rows.append(
            Row(printer.say(Text(N_("Within 20 years, at the same 100-year warming (GWP-100)"))),
                (marked(within), between(within, printer)))
        )  # fmt: skip
    if higher is not None:
        more = printer.one("total:sensitivity.landfill_avoided", higher, scale)
        rows.append(
            Row(printer.say(Text(N_("With the higher of the two published shares that decay (DOCf)"))),
                (marked(more), ""))
        )  # fmt: skip
    return Table(
        caption="",
        stub=printer.say(Text(N_("Under other choices"))),
        heads=(printer.say(Text(N_("Total"))), printer.say(Text(N_("90\u202f% range")))),
        groups=(Group("", tuple(rows)),),
    )  # fmt: skip


def cross_check_table(total: Figures, printer: Printer) -> Table | None:
    """Return our landfill methane avoided beside that by published factors, one row a class.

    None where no published set has a class of the material.
    """
    if not total.screening:
        return None
    scale = printer.scale("co2e", total.emissions.landfill_avoided.central)
    sets = list(dict.fromkeys(s.set for s in total.screening))
    classes = list(dict.fromkeys(s.class_ for s in total.screening))
    places = {(s.set, s.class_): i for i, s in enumerate(total.screening)}
    rows = []
    for class_ in classes:
        own = next(places[of_set, class_] for of_set in sets if (of_set, class_) in places)
        cells: list[Cell] = [_screened(own, "ours", total, scale, printer)]
        for of_set in sets:
            place = places.get((of_set, class_))
            cells.append(
                "–" if place is None
                else _screened(place, "landfill_avoided", total, scale, printer)
            )  # fmt: skip
        rows.append(Row(as_name(printer.plain(Text(CLASSES.get(class_, class_)))), tuple(cells)))
    return Table(
        caption="",
        stub=printer.say(Text(N_("By factors others publish"))),
        heads=(printer.say(Text(N_("This statement"))),
               *(printer.say(Text(SETS.get(of_set, of_set))) for of_set in sets)),
        groups=(Group("", tuple(rows)),),
    )  # fmt: skip


def gas_notes(total: Figures, printer: Printer) -> tuple[Note, ...]:
    """Return how the two tables of other choices are to be read, and where the factors stand."""
    notes = []
    released = released_sentence(total.emissions_within, "total", printer)
    if released is not None:
        notes.append(Note(printer.plain(Text(N_("When."))), released))
    if total.emissions.landfill_avoided.central:
        notes.append(
            Note(
                printer.plain(Text(N_("Other choices."))),
                printer.say(
                    Text(N_("The first line is the one in the main table. The others show how far it "
                            "would move under another choice, and stand in no sum."))
                ),
            )
        )  # fmt: skip
    if total.screening:
        cited = [
            printer.plain(Text(N_("{set}: {citation}"),
                               {"set": Text(SETS.get(of_set, of_set)), "citation": citation}))
            for of_set, citation in dict.fromkeys(
                (s.set, s.caveat.rstrip(".")) for s in total.screening
            )
        ]  # fmt: skip
        notes.append(
            Note(
                printer.plain(Text(N_("Cross-check."))),
                printer.say(
                    Text(N_("Landfill against landfill for the same mass, by factors that others "
                            "publish with other boundaries: a check on the size of the figure, not "
                            "to be added. {sets}."), {"sets": printer.phrases(cited)})
                ),
            )
        )  # fmt: skip
    return tuple(notes)


def _screened(place: int, what: str, total: Figures, scale: Scale, printer: Printer) -> Cell:
    value = getattr(total.screening[place], what)
    return marked(printer.one(f"total:screening[{place}].{what}", value, scale))
