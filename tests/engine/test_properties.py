"""What holds for any ledger whatever: the balance, and what no change of spelling may move."""

from __future__ import annotations

import dataclasses
import datetime as dt

import numpy as np
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from rounds import rounds
from small_site import STARTED, reading, site

from divert.convert import Workings, work_out
from divert.convert.amounts import centrals, coefficients
from divert.core.period import month, quarter, read_period
from divert.factors import load_factors
from divert.figures.as_json import to_json
from divert.figures.compute import figures_for
from divert.figures.contract import Figures
from divert.figures.figure_path import is_range
from divert.site.model import Site, Sponsor

FACTORS = load_factors()
AS_OF = dt.date(2025, 12, 31)
SOURCES = ("North kitchen", "South kitchen", "Brewery", None)
MATERIALS = ("kitchen scraps", "spent grain", "flowers", "leaves", "a thing nobody knows")
BEFORES = (None, None, "landfill", "incinerator", "recycled", "donated as food", "moved on site")
SPONSORS = (
    Sponsor("Larch Bank", supplies=("South kitchen",), funds=0.25, since=dt.date(2024, 3, 15)),
    Sponsor("Larch Bank", supplies=("Brewery",), funds=0.5, since=dt.date(2024, 8, 10)),
    Sponsor("North School", supplies=("North kitchen",)),
    Sponsor("Mill", supplies=("South kitchen",), funds=0.5, since=dt.date(2024, 8, 10)),
)

days = st.dates(STARTED, dt.date(2025, 3, 31))
kilos = st.floats(0.5, 500)


@st.composite
def loads(draw: st.DrawFn) -> dict[str, object]:
    row: dict[str, object] = {
        "date": draw(days), "source": draw(st.sampled_from(SOURCES)),
        "material": draw(st.sampled_from(MATERIALS)), "before": draw(st.sampled_from(BEFORES)),
    }  # fmt: skip
    how = draw(st.sampled_from(["net", "gross", "outright", "counted", "both"]))
    if how in ("net", "both"):
        row["mass_kg"] = draw(kilos)
    if how == "gross":
        row |= {"gross_kg": draw(kilos), "container": "tote", "count": 1}
    if how == "outright":
        row["volume_m3"] = draw(st.floats(0.01, 2))
    if how in ("counted", "both"):
        row |= {"container": draw(st.sampled_from(["tote", "pail", "unheard-of box"])),
                "count": draw(st.integers(1, 9)),
                "fill": draw(st.sampled_from([None, 0.5, 0.75, 1.0]))}  # fmt: skip
    removed = draw(st.sampled_from(["none", "none", "mass", "share"]))
    if removed == "mass":
        row["removed_kg"] = draw(st.floats(0, 600))  # may be more than came
    if removed == "share":
        row["removed_share"] = draw(st.floats(0, 1))
    return row


@st.composite
def thrown_away(draw: st.DrawFn) -> dict[str, object]:
    return {
        "kind": draw(st.sampled_from(["removed", "residue"])), "date": draw(days),
        "source": draw(st.sampled_from(SOURCES)), "mass_kg": draw(st.floats(0.5, 100)),
    }  # fmt: skip


ledgers = st.tuples(
    st.lists(loads(), min_size=1, max_size=10), st.lists(thrown_away(), max_size=4)
).map(lambda parts: parts[0] + parts[1])
bounded = settings(
    max_examples=rounds(6, 12), derandomize=True,
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large],
)  # fmt: skip


def worked(rows: list[dict[str, object]], here: Site | None = None) -> Workings:
    return work_out(here or site(sponsors=SPONSORS), reading(*rows), FACTORS)


def shown(workings: Workings, label: str = "all", sponsor: str | None = None) -> Figures:
    period = read_period(label, as_of=AS_OF, started=STARTED)
    return figures_for(workings, period, AS_OF, sponsor)


def close(value: float) -> object:
    return pytest.approx(value, abs=1e-6)


def of_landfill(figures: Figures) -> list[float]:
    mass, emitted = figures.mass, figures.emissions
    return [
        *(r.central for r in (mass.received, mass.removed, mass.residue, mass.diverted)),
        mass.not_claimed.central, emitted.landfill_avoided.central, emitted.process.central,
        emitted.fuel.central, emitted.net_avoided.central,
    ]  # fmt: skip


@bounded
@given(ledgers)
def test_everything_received_is_somewhere(rows: list[dict[str, object]]) -> None:
    workings = worked(rows)
    figures = shown(workings)
    mass = figures.mass
    parts = (mass.diverted, mass.not_claimed, mass.removed, mass.residue)
    assert mass.received.central == close(sum(p.central for p in parts))
    for part in (*figures.by_source, *figures.by_material):
        rest = part.diverted.central + part.not_claimed.central + part.thrown_away.central
        assert part.received.central == close(rest), part.name
    cells = workings.cells()
    number = cells.stretch.astype(np.int64)
    names = ("received", "diverted", "not claimed", "removed", "residue")
    received, *others = (
        centrals(cells, coefficients(cells, name), number, len(cells.starts)) for name in names
    )
    assert received == close(sum(others))  # every month
    # Nothing is lost on the way: what the sheets say was thrown away is what is charged.
    ledger = workings.ledger
    residue = ledger.loc[ledger["kind"] == "residue", "mass_kg"].sum()
    removed = ledger.loc[ledger["kind"].isin(["removed"]), "mass_kg"].sum()
    on_rows = ledger.loc[ledger["kind"] == "intake", "removed_kg"].sum()
    assert mass.removed.central + mass.residue.central == close(residue + removed + on_rows)


@bounded
@given(ledgers)
def test_parts_add_up(rows: list[dict[str, object]]) -> None:
    workings = worked(rows)
    whole = shown(workings)
    for parts in (whole.by_source, whole.by_material, whole.by_month):
        assert sum(p.received.central for p in parts) == close(whole.mass.received.central)
        assert sum(p.diverted.central for p in parts) == close(whole.mass.diverted.central)
    year = figures_for(workings, read_period("2024", as_of=AS_OF, started=STARTED), AS_OF)
    by_quarter = [of_landfill(figures_for(workings, quarter(2024, n), AS_OF)) for n in (1, 2, 3, 4)]
    assert of_landfill(year) == close(np.sum(by_quarter, axis=0))
    january_on = [of_landfill(figures_for(workings, month(2024, n), AS_OF)) for n in (1, 2, 3)]
    assert by_quarter[0] == close(np.sum(january_on, axis=0))


@bounded
@given(st.lists(loads(), min_size=1, max_size=6), st.data())
def test_splitting_a_row_in_two_moves_nothing(
    rows: list[dict[str, object]], data: st.DataObject
) -> None:
    place = data.draw(st.integers(0, len(rows) - 1))
    row = rows[place]
    if "mass_kg" in row and "container" in row:
        row = {k: v for k, v in row.items() if k not in ("container", "count", "fill")}
    rows = [*rows[:place], row, *rows[place + 1 :]]
    halves = {
        k: v / 2
        for k, v in row.items()
        if k in ("mass_kg", "gross_kg", "volume_m3", "count", "removed_kg") and v is not None
    }  # type: ignore[operator]
    half = {**row, **halves}
    split = [*rows[:place], half, half, *rows[place + 1 :]]
    assert of_landfill(shown(worked(split))) == close(of_landfill(shown(worked(rows))))


@bounded
@given(ledgers)
def test_the_units_printed_move_nothing(rows: list[dict[str, object]]) -> None:
    metric = site(sponsors=SPONSORS)
    customary = dataclasses.replace(metric, units="us", ton="long", gallon="imperial")
    first, second = shown(worked(rows, metric)), shown(worked(rows, customary))
    blank = {"findings": ()}  # said in other units
    assert dataclasses.replace(first, **blank) == dataclasses.replace(second, **blank)  # type: ignore[arg-type]


@bounded
@given(st.lists(loads(), min_size=1, max_size=8), st.data())
def test_a_load_that_is_not_claimed_never_raises_net_avoided(
    rows: list[dict[str, object]], data: st.DataObject
) -> None:
    unclaimed = {
        "date": data.draw(days), "source": "Brewery", "material": "spent grain",
        "mass_kg": data.draw(kilos),
        "before": data.draw(st.sampled_from(["fed to animals", "composted", "donated as food"])),
    }  # fmt: skip
    before = shown(worked(rows)).emissions.net_avoided.central
    after = shown(worked([*rows, unclaimed])).emissions.net_avoided.central
    assert after <= before + 1e-9


@bounded
@given(st.lists(loads(), min_size=1, max_size=10), st.sampled_from(["2024", "all", "2024-Q3"]))
def test_sponsors_together_never_claim_more_than_the_site(
    rows: list[dict[str, object]], label: str
) -> None:
    for row in rows:
        row.pop(
            "removed_kg", None
        )  # a load emptied by more than it brought counts against the site
    workings = worked(rows)
    claims = [shown(workings, label, name) for name in ("Larch Bank", "North School", "Mill")]
    site_mass = claims[0].mass
    supplied = [c.supplied for c in claims if c.supplied is not None]
    assert sum(s.received.central for s in supplied) <= site_mass.received.central + 1e-6
    assert sum(s.diverted.central for s in supplied) <= site_mass.diverted.central + 1e-6
    assert sum(s.share for s in supplied) <= 1 + 1e-9
    supported = [c.supported for c in claims if c.supported is not None]
    assert sum(s.diverted.central for s in supported) <= site_mass.diverted.central + 1e-6
    assert sum(s.share for s in supported) <= 1 + 1e-9


@bounded
@given(ledgers)
def test_every_entry_seen_is_used_or_set_aside_or_skipped(rows: list[dict[str, object]]) -> None:
    workings = worked(rows)
    counted = shown(workings).rows
    assert counted.seen == len(rows) == workings.reading.seen
    assert counted.seen == counted.used + counted.set_aside + counted.skipped
    assert counted.set_aside == len([f for f in workings.findings if f.level == "refused"])


@bounded
@given(ledgers)
def test_no_figure_is_not_a_number(rows: list[dict[str, object]]) -> None:
    listed = [*rows, {"kind": "rejected", "date": STARTED, "material": "leaves"}]
    figures = shown(worked(listed))
    assert np.isfinite(of_landfill(figures)).all()
    for r in (figures.mass.diverted, figures.emissions.net_avoided, figures.rejected):
        assert r.low <= r.central <= r.high


def ranges_in(value: object, path: str = "") -> list[tuple[str, dict[str, float]]]:
    """Return every range of a figure set's JSON with its path."""
    if is_range(value):
        return [(path, value)]  # type: ignore[list-item]
    if isinstance(value, dict):
        return [r for key, v in value.items() for r in ranges_in(v, f"{path}.{key}")]
    if isinstance(value, list):
        return [r for n, v in enumerate(value) for r in ranges_in(v, f"{path}[{n}]")]
    return []


# What may truly be below nothing: emissions net of what composting gives off.
SIGNED = ("net_avoided",)


@bounded
@given(ledgers, st.sampled_from([None, "Larch Bank", "North School"]))
def test_no_range_leaves_out_its_central_value_or_holds_a_negative_mass(
    rows: list[dict[str, object]], sponsor: str | None
) -> None:
    weigh_ins = [
        {"kind": "weigh-in", "date": STARTED, "material": "leaves", "container": "tote", "count": 1,
         "fill": 1.0, "mass_kg": kg} for kg in (1.0, 1.5, 2.0)
    ]  # fmt: skip
    found = ranges_in(to_json(shown(worked([*rows, *weigh_ins]), sponsor=sponsor)))
    assert len(found) > 10
    for path, r in found:
        assert r["low"] <= r["central"] <= r["high"], (path, r)
        if not path.endswith(SIGNED):  # an adjustment's central value may be negative
            assert r["low"] >= min(r["central"], 0.0), (path, r)
        # Nothing here is exact: every kg rests on a scale or on a density.
        fuel = path.endswith(".fuel")
        assert r["high"] > r["low"] or abs(r["central"]) < 1e-9 or fuel, (path, r)


@bounded
@given(ledgers)
def test_emissions_say_the_mean_of_their_draws(rows: list[dict[str, object]]) -> None:
    figures = to_json(shown(worked(rows)))
    emissions = figures["emissions"]
    means = {name: r["mean"] for name, r in emissions.items()}
    net = means["landfill_avoided"] - means["process"] - means["fuel"]
    assert means["net_avoided"] == close(net)
    assert figures["emissions_within"]["100"] == emissions["landfill_avoided"]
    assert "mean" not in figures["mass"]["diverted"]
