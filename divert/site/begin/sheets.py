"""The sheets of the starter workbook: which columns each has and what each column takes."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from divert.core.words import N_, Text
from divert.site.model import Site, names

Takes = Literal["date", "number", "count", "text", "names", "fills"]
FUELS = (N_("gasoline"), N_("diesel"))


@dataclass(frozen=True, slots=True)
class StarterColumn:
    """A column: its heading, what a cell takes, its list of names, its least width in characters."""

    heading: Text
    takes: Takes
    choices: tuple[str, ...] = ()
    width: int = 14

    def wide_enough(self, language: str) -> float:
        """Return the width that also holds the longest word of the heading, which is bold."""
        longest = max(map(len, self.heading.say(language).split()))
        return max(self.width, 1.25 * longest + 2)


@dataclass(frozen=True, slots=True)
class SheetPlan:
    """A sheet: its name, its columns and the sentences about it for the instructions."""

    name: Text
    columns: tuple[StarterColumn, ...]
    says: tuple[Text, ...]


def plans(site: Site) -> tuple[SheetPlan, ...]:
    """Return the five sheets, their lists filled from the site, their units the site's own."""
    us = site.units == "us"
    mass = "lb" if us else "kg"
    volume = "yd³" if us else "m³"
    gallons = N_("US gallons") if site.gallon == "us" else N_("Imperial gallons")
    fuel = Text(gallons) if us else Text(N_("Litres"))
    source = _names(N_("Source"), names(site.sources))
    material = _names(N_("Material"), names(site.materials))
    container = _names(N_("Container"), names(site.containers), 13)
    count = StarterColumn(Text(N_("How many")), "count", width=9)
    fill = StarterColumn(Text(N_("How full")), "fills", width=9)
    date = StarterColumn(Text(N_("Date")), "date", width=12)
    weight = StarterColumn(Text(N_("Net weight ({unit})"), {"unit": mass}), "number", width=12)
    notes = StarterColumn(Text(N_("Notes")), "text", width=26)
    removed = StarterColumn(Text(N_("Trash removed ({unit})"), {"unit": mass}), "number", width=13)
    fuels = [Text(name).say(site.language) for name in FUELS]
    return (
        _intake((date, source, material, container, count, fill, weight, removed, notes)),
        SheetPlan(
            Text(N_("Harvest")),
            (
                date,
                _names(N_("Product"), products(site)),
                StarterColumn(Text(N_("Volume ({unit})"), {"unit": volume}), "number"),
                weight,
                StarterColumn(Text(N_("Destination")), "text", width=24),
                notes,
            ),
            (Text(N_("Castings or compost taken out, and where it went.")),),
        ),
        _weigh_ins((date, material, container, count, fill, weight, notes)),
        SheetPlan(
            Text(N_("Residue")),
            (date, weight, notes),
            (Text(N_("What was left after screening and thrown away.")),),
        ),
        SheetPlan(
            Text(N_("Fuel")),
            (date, _names(N_("Fuel"), fuels, 14), StarterColumn(fuel, "number"), notes),
            (Text(N_("Fuel used for collecting and for the yard's machines.")),),
        ),
    )


def _intake(columns: tuple[StarterColumn, ...]) -> SheetPlan:
    return SheetPlan(
        Text(N_("Intake")),
        columns,
        (
            Text(N_("One row for each load that came in.")),
            Text(N_("Weigh it if you can: the net weight is the load without its container.")),
            Text(N_("If you cannot, write how many containers and how full they were.")),
            Text(N_("Trash removed is what you picked out of this load and threw away.")),
        ),
    )


def _weigh_ins(columns: tuple[StarterColumn, ...]) -> SheetPlan:
    return SheetPlan(
        Text(N_("Weigh-ins")),
        columns,
        (
            Text(N_("A load that is weighed and whose containers are counted, with how full "
                    "they were.")),
            Text(N_("Three for each material teach the tool your own density; more narrow "
                    "the range.")),
        ),
    )  # fmt: skip


def products(site: Site) -> list[str]:
    """Return what may be harvested: the site's names for it, else castings and compost."""
    own = [m.name for m in site.materials if m.like in ("compost", "castings")]
    usual = [Text(N_("worm castings")).say(site.language), Text(N_("compost")).say(site.language)]
    return list(dict.fromkeys(own)) or usual


def _names(heading: str, choices: Sequence[str], width: int = 20) -> StarterColumn:
    return StarterColumn(Text(heading), "names", tuple(choices), width)
