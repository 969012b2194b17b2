"""The balance strip of a whole site, from any set of figures."""

from __future__ import annotations

from divert.figures.contract import Figures, Mass
from divert.figures.numbers.printed import Printer
from divert.figures.numbers.rounding import steps
from divert.figures.numbers.scales import Scale
from divert.figures.numbers.tables import settle
from divert.figures.numbers.two_way import add_up_to
from divert.report.charts.chart import amount
from divert.report.charts.strip import Strip


def total_counts(mass: Mass, scale: Scale) -> tuple[int, int, int]:
    """Return removed, residue and not claimed in rounding units, as a table of all four prints them.

    Diverted and received are rounded on their own, as everywhere; these three make up the difference.
    """
    whole, diverted = (
        steps(value.central / scale.factor, scale.quantum)
        for value in (mass.received, mass.diverted)
    )
    rest = [
        value.central / scale.factor for value in (mass.removed, mass.residue, mass.not_claimed)
    ]
    removed, residue, not_claimed = add_up_to(rest, whole - diverted, scale.quantum)
    return removed, residue, not_claimed


def site_strip(
    figures: Figures, of_set: str, scale: Scale, not_claimed: int, printer: Printer
) -> Strip | None:
    """Return the strip's data, None where nothing was received.

    ``not_claimed`` is that mass in rounding units as the report prints it elsewhere; diverted is
    rounded on its own, and thrown away makes up what was received.
    """
    mass = figures.mass
    thrown = mass.removed.central + mass.residue.central
    values = (mass.diverted.central, mass.not_claimed.central, thrown)
    if mass.received.central <= 0 and not any(values):
        return None
    thrown_key = (
        f"{of_set}:mass.thrown_away.central" if mass.thrown_away is not None
        else f"{of_set}:mass.removed.central+{of_set}:mass.residue.central"
    )  # fmt: skip
    keys = [f"{of_set}:mass.diverted.central", f"{of_set}:mass.not_claimed.central", thrown_key]
    whole = steps(mass.received.central / scale.factor, scale.quantum)
    diverted = steps(mass.diverted.central / scale.factor, scale.quantum)
    counted = [diverted, not_claimed, whole - diverted - not_claimed]
    parts = settle(printer, [keys], [values], [counted], scale, f"{of_set} strip")[0]
    received = printer.one(f"{of_set}:mass.received.central", mass.received.central, scale, "mass")
    return Strip(
        received=amount(received),
        diverted=amount(parts[0]),
        not_claimed=amount(parts[1]),
        thrown_away=amount(parts[2]),
        unit=printer.unit_in_full(scale.unit),
    )
