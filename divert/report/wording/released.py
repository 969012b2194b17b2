"""When the methane that was avoided would have left the landfill: decades, and how much of it early."""

from __future__ import annotations

from markupsafe import Markup

from divert.core.words import N_, Text
from divert.figures.contract import Figures
from divert.figures.numbers.printed import Printer

_HALF = 50.0  # percent, as printed: "most of it" is said above it alone


def mostly_early(figures: Figures) -> bool:
    """Return whether the printed share of the first 20 years is above a half."""
    hundred, twenty = (figures.emissions_within[years].central for years in ("100", "20"))
    return hundred > 0 and round(100 * twenty / hundred) > _HALF


def released_sentence(figures: Figures, of_set: str, printer: Printer) -> Markup | None:
    """Return when the methane would have been released, with the share of the first 20 years.

    ``of_set`` names the figures in the printed key. None where no landfill methane is avoided.
    """
    hundred, twenty = (figures.emissions_within[years].central for years in ("100", "20"))
    if hundred <= 0:
        return None
    key = "/".join(f"{of_set}:emissions_within.{years}.central" for years in (20, 100))
    share = printer.share(key, twenty / hundred)
    message = N_("The landfill methane avoided would have been released over the following decades, "
                 "{share} of it in the first two.")  # fmt: skip
    if mostly_early(figures):
        message = N_("The landfill methane avoided would have been released over the following "
                     "decades, most of it in the first two ({share}).")  # fmt: skip
    return printer.say(Text(message, {"share": printer.with_unit(share)}))
