"""The balance strip of a whole site, from any set of figures."""

from __future__ import annotations

from divert.core.range import Range
from divert.figures.contract import Figures, Mass
from divert.figures.numbers.printed import Printer
from divert.figures.numbers.scales import Scale
from divert.report.charts.chart import amount
from divert.report.charts.strip import Strip


def site_strip(figures: Figures, of_set: str, scale: Scale, printer: Printer) -> Strip | None:
    """Return the strip's data, None where nothing was received."""
    return mass_strip(figures.mass, of_set, scale, printer)


def mass_strip(mass: Mass, of_set: str, scale: Scale, printer: Printer) -> Strip | None:
    """Return the data of the strip of some masses, None where nothing was received."""
    thrown = thrown_away(mass)
    if mass.received.central <= 0 and not any(
        part.central for part in (mass.diverted, mass.not_claimed, thrown)
    ):
        return None
    key = f"{of_set}:mass"
    return Strip(
        received=amount(printer.central(f"{key}.received", mass.received, scale)),
        diverted=amount(
            printer.central(f"{key}.diverted", mass.diverted, scale, within=mass.received)
        ),
        not_claimed=amount(printer.central(f"{key}.not_claimed", mass.not_claimed, scale)),
        thrown_away=amount(printer.central(f"{key}.thrown_away", thrown, scale)),
        unit=printer.unit_in_full(scale.unit),
    )


def thrown_away(mass: Mass) -> Range:
    """Return removed and residue together; their ends added up where no draws were kept."""
    if mass.thrown_away is not None:
        return mass.thrown_away
    one, other = mass.removed, mass.residue
    return Range(one.central + other.central, one.low + other.low, one.high + other.high)
