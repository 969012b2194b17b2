"""What a ton cost, in the ton that the rest of the page prints."""

from __future__ import annotations

from divert.report.numbers.printed import Printer
from divert.report.numbers.scales import FACTOR, Scale
from divert.words import N_, Text

# The message and unit for each system of units; the figure itself is always per tonne.
_BY_UNITS = {
    "us": ("money per short ton", N_("Spent per short ton (2,000 lb) diverted")),
    "metric": ("money", N_("Spent per tonne (1,000 kg) diverted")),
}


def cost_per_ton(per_tonne: float, printer: Printer) -> tuple[Text, Scale]:
    """Return what the line is called and the scale it prints on: whole units from 100 up."""
    unit, message = _BY_UNITS[printer.units]
    return Text(message), Scale(unit, 1.0 if abs(per_tonne / FACTOR[unit]) >= 100 else 0.01)
