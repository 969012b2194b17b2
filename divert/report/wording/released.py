"""When the methane that was avoided would have left the landfill: decades, and how much of it early."""

from __future__ import annotations

from collections.abc import Mapping

from markupsafe import Markup

from divert.core.range import Range
from divert.core.words import N_, Text
from divert.figures.numbers.printed import Printer

_HALF = 50  # percent, as printed: "most of it" is said above it alone


def _early(within: Mapping[str, Range]) -> float:
    """Return the share that would have been released in the first 20 of 100 years; 0 of nothing."""
    hundred = within["100"].central
    return within["20"].central / hundred if hundred > 0 else 0.0


def mostly_early(within: Mapping[str, Range]) -> bool:
    """Return whether the printed share of the first 20 years is above a half."""
    return round(100 * _early(within)) > _HALF


def released_text(within: Mapping[str, Range], share: object) -> Text:
    """Return the sentence with the share of the first 20 years as it is printed."""
    message = N_("The landfill methane avoided would have been released over the following decades, "
                 "{share} of it in the first two.")  # fmt: skip
    if mostly_early(within):
        message = N_("The landfill methane avoided would have been released over the following "
                     "decades, most of it in the first two ({share}).")  # fmt: skip
    return Text(message, {"share": share})


def released_sentence(
    within: Mapping[str, Range], of_set: str, printer: Printer
) -> Markup | None:  # fmt: skip
    """Return when the methane would have been released, with the share of the first 20 years.

    ``within``: landfill methane avoided by years, "20" and "100"; ``of_set`` names the figures in the
    printed key. None where no landfill methane is avoided.
    """
    if within["100"].central <= 0:
        return None
    key = "/".join(f"{of_set}:emissions_within.{years}.central" for years in (20, 100))
    share = printer.share(key, _early(within))
    return printer.say(released_text(within, printer.with_unit(share)))
