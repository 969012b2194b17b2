"""The sample site from its sheets to its figures, against what the script knows to be true."""

from __future__ import annotations

import datetime as dt
import importlib.util
import sys
from collections import Counter
from pathlib import Path
from types import ModuleType

import pytest

from divert.convert import Workings
from divert.core.shipped import sample_folder
from divert.figures.compute import figures_for
from divert.inventory.open_site import open_site, period_of
from divert.publish.demonstration import copy_sample

TODAY = dt.date(2026, 11, 25)
LB = 0.45359237  # NIST Handbook 44, Appendix C
# the slips that a manager has to look at: file, sheet, cell
SET_ASIDE = {
    ("Crew log 2024-25.xlsx", "Nov 24", "11/31/2024"),
    ("Crew log 2024-25.xlsx", "Dec 24", "leaf bag"),
    ("Drop-offs 2025-26.xlsx", "2025 Q3", "2052-07-22"),
}
WRITTEN_TWICE = 2
ADDED_BY_HAND = 2  # "½ pail" and the school's 14 totes


@pytest.fixture(scope="module")
def truth() -> ModuleType:
    path = sample_folder() / "deliveries.py"
    spec = importlib.util.spec_from_file_location("sample_deliveries", path)
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    sys.modules["sample_deliveries"] = module
    spec.loader.exec_module(module)
    return module


@pytest.fixture(scope="module")
def workings(tmp_path_factory: pytest.TempPathFactory) -> Workings:
    folder: Path = tmp_path_factory.mktemp("site")
    copy_sample(folder)
    return open_site(folder, as_of=TODAY)


def test_only_three_slips_are_set_aside(workings: Workings) -> None:
    aside = workings.set_aside
    found = [
        (file, sheet, next(slip for *_, slip in SET_ASIDE if slip in text))
        for file, sheet, text in zip(aside["file"], aside["sheet"], aside["found"], strict=True)
    ]
    assert set(found) == SET_ASIDE
    assert len(found) == len(SET_ASIDE)


# What the made-up crew's slips ask of a manager, and nothing else of the sample does.
ASKED = {
    "no date": 1, "date in the future": 1, "unknown material": 2, "weekly habit broken": 7,
    "row repeated exactly": 2, "unit settled by site.toml": 1, "unknown source": 1,
    "usual fate not stated": 1, "required by law not stated": 1,
}  # fmt: skip


def test_the_sample_asks_what_its_slips_ask_and_nothing_else(workings: Workings) -> None:
    asked = Counter(f.code for f in workings.findings if f.level != "note" and not f.answer)
    assert dict(asked) == ASKED


def test_every_load_arrives_once(workings: Workings, truth: ModuleType) -> None:
    loads = truth.deliveries()
    intake = workings.ledger[workings.ledger["kind"] == "intake"]
    lost = 1  # the load dated 2052; the other two slips are rows of their own
    assert len(intake) == len(loads) - lost + WRITTEN_TWICE + ADDED_BY_HAND
    assert 1400 <= len(intake) <= 1600


def test_the_bakerys_weights_come_through_its_decimal_commas(
    workings: Workings, truth: ModuleType
) -> None:
    mine = [load for load in truth.deliveries() if load.source == truth.BAKERY]
    kilograms = sum(round(load.pounds * LB, 1) for load in mine if load.pounds is not None)
    rows = workings.ledger[workings.ledger["source"] == truth.BAKERY]
    weighed = rows[rows["basis"] == "weighed"]
    assert weighed["mass_kg"].sum() == pytest.approx(kilograms, abs=0.06 * len(mine))
    assert len(rows) == len(mine)


def test_gross_weights_lose_their_containers(workings: Workings, truth: ModuleType) -> None:
    in_november = [
        load for load in truth.deliveries()
        if load.day.year == 2024 and load.day.month == 11 and load.source == truth.BREWERY
    ]  # fmt: skip
    ledger = workings.ledger
    rows = ledger[(ledger["sheet"] == "Nov 24") & (ledger["source"] == truth.BREWERY)]
    pounds = sum(load.pounds for load in in_november)
    assert rows["mass_kg"].sum() == pytest.approx(pounds * LB, rel=1e-9)


def test_what_is_received_is_close_to_what_truly_came(
    workings: Workings, truth: ModuleType
) -> None:
    figures = figures_for(workings, period_of(workings, "2025", TODAY), TODAY)
    pounds = sum(load.true_pounds for load in truth.deliveries() if load.day.year == 2025)
    received = figures.mass.received
    assert received.central == pytest.approx(pounds * LB, rel=0.05)
    assert received.low < received.central < received.high


@pytest.mark.parametrize("label", ["2024-Q2", "2025-Q1", "2025-Q4", "2026-Q1", "2025", "all"])
def test_the_balance_holds_and_every_row_is_accounted_for(workings: Workings, label: str) -> None:
    figures = figures_for(workings, period_of(workings, label, TODAY), TODAY)
    rows, mass = figures.rows, figures.mass
    assert rows.seen == rows.used + rows.set_aside + rows.skipped
    parts = (mass.diverted, mass.not_claimed, mass.removed, mass.residue)
    assert mass.received.central == pytest.approx(sum(p.central for p in parts), abs=1e-3)
    assert sum(part.received.central for part in figures.by_source) == pytest.approx(
        mass.received.central, abs=1e-3
    )


def test_the_other_sheets_come_through(workings: Workings) -> None:
    figures = figures_for(workings, period_of(workings, "2025", TODAY), TODAY)
    assert figures.money.sales == pytest.approx((31 + 46 + 25) * 9)  # bags sold, 9 USD each
    assert figures.money.bags == 31 + 46 + 25
    assert figures.money.spent is not None
    assert figures.emissions.fuel.central > 0
    assert figures.diversion_rate is not None
    assert [activity.name for activity in figures.activities] == [
        "volunteer hours",
        "workshop visitors",
    ]
    assert any(d.basis == "measured density" for d in figures.densities)
    assert figures.weeks.missing == 1  # the first week of September 2025


def test_a_year_diverts_what_such_a_yard_might(workings: Workings) -> None:
    figures = figures_for(workings, period_of(workings, "2025", TODAY), TODAY)
    short_tons = figures.mass.diverted.central / (2000 * LB)
    assert 9 < short_tons < 14
