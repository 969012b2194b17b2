"""Every kind of entry in every way of giving its amount: what the formulas give is what is printed."""

from __future__ import annotations

import datetime as dt
import itertools
import random
from pathlib import Path

import pytest
from made_up import AS_OF, OWN, reading, site
from recalculated import sheets
from rounds import rounds

from divert.convert import Workings, work_out
from divert.factors import load_factors
from divert.figures.as_json import to_json
from divert.figures.compute import figures_for
from divert.inventory.open_site import open_site, period_of
from divert.publish.demonstration import copy_sample
from divert.recheck.figures import Evidence
from divert.recheck.inputs import inputs_of
from divert.workbook.book import evidence_workbook

MATERIALS = {
    "intake": ("kitchen scraps", "spent grain", "office paper"),
    "harvest": ("castings", "compost"), "sale": ("castings",), "moved": ("castings",),
    "residue": (None,), "disposed": (None,), "removed": (None,), "rejected": ("kitchen scraps",),
    "weigh-in": ("spent grain",),
}  # fmt: skip
# A pail is 18.9 L and from 2025 on 22.7 L, empty 0.9 kg and then 1.1 kg.
AMOUNTS = (
    {"mass_kg": 61.5}, {"volume_m3": 0.35}, {"mass_kg": 48.0, "volume_m3": 0.11},
    {"count": 3.0, "container": "pail"}, {"count": 2.0, "container": "pail", "mass_kg": 19.0},
    {"gross_kg": 31.0, "count": 1.5, "container": "pail"}, {"gross_kg": 20.0},
)  # fmt: skip


def entries(seed: int) -> list[dict[str, object]]:
    pick = random.Random(seed)
    out: list[dict[str, object]] = []
    for number, ((kind, materials), amount) in enumerate(
        itertools.product(MATERIALS.items(), AMOUNTS)
    ):
        for day in (dt.date(2024, 10, 3), dt.date(2025, 5, 20)):
            source = pick.choice((OWN, None)) if kind in ("intake", "removed", "rejected") else None
            out.append({
                "kind": kind, "date": day + dt.timedelta(days=pick.randrange(60)), "file": "log.xlsx",
                "sheet": "S", "row": 2 * number + 2, "material": pick.choice(materials),
                "source": source, **amount,
            })  # fmt: skip
    return out


def figures_given(found: Workings, label: str, as_of: dt.date, audience: str) -> int:
    """Assert that no figure's formula gives another value than stands beside it; return how many do."""
    period = period_of(found, label, as_of)
    figures = figures_for(found, period, as_of)
    inputs = inputs_of(sheets(evidence_workbook(found, {"period": figures}, audience)))
    evidence = Evidence(inputs, {"period": to_json(figures)})
    assert inputs.shown_otherwise == ()
    worked_out = 0
    for of_set, path in inputs.standing:
        for whole in (f"{path}.central", path):
            one = evidence.find(of_set, whole)
            assert one is None or one.shown, (path, one, inputs.standing[of_set, path])
            worked_out += one is not None and one.recomputed
    return worked_out


@pytest.mark.parametrize("seed", range(rounds(2, 8)))
@pytest.mark.parametrize(("label", "audience"), [("2025-Q2", "board"), ("2024", "grant")])
def test_whatever_the_entry_and_however_its_amount_is_given(
    seed: int, label: str, audience: str
) -> None:
    pick = random.Random(seed)
    rows = entries(seed)
    some = rows if seed == 0 else [row for row in rows if pick.random() < 0.5]
    found = work_out(site(), reading(some), load_factors())
    assert figures_given(found, label, AS_OF, audience) > 100


@pytest.mark.parametrize(
    ("label", "audience"), rounds([("2025", "board")], [("2025", "board"), ("all", "grant")])
)
def test_the_sample_site(label: str, audience: str, tmp_path: Path) -> None:
    copy_sample(tmp_path)
    day = dt.date(2026, 11, 25)
    assert figures_given(open_site(tmp_path, as_of=day), label, day, audience) > 500
