"""The unit that product is told in beside the mass it came from."""

from __future__ import annotations

from divert.figures.numbers.printed import Printer
from divert.figures.numbers.scales import Scale

_ENOUGH = 0.1  # of the larger unit; less than this reads better in the smaller one


def product_scale(kg: float, mass: Scale, printer: Printer) -> Scale:
    """Return the scale of harvested product: the unit of the masses beside it if there is enough."""
    if abs(kg) >= _ENOUGH * mass.factor:
        return printer.scale("mass", kg, unit=mass.unit)
    return printer.scale("mass", kg)
