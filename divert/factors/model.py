"""What a published number is: its value and ends, and the document behind each of them."""

from __future__ import annotations

import hashlib
import re
from collections.abc import Mapping
from dataclasses import dataclass, field
from types import MappingProxyType
from typing import Literal

Standing = Literal["read", "quoted", "memory", "proxy"]
STANDINGS: tuple[Standing, ...] = ("read", "quoted", "memory", "proxy")
# A value this close, relatively, to the end of a band lies on it: 1 lb/ft² reached by way of kilograms
# is still 1 lb/ft².
EDGE = 1e-6
Place = Literal["ordinary", "ask", "implausible"]


def slug(name: str) -> str:
    """Return a name as it stands in a key: ``"in pails and carts"`` -> ``"in-pails-and-carts"``."""
    return re.sub(r"[^a-z0-9]+", "-", name.lower()).strip("-")


@dataclass(frozen=True, slots=True)
class Printed:
    """One end of a factor as its document has it.

    ``as_published`` is the text of the number with its unit, "" where the document prints none;
    ``place`` the table or page, ``year`` the edition, "" where not noted.
    """

    as_published: str
    document: str
    year: str
    place: str
    standing: Standing
    note: str = ""

    @property
    def citation(self) -> str:
        """Return document, year and place as one line."""
        return f"{self.edition}, {self.place}" if self.place else self.edition

    @property
    def edition(self) -> str:
        """Return the document with its year."""
        return f"{self.document} ({self.year})" if self.year else self.document


@dataclass(frozen=True, slots=True)
class Factor:
    """A number in use with its low and high ends, in SI (``unit`` says which).

    ``as_published``, ``source`` and ``standing`` are lines to print: one value where all ends share
    it, else each end named. ``low_printed``, ``typical_printed`` and ``high_printed`` keep them
    apart. ``own`` marks a number of the site's own factor file.
    """

    key: str
    value: float
    low: float
    high: float
    unit: str
    low_printed: Printed
    typical_printed: Printed
    high_printed: Printed
    own: bool = False

    @property
    def ends(self) -> tuple[Printed, Printed, Printed]:
        """Return where low, typical and high stand written."""
        return self.low_printed, self.typical_printed, self.high_printed

    @property
    def as_published(self) -> str:
        """Return the published text of the ends."""
        return _told([end.as_published or "not printed" for end in self.ends])

    @property
    def source(self) -> str:
        """Return the documents of the ends; one that carries all of them is named once."""
        if len({end.edition for end in self.ends}) > 1:
            return _told([end.citation for end in self.ends])
        places = list(dict.fromkeys(end.place for end in self.ends if end.place))
        return ", ".join([self.typical_printed.edition, " and ".join(places)]).removesuffix(", ")

    @property
    def standing(self) -> str:
        """Return the standings of the ends, e.g. ``"low quoted; typical read; high read"``."""
        return _told([end.standing for end in self.ends], colon=" ")

    @property
    def note(self) -> str:
        """Return the notes on the ends, each once."""
        return "; ".join(dict.fromkeys(end.note for end in self.ends if end.note))

    @property
    def unsure(self) -> bool:
        """Return whether the typical value stands on memory or on a proxy."""
        return self.typical_printed.standing in ("memory", "proxy")


def _told(texts: list[str], colon: str = ": ") -> str:
    if len(set(texts)) == 1:
        return texts[0]
    names = ("low", "typical", "high")
    return "; ".join(f"{name}{colon}{text}" for name, text in zip(names, texts, strict=True))


@dataclass(frozen=True, slots=True)
class BuiltInMaterial:
    """An entry of the built-in material list.

    ``also``: everyday names in English and French. ``decay_class`` "" where no landfill methane is
    ever claimed; ``usual_fate`` a before; ``screening`` the cross-check row, "" where none.
    """

    key: str
    name: str
    also: tuple[str, ...]
    decay_class: str
    usual_fate: str
    default_condition: str
    screening: str


@dataclass(frozen=True, slots=True)
class Band:
    """Where a figure is ordinary, worth asking about, or implausible.

    A question to the user, never a correction. Ends in SI (``unit``); ``ask`` encloses
    ``ordinary``; what lies outside both is implausible.
    """

    key: str
    ordinary: tuple[float, float]
    ask: tuple[float, float]
    unit: str
    printed: Printed

    def place(self, value: float) -> Place:
        """Return where a value falls; the ends belong to the milder side."""
        if _lies_within(value, self.ordinary):
            return "ordinary"
        return "ask" if _lies_within(value, self.ask) else "implausible"


def _lies_within(value: float, ends: tuple[float, float]) -> bool:
    return ends[0] * (1 - EDGE) <= value <= ends[1] * (1 + EDGE)


@dataclass(frozen=True, slots=True)
class ScreeningFactor:
    """A published factor per mass used only as a cross-check, kg CO2e per kg of waste.

    ``composted`` is None where the set prints none.
    """

    set: str
    class_: str
    landfilled: float
    composted: float | None
    landfilled_as_published: str
    composted_as_published: str
    gwp: str
    printed: Printed


@dataclass(frozen=True)
class FactorSet:
    """All numbers in use: the built-in ones, with a site's own laid over them."""

    factors: tuple[Factor, ...]
    materials: Mapping[str, BuiltInMaterial]
    bands: Mapping[str, Band]
    screening: tuple[ScreeningFactor, ...]
    stand_ins: Mapping[tuple[str, str], str] = field(default_factory=dict)
    fingerprint: str = field(init=False, default="")
    _by_key: Mapping[str, Factor] = field(init=False, repr=False, compare=False)

    def __post_init__(self) -> None:
        by_key = {factor.key: factor for factor in self.factors}
        object.__setattr__(self, "_by_key", MappingProxyType(by_key))
        object.__setattr__(self, "fingerprint", self._fingerprint())

    def _fingerprint(self) -> str:
        parts = [repr(f) for f in sorted(self.factors, key=lambda f: f.key)]
        parts += [repr(self.materials[key]) for key in sorted(self.materials)]
        parts += [repr(self.bands[key]) for key in sorted(self.bands)]
        parts += [repr(row) for row in self.screening]
        parts += [repr(pair) for pair in sorted(self.stand_ins.items())]
        return hashlib.sha256("\n".join(parts).encode()).hexdigest()

    def get(self, key: str) -> Factor:
        """Return a factor by its key, e.g. ``"k.food.temperate-wet"``. Raises KeyError."""
        return self._by_key[key]

    def __contains__(self, key: str) -> bool:
        return key in self._by_key

    def all(self) -> tuple[Factor, ...]:
        """Return every factor, in the order of the data files, a site's new ones last."""
        return self.factors

    def density(self, material_key: str, condition: str = "") -> Factor | None:
        """Return the density (kg/m³) of a built-in material; "" takes its default condition.

        None where the list has no such material or no value for the condition.
        """
        material = self.materials.get(material_key)
        if material is None:
            return None
        wanted = slug(condition) or slug(material.default_condition)
        return self._by_key.get(f"density.{material_key}.{wanted}")

    def screening_row(self, set_: str, class_: str) -> ScreeningFactor | None:
        """Return a set's row for a material's cross-check class, or what stands in for it."""
        wanted = self.stand_ins.get((set_, class_), class_)
        for row in self.screening:
            if row.set == set_ and row.class_ == wanted:
                return row
        return None
