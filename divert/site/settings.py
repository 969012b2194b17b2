"""[site] of site.toml: the site's name, its units and its ways of writing."""

from __future__ import annotations

import datetime as dt
import re
from dataclasses import dataclass
from typing import Literal, cast

from divert.core.words import N_, Text, languages
from divert.site import quantities
from divert.site.pictures import picture
from divert.site.quantities import Words
from divert.site.table import Table

MONTHS = (
    "January", "February", "March", "April", "May", "June", "July", "August", "September",
    "October", "November", "December",
)  # fmt: skip
GREATEST_SCALE_ERROR = 0.25  # a relative standard deviation above this is no scale


@dataclass(frozen=True, slots=True)
class Settings:
    """What [site] says, as :class:`divert.site.model.Site` holds it."""

    name: str
    units: Literal["us", "metric"]
    started: dt.date
    country: str
    ton: Literal["short", "long", "tonne"]
    gallon: Literal["us", "imperial"]
    dates: Literal["month first", "day first"] | None
    year_starts: int
    language: str
    currency: str
    logo: str | None
    colour: str
    scale_accuracy: float
    permit_limit_kg: float | None
    permit_limit_m3: float | None
    disposed_holds_removed: bool | None

    @property
    def words(self) -> Words:
        """Return what a bare "ton" and "gal" mean."""
        return Words(self.ton, self.gallon)


def settings(table: Table) -> Settings:
    """Return the site's settings; name, units and started must be there."""
    ton = cast(
        "Literal['short', 'long', 'tonne']",
        table.choice("ton", ("short", "long", "tonne"), "short"),
    )
    gallon = cast("Literal['us', 'imperial']", table.choice("gallon", ("us", "imperial"), "us"))
    limit_kg, limit_m3 = quantities.mass_or_volume(table, "permit_limit", Words(ton, gallon))
    return Settings(
        name=table.required_text("name", "Kestrel Bend Community Farm"),
        units=cast("Literal['us', 'metric']", _units(table)),
        started=_started(table),
        country=_country(table),
        ton=ton,
        gallon=gallon,
        dates=cast(
            "Literal['month first', 'day first'] | None",
            table.choice("dates", ("month first", "day first"), "") or None,
        ),
        year_starts=MONTHS.index(table.choice("year_starts", MONTHS, MONTHS[0])) + 1,
        language=table.choice("language", languages(), "en"),
        currency=_currency(table),
        logo=picture(table, "logo"),
        colour=_colour(table),
        scale_accuracy=_scale_accuracy(table),
        permit_limit_kg=limit_kg,
        permit_limit_m3=limit_m3,
        disposed_holds_removed=table.flag("disposed_holds_removed", False)
        if table.has("disposed_holds_removed")
        else None,
    )


def _units(table: Table) -> str:
    said = table.choice("units", ("us", "metric"), "")
    return said or table.required_text("units", "us")  # the second only to say that it is missing


def _started(table: Table) -> dt.date:
    day = table.day("started")
    if day is None:
        raise table.says(
            "started",
            Text(N_("started is missing. Write the day the site began, such as "
                    "started = 2024-04-01")),
        )  # fmt: skip
    return day


def _country(table: Table) -> str:
    said = table.text("country", "US").upper() or "US"
    if not _known("territories", said) or not re.fullmatch("[A-Z]{2}", said):
        wanted = Text(N_('Write the two letters of a country, such as "US", "CA" or "FR".'))
        raise table.wrong("country", wanted)
    return said


def _currency(table: Table) -> str:
    said = table.text("currency", "USD").upper() or "USD"
    if not _known("currencies", said):
        wanted = Text(N_('Write the three letters of a currency, such as "USD", "CAD" or "EUR".'))
        raise table.wrong("currency", wanted)
    return said


def _known(kind: Literal["territories", "currencies"], code: str) -> bool:
    from babel import Locale

    return code in getattr(Locale("en"), kind)


def _colour(table: Table) -> str:
    said = table.text("colour", "#2f6b4f") or "#2f6b4f"
    if match := re.fullmatch("#([0-9a-fA-F])([0-9a-fA-F])([0-9a-fA-F])", said):
        said = "#" + "".join(2 * digit for digit in match.groups())
    if not re.fullmatch("#[0-9a-fA-F]{6}", said):
        wanted = Text(N_('Write # and six digits or letters a to f, such as "#2f6b4f".'))
        raise table.wrong("colour", wanted)
    return said.lower()


def _scale_accuracy(table: Table) -> float:
    said = table.maybe_number("scale_accuracy", 0, GREATEST_SCALE_ERROR)
    return 0.01 if said is None else said
