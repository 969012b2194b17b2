"""Keys of printed figures: sums, differences, shares and quotients, worked by hand."""

from __future__ import annotations

import pytest

from divert.figures.figure_sum import figures_in, value_of

SETS = {
    "period": {"mass": {"diverted": {"central": 30.0}}, "by_month": [{"kg": 4.0}, {"kg": 6.5}]},
    "total": {"mass": {"diverted": {"central": 80.0}}, "not_claimed": {"fed to animals": 2.0}},
}


@pytest.mark.parametrize(
    ("key", "value"),
    [
        ("period:mass.diverted.central", 30.0),
        ("period:by_month[0].kg+period:by_month[1].kg", 10.5),
        ("total:mass.diverted.central+-period:mass.diverted.central", 50.0),
        ("0.4*total:mass.diverted.central", 32.0),
        ("period:by_month[0].kg/total:mass.diverted.central", 0.05),
        ("total:not_claimed.fed to animals", 2.0),
        ("earlier:mass.diverted.central", None),
        ("period:mass.residue.central", None),
    ],
)
def test_a_key_is_worked_out(key: str, value: float | None) -> None:
    assert value_of(key, SETS) == (None if value is None else pytest.approx(value, rel=1e-12))


def test_a_key_names_every_figure_it_speaks_of() -> None:
    assert figures_in("0.4*total:a.b+-period:c/period:d[1].e") == (
        ("total", "a.b"), ("period", "c"), ("period", "d[1].e"),
    )  # fmt: skip
    with pytest.raises(ValueError, match="names no set"):
        figures_in("mass.diverted")
