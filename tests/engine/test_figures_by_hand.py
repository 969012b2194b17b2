"""Small rules of the conversion and the figures, each with its value worked out by hand."""

from __future__ import annotations

import datetime as dt
from typing import get_args

import numpy as np
import pandas as pd
import pytest
from small_site import STARTED, entries, reading, site, worked

from divert.convert import Workings, work_out
from divert.convert.by_sheet import sheets_with_refusals
from divert.convert.density import t_quantile
from divert.convert.idle_answers import idle_answers
from divert.core.findings import Finding, Level, Where
from divert.core.period import read_period
from divert.core.reading import SheetTaken
from divert.core.words import Text
from divert.factors import load_factors
from divert.figures.absent import absent_from
from divert.figures.as_json import to_json
from divert.figures.compute import figures_for
from divert.figures.contract import Figures
from divert.figures.emissions import Drawn
from divert.figures.figure_path import find, nearest
from divert.site.model import Answer, Landfill, Material, Spread

AS_OF = dt.date(2025, 12, 31)
NORTH, SOUTH = "North kitchen", "South kitchen"
SCRAPS = "kitchen scraps"


def shown(workings: Workings, label: str = "2025", sponsor: str | None = None) -> Figures:
    return figures_for(workings, read_period(label, as_of=AS_OF, started=STARTED), AS_OF, sponsor)


def load(
    month: int, day: int, kg: float | None, source: str = NORTH, **more: object
) -> dict[str, object]:
    said = {"date": dt.date(2025, month, day), "source": source, "material": SCRAPS, **more}
    return said if kg is None else {**said, "mass_kg": kg}


def asked(workings: Workings, code: str) -> list[Finding]:
    return [f for f in shown(workings).findings if f.code == code]


def test_the_expansion_of_students_t_at_one_standard_deviation() -> None:
    """Abramowitz and Stegun 26.7.5 at x = 1: g = 1/2, 24/96, 24/384 and -528/92160."""
    one = 0.8413447460685429  # of a normal lies below 1
    assert t_quantile(one, 1) == pytest.approx(1 + 0.5 + 0.25 + 0.0625 - 528 / 92160, rel=1e-9)
    by_two = 1 + 0.5 / 2 + 0.25 / 4 + 0.0625 / 8 - 528 / 92160 / 16
    assert t_quantile(one, 2) == pytest.approx(by_two, rel=1e-9)
    # At x = 1 no power tells itself apart; at x = 2: (8 + 2)/4, (160 + 128 + 6)/96,
    # (384 + 608 + 136 - 30)/384, (40,448 + 99,328 + 47,424 - 15,360 - 1,890)/92,160.
    two = 0.9772498680518208  # of a normal lies below 2
    assert t_quantile(two, 1) == pytest.approx(
        2 + 2.5 + 3.0625 + 2.859375 + 169950 / 92160, rel=1e-9
    )


def test_what_was_picked_out_on_a_sheet_of_its_own_is_taken_off_the_months_intake() -> None:
    """10 kg removed in March come off North's 100 kg of March: 90 kg are diverted, of 150 kg 140."""
    removed = {"kind": "removed", "date": dt.date(2025, 3, 9), "source": NORTH, "mass_kg": 10.0}
    workings = worked(load(3, 3, 100.0), load(3, 4, 50.0, SOUTH), removed)
    (line,) = workings.charges.to_dict("records")
    assert (line["source"], line["what"], line["mass_kg"]) == (NORTH, "removed", 10.0)
    mass = shown(workings).mass
    assert (mass.removed.central, mass.residue.central) == (10.0, 0.0)
    assert mass.diverted.central == pytest.approx(140.0)


def test_residue_of_a_site_that_received_nothing_stands_against_the_site() -> None:
    left = {"kind": "residue", "date": dt.date(2025, 3, 9), "mass_kg": 4.0}
    (line,) = worked(left).charges.to_dict("records")
    kept = {
        name: line[name] for name in ("source", "what", "before", "decay_class", "share", "mass_kg")
    }
    assert kept == {
        "source": "not recorded", "what": "residue", "before": "landfill", "decay_class": "",
        "share": 1.0, "mass_kg": 4.0,
    }  # fmt: skip


def test_entries_that_wait_rest_on_the_densities_of_those_that_count() -> None:
    """Three weigh-ins of 0.1 m³ and 60 kg: 600 kg/m³. A pail of 0.02 m³ that waits is 12 kg."""
    weighed = entries(*(load(3, n, 60.0, container="tote", count=1.0, fill=1.0) for n in (3, 4, 5)))
    waiting = reading(load(3, 6, None, container="pail", count=1.0, fill=1.0))
    found = work_out(site(), waiting, load_factors(), weighed).ledger
    assert found["mass_kg"].tolist() == [pytest.approx(12.0)]
    assert found["basis"].tolist() == ["measured density"]


def test_a_density_far_out_is_asked_about_whatever_came_before_it() -> None:
    """Spent grain of 900 kg in 1 m³ is near what is published; flowers of 900 kg are not."""
    rows = [
        load(3, n, 900.0, material=name, volume_m3=1.0, fill=1.0)
        for name in ("spent grain", "flowers") for n in (3, 4, 5)
    ]  # fmt: skip
    found = asked(worked(*rows), "measured density outside the published range")
    assert "flowers" in {f.name.split(",")[0] for f in found}
    assert all(f.rows == 3 and f.level == "query" for f in found)


def test_a_state_is_asked_about_above_a_tenth_of_the_mass_and_not_at_it() -> None:
    """Leaves have no density but by their state; 10 kg of 100 are a tenth."""
    leaves = Material("leaves", like="leaves", before="composted")
    here = (Material(SCRAPS, like="food-scraps", before="landfill"), leaves)

    def found(rest_kg: float) -> list[Finding]:
        loads = work_out(
            site(materials=here), reading(load(3, 3, None, material="leaves", volume_m3=1.0)),
            load_factors(),
        ).ledger["mass_kg"].sum()  # fmt: skip
        rows = [load(3, 3, None, material="leaves", volume_m3=1.0), load(3, 4, loads * rest_kg)]
        return asked(worked(*rows, materials=here), "state not recorded")

    assert len(found(8.9)) == 1 and found(9.0) == [] == found(9.1)


def test_a_name_that_is_nearly_known_is_offered_what_it_may_be() -> None:
    (found,) = asked(worked(load(3, 3, 5.0, "North kitchn")), "unknown source")
    assert found.hint is not None and dict(found.hint.values) == {"near": NORTH}
    (far,) = asked(worked(load(3, 3, 5.0, "Zanzibar")), "unknown source")
    assert far.hint is not None and not far.hint.values


@pytest.mark.parametrize(
    ("landfill", "asks"),
    [
        (Landfill(), True),
        (
            Landfill(gas_by_class=(("food", Spread(0.3, 0.4, 0.5)),)),
            True,
        ),  # the others are not told
        (Landfill(gas_captured=Spread(0.5, 0.5, 0.5)), False),
        (Landfill(kind="unmanaged deep"), False),  # nobody captures gas there
    ],
)
def test_gas_capture_is_asked_about_where_it_is_not_told_for_every_class(
    landfill: Landfill, asks: bool
) -> None:
    found = asked(worked(load(3, 3, 100.0), landfills=(landfill,)), "gas capture not stated")
    assert [f.level for f in found] == ["query"] * asks


def test_a_stated_capture_stands_among_the_factors_with_where_it_is_written() -> None:
    since = Landfill(gas_captured=Spread(0.2, 0.3, 0.4), since=dt.date(2025, 6, 1))
    first = Landfill(gas_captured=Spread(0.5, 0.5, 0.5))
    rows = (load(3, 3, 100.0), load(7, 3, 100.0))
    found = {f.key: f for f in shown(worked(*rows, landfills=(first, since))).factors}
    assert found["gas_captured.food"].value == 0.5
    later = found["gas_captured.food.2025-06-01"]
    assert (later.low, later.value, later.high) == (0.2, 0.3, 0.4)
    assert later.source == "site.toml"
    assert all(f.source and f.standing for f in found.values())


def test_each_load_decays_by_the_landfill_of_its_day() -> None:
    """All gas is captured until the last of April: the methane is that of May's load alone."""
    landfills = (
        Landfill(gas_captured=Spread(1.0, 1.0, 1.0)),
        Landfill(gas_captured=Spread(0.0, 0.0, 0.0), since=dt.date(2025, 5, 1)),
    )
    both = shown(worked(load(3, 3, 1000.0), load(5, 5, 1000.0), landfills=landfills))
    alone = shown(worked(load(5, 5, 1000.0), landfills=(replace_since(landfills[1]),)))
    ours = {m.year: m.kg_ch4 for m in both.methane_by_year}
    theirs = {m.year: m.kg_ch4 for m in alone.methane_by_year}
    assert ours == pytest.approx(theirs) and sum(ours.values()) > 0


def replace_since(landfill: Landfill) -> Landfill:
    return Landfill(gas_captured=landfill.gas_captured)


def test_a_sponsors_total_runs_from_its_own_first_load() -> None:
    """North first came in February: 10 + 20 kg since then; South's January load is not its own."""
    rows = [load(1, 5, 40.0, SOUTH), load(2, 3, 10.0), load(11, 3, 20.0)]
    own = shown(worked(*rows), "2025-11", "North School").supplied
    assert own is not None and own.cumulative is not None
    assert own.cumulative.since == dt.date(2025, 2, 1)
    assert own.cumulative.diverted.central == pytest.approx(30.0)
    nothing = shown(worked(load(1, 5, 40.0, SOUTH)), "2025-11", "North School").supplied
    assert nothing is not None and nothing.cumulative is None


def test_only_what_was_moved_in_the_period_is_listed() -> None:
    moved = [
        {**load(month, 3, kg), "kind": "moved"} for month, kg in ((2, 7.0), (3, 5.0), (4, 9.0))
    ]
    found = shown(worked(load(3, 3, 10.0), *moved), "2025-03")
    assert found.moved.central == 5.0 and found.mass.received.central == 10.0


def test_of_what_nothing_was_picked_out_none_was() -> None:
    (found,) = shown(worked(load(3, 3, 10.0))).contamination
    assert (found.received_kg, found.removed_kg) == (10.0, 0.0)
    assert (found.share.central, found.share.low, found.share.high) == (0.0, 0.0, 0.0)


def test_no_sale_is_no_sales_and_not_none_of_money() -> None:
    bags = {"kind": "sale", "date": dt.date(2025, 3, 4), "material": "castings", "count": 3.0}
    assert shown(worked(load(3, 3, 10.0))).money.sales is None
    found = shown(worked(load(3, 3, 10.0), bags)).money
    assert (found.sales, found.bags) == (None, 3.0)


def test_a_quarter_says_how_much_of_what_came_was_weighed() -> None:
    """10 kg on the scale; 0.1 m³ of flowers at 100 kg/m³ are 10 kg more, and were not weighed."""
    flowers = {**load(3, 4, None), "material": "flowers", "volume_m3": 0.1}
    first, *_ = shown(worked(load(3, 3, 10.0), flowers), "2025").by_quarter[-4:]
    assert first.received.central == pytest.approx(20.0)
    assert first.weighed_kg == pytest.approx(10.0)


def test_a_permit_by_volume_is_a_mass_of_compost() -> None:
    factors = load_factors()
    compost = factors.density("compost")
    assert compost is not None
    found = shown(worked(load(3, 3, 10.0), permit_limit_m3=10.0)).stock
    assert found is not None and found.limit_kg == pytest.approx(10 * compost.value)


def test_a_figures_path_may_begin_as_in_jsonpath() -> None:
    figures = to_json(shown(worked(load(3, 3, 10.0))))
    assert (
        find(figures, "$.mass.diverted.central").value
        == find(figures, "mass.diverted.central").value
    )


def test_a_figure_that_cannot_be_negative_is_not_drawn_below_nothing() -> None:
    """The 5 % of draws at -1 pull the low end below zero, where only a signed figure may stand."""
    drawn = Drawn(1.0, np.array([-1.0] * 1000 + [2.0] * 9000))
    assert drawn.range().low == 0.0 and drawn.range(signed=True).low == -1.0
    assert drawn.range().high == 2.0 and drawn.range().mean == pytest.approx(1.7)


def test_what_is_absent_keeps_its_days_and_comes_by_mass() -> None:
    def gone(name: str, kg: float | None, *days: dt.date) -> Finding:
        return Finding(
            "refused", "file gone", Text("gone"), Where(f"{name}.csv"), name=name, blocks=True,
            mass_kg=kg, days=(days[0], days[1]) if days else None,
        )  # fmt: skip

    march = (dt.date(2025, 3, 1), dt.date(2025, 3, 31))
    late = (dt.date(2025, 4, 1), dt.date(2025, 4, 30))
    found = absent_from(
        [gone("light", 5.0, *march), gone("unknown", None), gone("heavy", 9.0, *march), gone("late", 7.0, *late)],
        *march,
    )  # fmt: skip
    assert [(a.file, a.start, a.end, a.mass_kg) for a in found] == [
        ("heavy.csv", *march, 9.0), ("light.csv", *march, 5.0), ("unknown.csv", None, None, None),
    ]  # fmt: skip


def test_refused_rows_are_taken_off_the_table_they_lie_in() -> None:
    """One sheet, tables from rows 1 and 10 with 2 and 3 used: rows 3, 12 and 13 were refused."""
    first = SheetTaken("log.xlsx", "Jan", "intake", 1, (), 2 + 0, 2, 0, 0)
    second = SheetTaken("log.xlsx", "Jan", "intake", 10, (), 3 + 1, 3, 1, 0)
    other = SheetTaken("log.xlsx", "Feb", "intake", 1, (), 4 + 0, 4, 0, 0)
    refused = pd.DataFrame({"file": "log.xlsx", "sheet": "Jan", "row": [3, 12, 13]})
    found = sheets_with_refusals((first, second, other), refused)
    assert [(t.used, t.set_aside) for t in found] == [(1, 1), (1, 3), (4, 0)]


def test_findings_are_of_known_levels() -> None:
    rows = [load(3, 3, 100.0), load(3, 4, None, container="no such box", count=1.0)]
    assert {f.level for f in shown(worked(*rows)).findings} <= set(get_args(Level))


def test_residue_of_a_material_that_never_came_keeps_its_class() -> None:
    left = {"kind": "residue", "date": dt.date(2025, 3, 9), "mass_kg": 4.0, "material": SCRAPS}
    (line,) = worked(left).charges.to_dict("records")
    assert (line["material"], line["decay_class"]) == (SCRAPS, "food")


def test_a_density_in_use_stands_between_the_ends_that_are_published() -> None:
    workings = worked(load(3, 3, None, volume_m3=1.0))
    (density,) = workings.densities
    assert density.basis == "published density" and density.weigh_ins == 0
    assert (density.published_low, density.published_high) == (density.low, density.high)
    assert density.more_to_halve == 3  # loads that would make it the site's own


def test_no_question_is_offered_as_a_figure() -> None:
    figures = to_json(shown(worked(load(3, 3, 5.0, "Zanzibar"))))
    assert figures["findings"]
    assert [name for name in nearest(figures, "findings[0].rows") if "finding" in name] == []


def test_a_pile_that_was_never_hot_has_no_run() -> None:
    row = {"kind": "process", "date": dt.date(2025, 5, 1), "name": "Pile A", "amount": 130.9,
           "unit": "°F"}  # fmt: skip
    (pile,) = shown(worked(load(1, 1, 5.0), row)).process_log
    assert (pile.days, pile.start, pile.end, pile.entries) == (0, None, None, 1)


@pytest.mark.parametrize(
    ("about", "idle"),
    [
        ("log.csv!Jan!F14", True),  # a cell that no finding is about
        ("unknown source: Zanzibar", True),  # would be asked in every reading
        ("file gone: log.csv!Jan", False),  # may be asked again, once the file goes
        ("what we said in May", False),
    ],
)
def test_an_answer_is_idle_where_its_question_would_be_there_by_now(about: str, idle: bool) -> None:
    answer = Answer(about, "asked the crew", "RT", dt.date(2025, 6, 1))
    assert len(idle_answers([answer], [])) == idle


def test_a_density_is_asked_about_also_after_one_that_was_never_measured() -> None:
    """Scraps by volume alone, then three loads of flowers of 900 kg/m³."""
    rows = [load(3, 1, None, volume_m3=1.0)]
    rows += [load(3, n, 900.0, material="flowers", volume_m3=1.0, fill=1.0) for n in (3, 4, 5)]
    (found,) = asked(worked(*rows), "measured density outside the published range")
    assert found.name.startswith("flowers") and found.rows == 3


def test_three_figures_are_offered_and_no_more() -> None:
    assert len(nearest(to_json(shown(worked(load(3, 3, 5.0)))), "diverted")) == 3
