"""Where a rule begins and ends: each edge with its value worked out by hand."""

from __future__ import annotations

import datetime as dt

import pytest
from small_site import entries, worked

from divert.convert import Workings
from divert.core.period import read_period
from divert.figures.compute import figures_for
from divert.figures.contract import Figures
from divert.ingest.checks.corrections import corrections
from divert.site.model import Bed, Container, Material

AS_OF = dt.date(2025, 7, 5)
SCRAPS = {"source": "North kitchen", "material": "kitchen scraps"}


def figures(workings: Workings, label: str) -> Figures:
    period = read_period(label, as_of=AS_OF, started=workings.site.started)
    return figures_for(workings, period, AS_OF)


def kg(kind: str, day: str, mass: float, **more: object) -> dict[str, object]:
    return {"kind": kind, "date": day, "mass_kg": mass, **SCRAPS, **more}


def test_gross_without_a_count_loses_one_empty_container() -> None:
    """100 kg on the scale less one tote of 8 kg are 92 kg."""
    tote = Container("tote", volume_m3=0.24, tare_kg=8.0)
    row = {"date": "2025-03-01", "gross_kg": 100.0, "container": "tote", **SCRAPS}
    assert list(worked(row, containers=(tote,)).ledger["mass_kg"]) == [92.0]


@pytest.mark.parametrize(
    ("count", "net"), [(1.0, 92.0), (0.5, 92.0), (2.5, 76.0), (3.0, 76.0), (3.0000000004, 76.0)]
)
def test_a_part_of_a_container_weighs_empty_what_a_whole_one_does(count: float, net: float) -> None:
    """Two and a half totes are three on the scale: 100 kg less 3 x 8 kg are 76 kg."""
    tote = Container("tote", volume_m3=0.24, tare_kg=8.0)
    row = {"date": "2025-03-01", "gross_kg": 100.0, "count": count, "container": "tote", **SCRAPS}
    assert list(worked(row, containers=(tote,)).ledger["mass_kg"]) == [net]


def test_a_new_container_counts_from_its_first_day_on() -> None:
    """100 kg gross: less 4 kg until the last of March, less 8 kg from the first of April."""
    totes = (
        Container("tote", volume_m3=0.24, tare_kg=4.0),
        Container("tote", volume_m3=0.24, tare_kg=8.0, since=dt.date(2025, 4, 1)),
    )
    rows = [
        {"date": day, "gross_kg": 100.0, "count": 1.0, "container": "tote", **SCRAPS}
        for day in ("2025-03-31", "2025-04-01", "2025-04-02")
    ]
    assert list(worked(*rows, containers=totes).ledger["mass_kg"]) == [96.0, 92.0, 92.0]


def test_residue_looks_twelve_months_back_and_no_further() -> None:
    """Residue of January 2025 is borne by February 2024 to January 2025: not by January 2024."""
    rows = [
        kg("intake", "2024-01-31", 100.0, source="North kitchen"),
        kg("intake", "2024-02-01", 100.0, source="Brewery"),
        kg("intake", "2025-01-02", 300.0, source="South kitchen"),
        {"kind": "residue", "date": "2025-01-20", "mass_kg": 8.0},
    ]
    charges = worked(*rows).charges
    borne = charges.groupby("source", observed=True)["mass_kg"].sum().to_dict()
    assert borne == {"Brewery": pytest.approx(2.0), "South kitchen": pytest.approx(6.0)}


def test_sales_in_another_currency_are_not_the_sites() -> None:
    sale = {"kind": "sale", "date": "2025-03-04", "material": "castings", "count": 2.0}
    rows = [
        kg("intake", "2025-03-01", 10.0),
        {**sale, "amount": 50.0, "currency": "USD"},
        {**sale, "amount": 30.0, "currency": "CAD"},
        {**sale, "amount": 5.0},
    ]
    money = figures(worked(*rows), "2025-03").money
    assert (money.sales, money.currency) == (55.0, "USD")


def test_the_first_week_of_a_period_counts() -> None:
    """January 2025 began on a Wednesday: its first week is that of Monday, 30 December 2024."""
    weeks = figures(worked(kg("intake", "2025-01-02", 10.0)), "2025-01").weeks
    assert (weeks.in_period, weeks.logged, weeks.missing) == (5, 1, 4)
    assert weeks.missing_weeks == tuple(dt.date(2025, 1, day) for day in (6, 13, 20, 27))


@pytest.mark.parametrize(("product", "asked"), [("castings", ["castings-yield"]), ("compost", [])])
def test_each_product_has_a_yield_of_its_own(product: str, asked: list[str]) -> None:
    """55 kg out of 100 kg: ordinary for compost (to 0.6), to be asked about for castings (0.5)."""
    made = Material(product, like=product)
    rows = [
        kg("intake", "2024-08-01", 100.0),
        {"kind": "harvest", "date": "2025-06-01", "material": product, "mass_kg": 55.0},
    ]
    workings = worked(
        *rows,
        materials=(Material("kitchen scraps", like="food-scraps", before="landfill"), made),
        beds=(Bed("Bed 1", area_m2=2.0),),
    )
    found = figures(workings, "2025-06").findings
    assert [f.name for f in found if f.name.endswith("-yield")] == asked


def _corrected(*days: str) -> tuple[int, list[str]]:
    rows = [
        kg("intake", day, -12.0 if n == len(days) - 1 else 12.0, found=day)
        for n, day in enumerate(days)
    ]
    left, skipped, _aside, findings = corrections(entries(*rows))
    return len(left), [str(row[-1])[:10] for row in skipped] or [f.code for f in findings]


def test_a_correction_cancels_an_entry_of_its_day_or_before() -> None:
    assert _corrected("2025-03-04", "2025-03-05") == (0, ["2025-03-05", "2025-03-04"])
    assert _corrected("2025-03-05", "2025-03-05") == (0, ["2025-03-05", "2025-03-05"])


def test_a_correction_cancels_no_entry_of_a_later_day() -> None:
    assert _corrected("2025-03-06", "2025-03-05") == (1, ["correction matches no entry"])


def test_a_correction_takes_the_latest_of_those_before_it() -> None:
    assert _corrected("2025-03-01", "2025-03-03", "2025-03-09", "2025-03-04") == (
        2, ["2025-03-04", "2025-03-03"],
    )  # fmt: skip
