"""What a column's heading may say, as one value."""

from __future__ import annotations

from dataclasses import dataclass

from divert.ingest.cells.unit import Unit

QUANTITIES = ("count", "quantity", "volume", "weight", "gross", "each", "hours", "people", "money")


@dataclass(frozen=True, slots=True)
class Heading:
    """``field`` is "" where no word is known; ``label`` what is left over, as written.

    ``said`` marks a heading whose words name the field in full (not only by a unit or container).
    ``container`` and ``size_m3`` belong to headings such as "5 gal pails".
    """

    text: str = ""
    field: str = ""
    unit: Unit | None = None
    unit_text: str = ""
    percent: bool = False
    money: str | None = None
    label: str = ""
    container: str = ""
    size_m3: float | None = None
    said: bool = False
    unsized: bool = False  # a unit is named that we have no size for
    fill: float | None = None  # "Half full pails": how full each of them was

    @property
    def known(self) -> bool:
        """Return whether the heading says anything we understand."""
        return bool(self.field)
