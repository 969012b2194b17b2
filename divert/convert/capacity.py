"""Worm beds and harvests against what beds usually carry and give: questions, never corrections."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

from divert.convert.bands import System, ordinary, quantity, source
from divert.core.findings import Finding
from divert.core.words import N_, Text
from divert.factors import Band, FactorSet
from divert.site.model import Bed, Spread

Product = Literal["castings", "compost"]
YIELDS: dict[Product, str] = {
    "castings": N_("The castings taken out in 12 months weigh {value} of what was fed"),
    "compost": N_("The compost taken out in 12 months weighs {value} of what went in"),
}


@dataclass(frozen=True, slots=True)
class BedUse:
    """What a bed carries; None where its size or stocking is not stated.

    ``worms`` is a count. ``band`` is that of the feed by area, else by worm mass, "" where neither
    is known.
    """

    bed: str
    area_m2: float | None
    worms_kg: float | None
    worms: float | None
    feed_kg_per_m2_week: float | None
    feed_kg_per_kg_worms_week: float | None
    band: str


def bed_capacity(area_m2: float, factors: FactorSet) -> Spread:
    """Return how many worms a healthy bed of an area holds, by the stocking of common practice."""
    stocking = factors.get("worms.stocking")
    each = factors.get("worms.count").value
    return Spread(
        area_m2 * stocking.low * each,
        area_m2 * stocking.value * each,
        area_m2 * stocking.high * each,
    )


def worm_mass_kg(bed: Bed) -> float | None:
    """Return area times stocking, kg; None where one of them is not stated."""
    if bed.area_m2 is None or bed.worms_kg_per_m2 is None:
        return None
    return bed.area_m2 * bed.worms_kg_per_m2


def worm_count(mass_kg: float, factors: FactorSet) -> float:
    """Return about how many red wigglers a mass of them is."""
    return mass_kg * factors.get("worms.count").value


def shared_by_area(feed_kg: float, beds: Sequence[Bed]) -> dict[str, float]:
    """Return feed that names no bed, spread over the beds by area, kg by name.

    Beds of unstated size get none of it; one bed alone gets all.
    """
    if len(beds) == 1:
        return {beds[0].name: feed_kg}
    total = sum(bed.area_m2 or 0.0 for bed in beds)
    if total <= 0:
        return {}
    return {bed.name: feed_kg * bed.area_m2 / total for bed in beds if bed.area_m2}


def bed_uses(
    beds: Sequence[Bed],
    feed_kg: Mapping[str, float],
    weeks: float,
    factors: FactorSet,
    system: System = "us",
) -> tuple[tuple[BedUse, ...], list[Finding]]:
    """Return each bed's load, and a query for each that lies outside its band.

    ``feed_kg``: wet feed by bed over ``weeks`` weeks (12 months, or as far as the site goes).
    Raises ValueError where ``weeks`` is not above zero.
    """
    if weeks <= 0:
        raise ValueError(f"weeks is {weeks}; it must be above zero")
    uses: list[BedUse] = []
    findings: list[Finding] = []
    for bed in beds:
        use, asked = _bed_use(bed, feed_kg.get(bed.name), weeks, factors, system)
        uses.append(use)
        findings += asked
    return tuple(uses), findings


def _bed_use(
    bed: Bed, feed_kg: float | None, weeks: float, factors: FactorSet, system: System
) -> tuple[BedUse, list[Finding]]:
    worms_kg = worm_mass_kg(bed)
    by_area = None if feed_kg is None or not bed.area_m2 else feed_kg / weeks / bed.area_m2
    by_worms = None if feed_kg is None or not worms_kg else feed_kg / weeks / worms_kg
    measured = (
        ("bed-feed", by_area, N_("“{bed}” takes {value} of feed over 12 months")),
        ("bed-feed-by-worms", by_worms, N_("“{bed}” takes {value} of feed over 12 months")),
        ("bed-stocking", bed.worms_kg_per_m2, N_("“{bed}” is said to hold {value}")),
    )
    findings = []
    places = []
    for key, value, message in measured:
        if value is None:
            continue
        band = factors.bands[key]
        if key != "bed-stocking":
            places.append(band.place(value))
        if band.place(value) != "ordinary":
            said = {"bed": bed.name, "value": quantity(value, band.unit, system)}
            findings.append(
                _outside(band, Text(message, said), value, system, f"{bed.name}: {key}")
            )
    use = BedUse(
        bed.name,
        bed.area_m2,
        worms_kg,
        None if worms_kg is None else worm_count(worms_kg, factors),
        by_area,
        by_worms,
        places[0] if places else "",
    )
    return use, findings


def harvest_yield(
    product_kg: float,
    fed_kg: float,
    product: Product,
    factors: FactorSet,
    system: System = "us",
    *,
    whole_year: bool = True,
) -> tuple[float | None, str, list[Finding]]:
    """Return product mass over mass fed, its band, and a query where it is out of the ordinary.

    Both masses over the same 12 months, wet. The share is None, and the band "", where nothing was
    fed; a product with nothing fed is still asked about. Without a ``whole_year`` of records a low
    yield is no question yet: most of the feed is still in the bed.
    """
    if product_kg > fed_kg:
        return (product_kg / fed_kg if fed_kg > 0 else None), "implausible", [_larger(product)]
    if fed_kg <= 0:
        return None, "", []
    share = product_kg / fed_kg
    if product_kg <= 0:  # nothing harvested yet is no yield to judge
        return share, "", []
    band = factors.bands[f"{product}-yield"]
    place = band.place(share)
    too_early = not whole_year and share < band.ordinary[0]
    if place == "ordinary" or too_early:
        return share, "" if too_early else place, []
    message = Text(YIELDS[product], {"value": quantity(share, band.unit, system)})
    return share, place, [_outside(band, message, share, system, f"{product}-yield")]


def _outside(band: Band, what: Text, value: float, system: System, name: str) -> Finding:
    """Return the question about a value outside its band, with the band and its source printed."""
    limit = band.ask[1] if value > band.ordinary[1] else band.ask[0]
    implausible = band.place(value) == "implausible"
    message = (
        N_(
            "{what}; {ordinary} is ordinary, and beyond {limit} is implausible ({source}). "
            "This is a question, nothing was changed."
        )
        if implausible
        else N_(
            "{what}; {ordinary} is ordinary ({source}). This is a question, nothing was changed."
        )
    )
    values = {
        "what": what,
        "ordinary": ordinary(band, system),
        "limit": quantity(limit, band.unit, system),
        "source": source(band),
    }
    return Finding(
        "query",
        "outside the ordinary band",
        Text(message, values),
        hint=Text(
            N_("Check the bed's size, the loads counted as its feed and the harvests logged.")
        ),
        name=name,
    )


def _larger(product: Product) -> Finding:
    return Finding(
        "query",
        "product larger than feed",
        Text(
            N_(
                "More product was taken out in 12 months than feed went in; some intake may be "
                "missing, or stock from before was taken out."
            )
        ),
        hint=Text(N_("Check the units of the harvest sheet and whether all intake is logged.")),
        name=f"{product}-yield",
    )
