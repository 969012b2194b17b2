"""Feed mix: carbon over nitrogen and moisture of what went in, month by month, against bands."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping, Sequence

import numpy as np

from divert.convert.amounts import centrals, coefficients
from divert.convert.bands import source
from divert.convert.cells import Cells
from divert.convert.workings import Workings
from divert.core.findings import Finding
from divert.core.words import N_, Text
from divert.factors.feed import FeedValue, feed_values
from divert.factors.model import Place
from divert.figures.stretches import TRACE, first_of, inside, matching, month_count
from divert.figures.yard import FeedMaterial, FeedMix, FeedMonth
from divert.site.model import DONATED

WORM_BEDS = ("flow-through", "tray")
ENOUGH = 0.8  # of a month's mass must be in the table before its mix is told


def feed_mix(workings: Workings, cells: Cells, start: dt.date, end: dt.date) -> FeedMix | None:
    """Return the mix of each month between two days; None where nothing went in."""
    here = inside(cells, start, end) & ~matching(cells.before, cells.befores, (DONATED,))
    first, months = month_count(start), month_count(end) - month_count(start) + 1
    number = cells.starts.astype("datetime64[M]").astype(np.int64)[cells.stretch] - first
    count = len(cells.materials)
    group = np.where(here, number * count + cells.material, -1)
    fed = centrals(cells, coefficients(cells, "fed"), group, months * count)
    fed_kg = fed.reshape(months, count)
    known = _known(workings, cells.materials)
    if not fed_kg.any():
        return None
    materials = tuple(
        FeedMaterial(
            name, v.moisture, v.carbon, v.nitrogen, v.printed.citation, v.printed.standing
        )
        for name, v in known.items()
        if fed_kg[:, cells.materials.index(name)].any()
    )  # fmt: skip
    table = {name: cells.materials.index(name) for name in known}
    lines = tuple(
        _month(f"{first_of(first + n):%Y-%m}", fed_kg[n], table, known, workings)
        for n in range(months)
    )
    return FeedMix(lines, materials)


def _known(workings: Workings, names: Sequence[str]) -> dict[str, FeedValue]:
    """Return the mix numbers of the site's materials, by the site's own name."""
    values = feed_values()
    keys = {m.material.name: m.key for m in workings.meanings}
    return {name: values[keys[name]] for name in names if keys.get(name) in values}


def _month(
    label: str, fed_kg: np.ndarray, table: Mapping[str, int], known: Mapping[str, FeedValue],
    workings: Workings,
) -> FeedMonth:  # fmt: skip
    whole = float(fed_kg.sum())
    of_known = {name: float(fed_kg[at]) for name, at in table.items()}
    mass = sum(of_known.values())
    share = max(mass, 0.0) / whole if whole > TRACE else 0.0  # more may be taken out than came
    nitrogen = sum(kg * known[name].nitrogen for name, kg in of_known.items())
    if share < ENOUGH or mass <= 0 or nitrogen <= 0:
        return FeedMonth(label, whole, share, None, None, "")
    carbon = sum(kg * known[name].carbon for name, kg in of_known.items())
    moisture = sum(kg * known[name].moisture for name, kg in of_known.items()) / mass
    bands = workings.factors.bands
    places = [bands["feed-carbon"].place(carbon / nitrogen)]
    if not any(bed.kind in WORM_BEDS for bed in workings.site.beds):
        places.append(bands["feed-moisture"].place(moisture))  # worms want it wetter than a pile
    return FeedMonth(label, whole, share, carbon / nitrogen, moisture, _worse(places))


def _worse(places: Sequence[Place]) -> Place:
    order: tuple[Place, ...] = ("ordinary", "ask", "implausible")
    return max(places, key=order.index)


_FAR = {
    False: N_("By what was logged the mix of one month, {month}, lies outside what is reasonable: carbon "
              "to nitrogen {ratio} to 1, moisture {moisture} %; {low} to {high} to 1 and {dry} to {wet} % "
              "are ({source}). This is a question, nothing was changed."),
    True: N_("By what was logged the mix of {months} months lies outside what is reasonable, last in "
             "{month}: carbon to nitrogen {ratio} to 1, moisture {moisture} %; {low} to {high} to 1 and "
             "{dry} to {wet} % are ({source}). This is a question, nothing was changed."),
}  # fmt: skip


def mix_questions(workings: Workings, mix: FeedMix | None) -> list[Finding]:
    """Return one query about the months whose mix lies outside what is reasonable; no instruction."""
    if mix is None:
        return []
    bands = workings.factors.bands
    far = [m for m in mix.months if m.band == "implausible"]
    if not far:
        return []
    carbon, moisture = bands["feed-carbon"], bands["feed-moisture"]
    worst = far[-1]
    return [
        Finding(
            "query",
            "outside the ordinary band",
            Text(_FAR[len(far) > 1], {
                "months": len(far), "month": worst.month,
                "ratio": round(worst.carbon_to_nitrogen or 0.0),
                "moisture": round(100 * (worst.moisture or 0.0)),
                "low": round(carbon.ask[0]), "high": round(carbon.ask[1]),
                "dry": round(100 * moisture.ask[0]), "wet": round(100 * moisture.ask[1]),
                "source": source(carbon),
            }),
            hint=Text(N_("Is all brown material logged, and water that was added?")),
            name="feed mix",
        )
    ]  # fmt: skip
