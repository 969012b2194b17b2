"""What every printed range keeps, over random sites: its central value inside, no mass below nothing.

Sites differ in landfill, scale, stated densities, usual fills, fates and weigh-ins; periods cut months
in two; figures are those of the JSON, sponsors' and the yard's own among them.
"""

from __future__ import annotations

import datetime as dt

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from small_site import STARTED, reading, site

from divert.convert import work_out
from divert.core.period import read_period
from divert.factors import load_factors
from divert.figures.as_json import to_json
from divert.figures.compute import figures_for
from divert.figures.figure_path import is_range
from divert.site.model import Container, Landfill, Material, Site, Source, Sponsor, Spread

FACTORS = load_factors()
AS_OF = dt.date(2025, 12, 31)
LIKE = (
    "food-scraps",
    "food-slurry",
    "leaves",
    "grass",
    "spent-grain",
    "office-paper",
    "wood-chips",
)
KNOWN = tuple(key for key in LIKE if key in FACTORS.materials)
FATES = (None, "landfill", "incinerator", "recycled", "donated as food")
KINDS = ("managed", "managed semi-aerobic", "unmanaged deep", "unmanaged shallow", "unknown")
CLIMATES = ("temperate dry", "temperate wet", "tropical dry", "tropical wet")
days = st.dates(STARTED, dt.date(2025, 3, 31))


@st.composite
def spreads(draw: st.DrawFn, low: float, high: float) -> Spread:
    """A stated value: exact, or anywhere between two ends that need not lie evenly about it."""
    ends = sorted(draw(st.lists(st.floats(low, high), min_size=3, max_size=3)))
    return Spread(*ends) if draw(st.booleans()) else Spread(ends[1], ends[1], ends[1])


@st.composite
def sites(draw: st.DrawFn) -> Site:
    densities = [draw(st.none() | spreads(20, 1200)) for _ in KNOWN]
    materials = tuple(
        Material(key, like=key, before=draw(st.sampled_from(FATES)), density=density,
                 condition=draw(st.sampled_from((None, "wet", "loose"))))
        for key, density in zip(KNOWN, densities, strict=True)
    )  # fmt: skip
    usual = draw(st.none() | st.floats(0.2, 1.5))
    captured = draw(st.none() | spreads(0.0, 0.95))
    return site(
        containers=(
            Container("tote", volume_m3=draw(st.floats(0.01, 1)), tare_kg=5.0, usual_fill=usual),
        ),
        materials=materials,
        sources=(Source("North"), Source("South")),
        sponsors=(Sponsor("Bank", supplies=("South",), funds=draw(st.floats(0.01, 1))),),
        landfills=(
            Landfill(climate=draw(st.sampled_from(CLIMATES)), kind=draw(st.sampled_from(KINDS)),
                     gas_captured=captured),
        ),
        scale_accuracy=draw(st.sampled_from((0.01, 0.001, 0.2))),
    )  # fmt: skip


@st.composite
def rows(draw: st.DrawFn) -> dict[str, object]:
    row: dict[str, object] = {
        "kind": draw(st.sampled_from(("intake",) * 6 + ("weigh-in", "harvest", "disposed"))),
        "date": draw(days), "source": draw(st.sampled_from(("North", "South", None))),
        "material": draw(st.sampled_from(KNOWN)),
    }  # fmt: skip
    by_box = {"container": "tote", "count": draw(st.integers(1, 9)),
              "fill": draw(st.none() | st.sampled_from((0.25, 0.5, 1.0, 1.25)))}  # fmt: skip
    kg = draw(st.floats(0.01, 900))
    how = draw(st.sampled_from(("weighed", "boxes", "outright", "weigh-in")))
    if how == "weighed":
        row["mass_kg"] = kg
    elif how == "boxes":
        row |= by_box
    elif how == "outright":
        row["volume_m3"] = draw(st.floats(0.001, 3))
    else:  # teaches a density, however odd
        row |= by_box | {"fill": 0.5, "mass_kg": kg}
    if row["kind"] == "intake":
        row["removed_share"] = draw(st.sampled_from((None, None, *WRITTEN)))
    return row


WRITTEN = (0.1, 1.0)  # shares of a load that were picked out


def ranges(value: object, path: str = "") -> list[tuple[str, dict[str, float]]]:
    """Return every range of a figure set's JSON with its path."""
    if is_range(value):
        return [(path, value)]  # type: ignore[list-item]
    if isinstance(value, dict):
        return [r for key, v in value.items() for r in ranges(v, f"{path}.{key}")]
    if isinstance(value, list):
        return [r for n, v in enumerate(value) for r in ranges(v, f"{path}[{n}]")]
    return []


@settings(
    max_examples=40,
    derandomize=True,
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large],
)
@given(
    sites(), st.lists(rows(), min_size=1, max_size=14),
    st.sampled_from(("all", "2024", "2024-Q2", "2024-03-15/2024-06-10")),
    st.sampled_from((None, "Bank")),
)  # fmt: skip
def test_every_range_holds_its_central_value_and_no_mass_below_nothing(
    here: Site, entries: list[dict[str, object]], label: str, sponsor: str | None
) -> None:
    workings = work_out(here, reading(*entries), FACTORS)
    period = read_period(label, as_of=AS_OF, started=STARTED)
    figures = to_json(figures_for(workings, period, AS_OF, sponsor))
    found = ranges(figures)
    assert len(found) > 10
    for path, r in found:
        assert r["low"] <= r["central"] <= r["high"], (path, r)
        if not path.endswith(
            "net_avoided"
        ):  # what composting gives off may be more than is avoided
            assert r["low"] >= min(r["central"], 0.0), (path, r)
        # Litres of fuel are exact, and a share of rubbish that the crew wrote on every load.
        written = path.startswith(".contamination[") and r["central"] in WRITTEN
        if not (path.endswith(".fuel") or written) and abs(r["central"]) > 1e-9:
            assert r["high"] > r["low"], (path, r)
    for one in figures["densities"]:
        assert 0 < one["low"] <= one["value"] <= one["high"], one
