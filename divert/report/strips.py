"""The balance strip of a whole site, from any set of figures."""

from __future__ import annotations

from divert.figures import Figures
from divert.report.charts.chart import amount
from divert.report.charts.strip import Strip
from divert.report.printed import Printer
from divert.report.rounding import steps
from divert.report.scales import Scale
from divert.report.tables import settle
from divert.report.two_way import add_up_to


def site_strip(figures: Figures, of_set: str, scale: Scale, printer: Printer) -> Strip | None:
    """Return the strip's data, None where nothing was received.

    Diverted is rounded on its own, as everywhere; the other two make up what was received.
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
    whole_steps = steps(mass.received.central / scale.factor, scale.quantum)
    diverted = steps(mass.diverted.central / scale.factor, scale.quantum)
    rest = [value / scale.factor for value in values[1:]]
    counted = [diverted, *add_up_to(rest, whole_steps - diverted, scale.quantum)]
    parts = settle(printer, [keys], [values], [counted], scale, f"{of_set} strip")[0]
    whole = printer.one(f"{of_set}:mass.received.central", mass.received.central, scale, "mass")
    return Strip(
        received=amount(whole),
        diverted=amount(parts[0]),
        not_claimed=amount(parts[1]),
        thrown_away=amount(parts[2]),
        unit=printer.unit_in_full(scale.unit),
    )
