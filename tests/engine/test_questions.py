"""What conversion refuses and asks: once per name, and never in place of a number it can find."""

from __future__ import annotations

import dataclasses
import datetime as dt

import pytest
from small_site import STARTED, worked

from divert.convert import Workings
from divert.core.period import read_period
from divert.figures.compute import figures_for
from divert.site.model import Answer, Landfill, Source, Spread

DAY = dt.date(2025, 1, 10)
LOAD = {"date": DAY, "source": "North kitchen", "material": "kitchen scraps"}


def asked(workings: Workings, code: str) -> list[tuple[str, int]]:
    return [(f.name, f.rows) for f in workings.findings if f.code == code and f.level == "query"]


@pytest.mark.parametrize(
    ("row", "code"),
    [
        (LOAD, "no quantity"),
        ({**LOAD, "count": 2}, "no quantity"),
        ({**LOAD, "count": 2, "container": "drum"}, "unknown container"),
        ({**LOAD, "material": "goo", "volume_m3": 1.0}, "unknown material"),
        ({**LOAD, "mass_kg": 0.0}, "net mass zero or less"),
        ({**LOAD, "gross_kg": 3.9, "count": 2, "container": "tote"}, "net mass zero or less"),
    ],
)
def test_what_cannot_be_used_is_set_aside(row: dict[str, object], code: str) -> None:
    good = {**LOAD, "mass_kg": 20.0}
    workings = worked(good, row)
    assert workings.set_aside["code"].tolist() == [code]
    assert workings.ledger["mass_kg"].tolist() == [20.0]


def test_an_unknown_name_with_a_weight_counts_and_is_asked_about_once() -> None:
    goo = {"date": DAY, "source": "Nobody", "material": "goo", "mass_kg": 5.0, "container": "drum"}
    workings = worked(goo, goo, {**LOAD, "mass_kg": 1.0})
    assert workings.ledger["mass_kg"].sum() == 11
    assert asked(workings, "unknown material") == [("goo", 2)]
    assert asked(workings, "unknown source") == [("Nobody", 2)]
    assert asked(workings, "unknown container") == [("drum", 2)]
    assert set(workings.ledger["before"][:2]) == {"not stated"}  # so it is not claimed


def test_fill_is_asked_about_once_per_container_that_has_no_usual_fill() -> None:
    pails = [{**LOAD, "container": "pail", "count": n} for n in (1, 2, 3)]
    totes = [{**LOAD, "container": "tote", "count": 1}]
    weighed = {**LOAD, "container": "pail", "count": 1, "mass_kg": 9.0}
    assert asked(worked(*pails, *totes, weighed), "fill not recorded") == [("pail", 3)]


def test_a_missing_source_is_kept_under_its_own_name() -> None:
    workings = worked({**LOAD, "source": None, "mass_kg": 5.0}, {**LOAD, "mass_kg": 1.0})
    assert workings.ledger["source"].tolist() == ["not recorded", "North kitchen"]
    assert asked(workings, "source not recorded") == [("not recorded", 1)]


def test_a_usual_fate_that_is_no_disposal_is_asked_about_until_the_site_says() -> None:
    grain = {"date": DAY, "source": "Brewery", "material": "spent grain", "mass_kg": 5.0}
    silent = worked(grain, grain)
    assert asked(silent, "usual fate not stated") == [("spent grain", 2)]
    assert silent.ledger["before"].tolist() == ["fed to animals"] * 2
    told = worked(grain, sources=(Source("Brewery", before="landfill"),))
    assert asked(told, "usual fate not stated") == []
    assert told.ledger["before"].tolist() == ["landfill"]


def test_before_is_the_rows_then_the_sources_then_the_materials() -> None:
    sources = (Source("North kitchen", before="recycled"), Source("South kitchen"))
    rows = (
        {**LOAD, "mass_kg": 1.0, "before": "incinerator"},
        {**LOAD, "mass_kg": 1.0},
        {**LOAD, "mass_kg": 1.0, "source": "South kitchen"},
        {**LOAD, "mass_kg": 1.0, "source": "South kitchen", "material": "leaves"},
    )
    befores = worked(*rows, sources=sources).ledger["before"].tolist()
    assert befores == ["incinerator", "recycled", "landfill", "composted"]


def test_an_answer_settles_a_question_and_stays_listed() -> None:
    grain = {"date": DAY, "source": "Brewery", "material": "spent grain", "mass_kg": 5.0}
    answers = (Answer("usual fate not stated: spent grain", "the farmer takes it", "RT"),)
    (settled,) = [f for f in worked(grain, answers=answers).findings if f.level == "query"]
    assert settled.answer == "the farmer takes it (RT)"


def test_gas_capture_that_is_not_stated_is_asked_about() -> None:
    def questions(*landfills: Landfill) -> list[str]:
        workings = worked({**LOAD, "mass_kg": 5.0}, landfills=landfills)
        period = read_period("2025", as_of=dt.date(2025, 6, 1), started=STARTED)
        shown = figures_for(workings, period, dt.date(2025, 6, 1))
        return [f.code for f in shown.findings if f.code == "gas capture not stated"]

    stated = Landfill(gas_captured=Spread(0.4, 0.5, 0.6))
    assert questions(Landfill()) == ["gas capture not stated"]
    assert questions(stated) == []
    assert questions(Landfill(kind="unmanaged deep")) == []
    later = dataclasses.replace(stated, since=dt.date(2025, 2, 1))
    assert questions(Landfill(), later) == ["gas capture not stated"]


def test_residue_that_nothing_received_can_bear_stands_against_the_site() -> None:
    workings = worked({"date": DAY, "kind": "residue", "mass_kg": 5.0})
    period = read_period("2025-01", as_of=dt.date(2025, 6, 1), started=STARTED)
    shown = figures_for(workings, period, dt.date(2025, 6, 1))
    assert (shown.mass.received.central, shown.mass.residue.central) == (0, 5)
    assert shown.mass.diverted.central == -5
    assert [p.name for p in shown.by_source] == ["not recorded"]
