"""What became of the material: the harvest, by product and where it went."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass

from markupsafe import Markup

from divert.core.words import N_, Text
from divert.figures.contract import Figures
from divert.figures.numbers.printed import Printed, Printer
from divert.figures.yard import Harvest
from divert.report.wording.material_names import material_name

_MOST = 5
_MOST_LETTERS = 300  # of products and places: more would push the page apart


@dataclass(frozen=True, slots=True)
class Went:
    """One line of the harvest: an amount with its unit, the product and where it went."""

    amount: Markup
    what: str


def harvest_lines(
    figures: Figures, printer: Printer, kept_back: Collection[str] = ()
) -> tuple[Went, ...]:
    """Return the harvest, largest first; a product without a mass is told by its volume.

    ``kept_back`` are destinations that name somebody whose name stays in the house.
    """
    known = [(i, h) for i, h in enumerate(figures.harvest) if h.mass_kg is not None or h.volume_m3]
    shown = sorted(known, key=lambda line: -_mass(line[1]))[:_MOST]
    what = {i: what_and_where(h, printer, kept_back) for i, h in shown}
    while len(shown) > 2 and sum(len(what[i]) for i, _ in shown) > _MOST_LETTERS:
        shown.pop()
    masses = {i: h.mass_kg for i, h in shown if h.mass_kg is not None}
    scale = printer.scale("mass", sum(mass.central for mass in masses.values()))
    printed: dict[int, Printed] = {
        i: printer.central(f"harvest[{i}].mass_kg", mass, scale) for i, mass in masses.items()
    }
    for i, h in shown:
        if i not in printed and h.volume_m3 is not None:
            scale = printer.scale("volume", h.volume_m3)
            printed[i] = printer.one(f"harvest[{i}].volume_m3", h.volume_m3, scale)
    lines = [Went(printer.with_unit(printed[i]), what[i]) for i, _ in shown]
    if len(known) > len(shown):
        lines.append(
            Went(Markup(""), printer.plain(Text(N_("and other lots, listed in the evidence"))))
        )
    return tuple(lines)


def _mass(harvest: Harvest) -> float:
    return 0.0 if harvest.mass_kg is None else harvest.mass_kg.central


def what_and_where(harvest: Harvest, printer: Printer, kept_back: Collection[str]) -> str:
    """Return a lot in words: its product and where it went, a name that stays in the house left out."""
    place = harvest.destination
    if place in kept_back:
        place = printer.plain(Text(N_("to others")))
    product = material_name(harvest.product, printer) if harvest.product else ""
    return ", ".join(part for part in (product, place) if part)


def nothing_harvested(printer: Printer) -> Markup:
    """Return what is said where no harvest was logged."""
    return printer.say(Text(N_("No harvest was logged in this time; composting takes its months.")))
