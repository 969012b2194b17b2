"""The sentences about entries that were left out or need a look, each with its hint."""

from __future__ import annotations

import datetime as dt

from divert.core.words import N_, Text

_REFUSED: dict[str, tuple[str, str]] = {
    "no date": (
        N_("No date here, or none I can read."),
        N_("Write the date as 2025-03-04, or 4 March 2025."),
    ),
    "no year": (
        N_("This date has no year, and neither has its sheet's name."),
        N_("Write the year in the date, or in the sheet's or the file's name."),
    ),
    "no material": (
        N_("Nothing says what material this was."),
        N_("Add a material column, or name the material in the sheet's title."),
    ),
    "no quantity": (
        N_("Nothing says how much this was."),
        N_("Write a weight, a volume, or a number of containers."),
    ),
    "quantity unreadable": (
        N_("I cannot read this as a quantity."),
        N_("Write one amount and its unit, such as 3 totes, 40 lb or 2 yd³."),
    ),
    "load in words": (
        N_("This may be a load, told in words and not in the columns, so it is not counted."),
        N_("If it is one, write it in a row of its own under the headings."),
    ),
    "no sum": (
        N_("This stands where sums of other entries stand, and is the sum of none."),
        N_("If it is a sum, correct or delete it; if it is a load, write its own date."),
    ),
    "month beside its days": (
        N_("This is for a whole month in which such loads are also logged by the day."),
        N_(
            'If it sums those, write holds = "nothing" for this sheet under [[sheet]] in site.toml; '
            'if it is more that came, holds = "intake".'
        ),
    ),
    "no scale": (
        N_("I cannot tell how many of these would be full."),
        N_(
            "Write how full as 3/4 or 75%, or name the parts in the heading, such as Quarters full."
        ),
    ),
    "unit unknown": (
        N_("Nothing says what unit this number is in."),
        N_("Write the unit in the heading, such as Weight (lb), or under [[sheet]] in site.toml."),
    ),
    "net mass zero or less": (
        N_("The net mass comes to zero or less."),
        N_("Check gross, tare and count."),
    ),
    "no tare": (
        N_("The empty weight is missing on this row, and it is taken off on the others."),
        N_(
            "Write the empty weight, or the net weight, or name a container that has a tare in site.toml."
        ),
    ),
    "weights disagree": (
        N_("The weights on this row do not agree."),
        N_("Check gross, tare and net, or leave only the weight that is right."),
    ),
    "two weights": (
        N_("Two columns give this load different weights, and nothing says which of them counts."),
        N_('Say under [[sheet]] in site.toml which one is no weight of the load: ignore = ["F"].'),
    ),
    "two separators": (
        N_(
            "Decimals are parted with commas as well as points here, so this may be a thousand times less."
        ),
        N_("Write thousands without a mark, and decimals as the rest of the table does."),
    ),
    "split number": (
        N_(
            "This row is longer than its heading, and a number may have been cut in two by its comma."
        ),
        N_('Write 1250 or "1,250" for it in the file.'),
    ),
    "date in the future": (
        N_("This date lies after {as_of}."),
        N_("Check the year, or run with a later --as-of."),
    ),
    "date before the start": (
        N_("This date lies before the site started, on {started}."),
        N_("Check the year, or the key “started” in site.toml."),
    ),
    "date order ambiguous": (
        N_(
            "This date can be read month first or day first, and nothing in its column settles which."
        ),
        N_('Write dates = "month first" or "day first" in site.toml.'),
    ),
    "date turned round": (
        N_(
            "Day and month may be turned round here: the texts of this column have them the other way."
        ),
        N_("Type such dates again as 2025-03-04; nothing in a stored date says which it was."),
    ),
    "date missing": (
        N_("There is no date on this row."),
        N_("If it was the day above, write it again or put a ditto mark: a gap is not filled in."),
    ),
    "correction matches no entry": (
        N_("This negative amount matches no earlier entry that it could cancel."),
        N_("Correct the entry itself, or repeat its date, source, material and amount."),
    ),
}

# What is said in words of its own, and the code it is counted under.
CODE_OF = {
    "no year": "no date",
    "date missing": "no date",
    "date turned round": "date order ambiguous",
    "load in words": "quantity unreadable",
    "no scale": "quantity unreadable",
    "weights disagree": "quantity unreadable",
    "two weights": "quantity unreadable",
    "no tare": "quantity unreadable",
    "two separators": "quantity unreadable",
    "split number": "quantity unreadable",
    "no sum": "no date",
    "month beside its days": "no date",
}


def refused(code: str, as_of: dt.date, started: dt.date) -> tuple[Text, Text]:
    """Return (message, hint) for a refused entry."""
    message, hint = _REFUSED[code]
    values = {"as_of": as_of, "started": started} if "{" in message else {}
    return Text(message, values), Text(hint)
