"""How a workbook of the corpus is described: who writes it, and what a person would read in it."""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field, replace
from pathlib import Path

from divert.site.model import Bed, Container, Material, Report, Site, Source

# Exact definitions: NIST Handbook 44, Appendix C.
LB = 0.45359237
SHORT_TON = 2000 * LB
OZ = LB / 16
GAL = 0.003785411784
IMPERIAL_GAL = 0.00454609
YD3 = 0.764554857984
FT3 = YD3 / 27
L = 0.001

AS_OF = dt.date(2026, 3, 31)


def site(folder: Path, **changes: object) -> Site:
    """Return the site all the workbooks are read for."""
    usual = Site(
        folder=folder,
        name="Kestrel Bend Community Farm",
        units="us",
        started=dt.date(2023, 1, 1),
        containers=(
            Container("pail", ("bucket", "5 gal pail", "seau"), 5 * GAL, 1.9 * LB, 0.9),
            Container("tote", ("blue tote", "bac"), 32 * GAL, 9 * LB),
            Container("cart", ("64 gal cart", "bac roulant"), 64 * GAL, 30 * LB, 0.8),
        ),
        materials=(
            Material("kitchen scraps", ("food scraps", "food waste"), "food-scraps", "landfill"),
            Material("coffee grounds", ("coffee",), "coffee-grounds"),
            Material("leaves", (), "leaves"),
            Material("cut flowers", ("florist waste",), "cut-flowers"),
        ),
        sources=(
            Source("Quillmarsh School kitchen", ("quillmarsh", "school")),
            Source("Harborside Hotel", ("hotel",)),
            Source("The Copper Ladle", ("copper ladle", "ladle")),
            Source("Petal and Stem Florist", ("petal and stem", "florist")),
        ),
        beds=(Bed("Bed 1"),),
        report=Report(activities=("volunteer hours", "workshop visitors")),
    )
    return replace(usual, **changes)  # type: ignore[arg-type]


SCHOOL, HOTEL, LADLE, FLORIST = (
    "Quillmarsh School kitchen", "Harborside Hotel", "The Copper Ladle", "Petal and Stem Florist",
)  # fmt: skip
FOOD, COFFEE, LEAVES, FLOWERS = "kitchen scraps", "coffee grounds", "leaves", "cut flowers"


HEAD = ["Date", "Source", "Material", "lb"]  # of an ordinary log
WEIGHED = ["Date", "Source", "Material", "Weight (lb)"]


@dataclass(frozen=True)
class Entry:
    """One true entry, SI; None where the sheet does not say."""

    date: dt.date
    source: str | None = None
    material: str | None = None
    kg: float | None = None
    m3: float | None = None
    count: float | None = None
    container: str | None = None
    fill: float | None = None
    gross: float | None = None
    removed: float | None = None
    share: float | None = None
    kind: str = "intake"
    before: str | None = None
    name: str | None = None
    amount: float | None = None
    unit: str | None = None
    currency: str | None = None
    destination: str | None = None


@dataclass(frozen=True)
class Truth:
    """What a workbook truly says.

    ``aside`` counts the entries that a person could not read either, by code; ``skipped`` counts
    skipped rows by reason, where the case is about them; ``codes`` findings that must be made,
    ``hints`` words that some hint or message must hold.
    """

    entries: Sequence[Entry]
    aside: dict[str, int] = field(default_factory=dict)
    skipped: dict[str, int] = field(default_factory=dict)
    codes: tuple[str, ...] = ()
    site: dict[str, object] = field(default_factory=dict)


@dataclass(frozen=True)
class Case:
    """One workbook (or a few that belong together) of the corpus."""

    name: str
    covers: tuple[str, ...]
    make: Callable[[Path], Truth]


CASES: list[Case] = []


def case(*covers: str) -> Callable[[Callable[[Path], Truth]], Callable[[Path], Truth]]:
    """Enter a function that writes a workbook and returns its truth into the corpus."""

    def enter(make: Callable[[Path], Truth]) -> Callable[[Path], Truth]:
        CASES.append(Case(make.__name__, covers, make))
        return make

    return enter


def day(text: str) -> dt.date:
    """Return a date from 2025-03-04."""
    return dt.date.fromisoformat(text)
