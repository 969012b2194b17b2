"""What the result rests on: how far the numbers behind it were checked, and what each kind carries."""

from __future__ import annotations

from divert.core.words import N_, Text
from divert.figures.contract import Figures
from divert.figures.numbers.printed import Printer
from divert.figures.numbers.scales import Scale
from divert.figures.numbers.tables import Cell, Group, Row, Table
from divert.figures.standing import NAMES

_TENTHS = Scale("%", 0.1)


def standings_table(figures: Figures, of_set: str, printer: Printer) -> Table | None:
    """Return the share of the mass and of the landfill methane that each standing carries.

    Of the mass by the density it rests on, of the methane by the weakest of the numbers behind it.
    ``of_set`` names the figures in the printed keys, with its colon where it has one. None where
    nothing was received.
    """
    mass = figures.standing.get("mass", {})
    gas = figures.standing.get("landfill_avoided", {})
    rows = []
    for name, message in NAMES.items():
        if not mass.get(name) and not gas.get(name):
            continue
        cells: tuple[Cell, ...] = tuple(
            printer.one(f"{of_set}standing.{what}.{name}", of[name], _TENTHS)
            if of.get(name) else "–"
            for what, of in (("mass", mass), ("landfill_avoided", gas))
        )  # fmt: skip
        rows.append(Row(printer.say(Text(message)), cells if gas else cells[:1]))
    if not rows or not any(mass.values()):
        return None
    heads = [N_("Mass"), N_("Landfill methane")]
    return Table(
        caption=printer.say(Text(N_("What the result rests on, %"))),
        stub="",
        heads=tuple(printer.say(Text(head)) for head in (heads if gas else heads[:1])),
        groups=(Group("", tuple(rows)),),
        note=printer.say(
            Text(N_("Of the mass received, by the density it rests on; of the landfill methane avoided, "
                    "by the weakest of the numbers behind each class of material.") if gas else
                 N_("Of the mass received, by the density it rests on."))
        ),
    )  # fmt: skip
