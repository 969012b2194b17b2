"""A new yard's settings, as far as its files tell them: for the person to look at and correct."""

from __future__ import annotations

import datetime as dt
import re
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Literal

from divert.ingest.cells_held import CellsHeld
from divert.ingest.lexicon import bare
from divert.ingest.read import read_folder
from divert.site.model import Site

if TYPE_CHECKING:
    from divert.core.reading import Reading

# Words at the head of columns that only one of the two languages has.
_FRENCH = frozenset(
    ("poids", "fournisseur", "matiere", "contenant", "nombre", "remplissage", "remarques", "quantite",
     "jour", "mois", "provenance", "donateur", "brut", "vide", "semaine", "benevoles", "recu")
)  # fmt: skip
_ENGLISH = frozenset(
    ("weight", "from", "what", "how", "many", "full", "notes", "gross", "tare", "week", "received",
     "by", "day", "month", "volunteers", "where", "went")
)  # fmt: skip
_US = re.compile(r"\b(?:lbs?|pounds?|gal|yd3?|yards?|oz|short tons?)\b")
_METRIC = re.compile(r"\b(?:kg|kilos?|kilogram(?:me)?s?|litres?|tonnes?|m3|l)\b")


@dataclass(frozen=True, slots=True)
class Guess:
    """What the files say of a yard; None or "" where they say nothing, ``sheets`` how many there are."""

    name: str
    started: dt.date | None
    units: Literal["us", "metric", ""]
    language: Literal["en", "fr", ""]
    ambiguous_dates: bool
    sheets: int


def guess_yard(folder: Path, today: dt.date, cells: CellsHeld) -> Guess:
    """Return what a folder's sheets tell of their yard. Raises CannotRun where it cannot be listed."""
    provisional = Site(folder, folder.name, "us", dt.date(1950, 1, 1))
    reading = read_folder(provisional, today, None, None, (), cells)
    words = " ".join(
        bare(f"{heading} {taken}")
        for sheet in reading.sheets
        for _, heading, taken in sheet.columns
    )
    dates = reading.entries["date"].dropna()
    tokens = words.split()
    french, english = (sum(t in known for t in tokens) for known in (_FRENCH, _ENGLISH))
    us, metric = len(_US.findall(words)), len(_METRIC.findall(words))
    return Guess(
        name=_named(folder),
        started=dates.min().date() if len(dates) else None,
        units="us" if us > metric else "metric" if metric > us else "",
        language="fr" if french > english else "en" if english > french else "",
        ambiguous_dates=_ambiguous(reading),
        sheets=len(reading.sheets),
    )


def _named(folder: Path) -> str:
    words = " ".join(re.split(r"[-_\s]+", folder.name)).strip()
    return f"{words[:1].upper()}{words[1:200]}"


def _ambiguous(reading: Reading) -> bool:
    return any(f.code.startswith("date order") for f in reading.findings)
