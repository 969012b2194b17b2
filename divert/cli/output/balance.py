"""The five masses that always balance, a sentence each."""

from __future__ import annotations

from collections.abc import Iterator

from divert.core.range import Range
from divert.core.words import N_, Text
from divert.figures.contract import Mass
from divert.figures.numbers.printed import Printer
from divert.figures.numbers.scales import Scale

_LINES = (
    (N_("Received:"), "received"),
    (N_("Diverted:"), "diverted"),
    (N_("Not claimed:"), "not_claimed"),
    (N_("Removed:"), "removed"),
    (N_("Residue:"), "residue"),
)


def balance_lines(mass: Mass, printer: Printer, scale: Scale) -> Iterator[Text]:
    """Yield each mass with its range, in the unit of a scale."""
    for label, part in _LINES:
        said = with_ends(f"mass.{part}", getattr(mass, part), printer, scale)
        yield Text("{label} {value}", {"label": Text(label), "value": said})


def with_ends(path: str, value: Range, printer: Printer, scale: Scale) -> str:
    """Return a figure with its unit and the ends of its range."""
    found = printer.range(path, value, scale)
    unit = printer.unit_in_full(scale.unit, found.central.text)
    return f"{found.central.text} {unit} ({found.low.text} – {found.high.text})"
