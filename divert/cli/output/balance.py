"""The five masses that always balance, and the emissions avoided, a sentence each."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from divert.core.range import Range
from divert.core.words import N_, Text
from divert.figures.contract import Emissions, Mass
from divert.figures.numbers.printed import Printer
from divert.figures.numbers.scales import Scale
from divert.report.wording.released import released_text

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


def net_avoided_line(emissions: Emissions, printer: Printer) -> Text:
    """Return the sentence on emissions avoided, with its range and what it is not."""
    gas = printer.scale("co2e", emissions.landfill_avoided.central)
    net = printer.range("emissions.net_avoided", emissions.net_avoided, gas)
    return Text(
        N_("Emissions avoided within 100 years, net of composting and fuel: {value} {unit} "
           "({low} – {high}). An estimate, not a verified or tradable reduction."),
        {"value": net.central.text, "low": net.low.text, "high": net.high.text,
         "unit": printer.unit_in_full(gas.unit, net.central.text)},
    )  # fmt: skip


def released_line(within: Mapping[str, Range]) -> Iterator[Text]:
    """Yield when the landfill methane would have been released, where any is avoided."""
    if within["100"].central > 0:
        early = within["20"].central / within["100"].central
        yield released_text(within, f"{100 * early:.0f}\u202f%")


def with_ends(path: str, value: Range, printer: Printer, scale: Scale) -> str:
    """Return a figure with its unit and the ends of its range."""
    found = printer.range(path, value, scale)
    unit = printer.unit_in_full(scale.unit, found.central.text)
    return f"{found.central.text} {unit} ({found.low.text} – {found.high.text})"
