import pytest

from divert.core.findings import CannotRun
from divert.figures.figure_path import find, get, leaves

RANGE = {"central": 10.0, "low": 8.0, "high": 13.0}
FIGURES = {
    "mass": {"received": RANGE, "diverted": RANGE},
    "not_claimed": {"fed to animals": RANGE},
    "by_material": [
        {"material": "kitchen scraps", "received": RANGE, "diverted": RANGE},
        {"material": "leaves [raked]. mixed", "received": RANGE, "diverted": RANGE},
    ],
    "by_month": [
        {"month": "2025-04", "diverted": {"central": 1.0, "low": 1.0, "high": 1.0}},
        {"month": "2025-05", "diverted": {"central": 2.0, "low": 1.0, "high": 3.0}},
    ],
    "targets": [{"year": 2025, "target": 9000.0}],
    "emissions_within": {"20": RANGE, "100": RANGE},
    "factors": [{"key": "doc.food", "value": 0.15}],
    "densities": [{"material": "straw", "value": 1.0}, {"material": "straw", "value": 2.0}],
}


@pytest.mark.parametrize(
    ("typed", "path", "value"),
    [
        ("mass.diverted.central", "mass.diverted.central", 10.0),
        ("by_month[2025-05].diverted.central", "by_month[1].diverted.central", 2.0),
        ("by_month[0].diverted.high", "by_month[0].diverted.high", 1.0),
        ("by_material[Kitchen Scrap].diverted.low", "by_material[0].diverted.low", 8.0),
        (
            "by_material[leaves [raked]. mixed].diverted.low",
            "by_material[1].diverted.low",
            8.0,
        ),
        ("targets[2025].target", "targets[0].target", 9000.0),
        ("emissions_within[20].high", "emissions_within.20.high", 13.0),
        ("emissions_within.100.high", "emissions_within.100.high", 13.0),
        ("factors[doc.food].value", "factors[0].value", 0.15),
        ("densities[1].value", "densities[1].value", 2.0),
        ("not_claimed.fed to animals.high", "not_claimed.fed to animals.high", 13.0),
    ],
)
def test_a_figure_is_found_by_place_and_by_name(typed, path, value):
    figure = find(FIGURES, typed)
    assert (figure.path, figure.value) == (path, value)


def test_the_spoken_path_leads_back_to_the_same_figure():
    for leaf in leaves(FIGURES):
        assert find(FIGURES, leaf.spoken).path == leaf.path
        assert get(FIGURES, leaf.path) == leaf.value


@pytest.mark.parametrize(
    ("typed", "near"),
    [
        ("mass.divrted", "mass.diverted"),
        ("diverted", "mass.diverted"),
        ("by_material[kitchen scarps].diverted", "by_material[kitchen scraps].diverted"),
    ],
)
def test_an_unknown_figure_names_the_nearest(typed, near):
    with pytest.raises(CannotRun, match="Did you mean") as stop:
        find(FIGURES, typed)
    assert near in str(stop.value)


def test_a_name_that_is_a_number_does_not_take_another_ones_place():
    figures = {"by_source": [{"source": "1", "kg": 5.0}, {"source": "7", "kg": 6.0}]}
    assert find(figures, "by_source[1].kg").value == 6.0
    assert find(figures, "by_source[7].kg").value == 6.0
    assert [leaf.spoken for leaf in leaves(figures)] == ["by_source[0].kg", "by_source[7].kg"]


def test_two_elements_of_one_name_are_told_apart_by_place_only():
    assert find(FIGURES, "densities[1].value").spoken == "densities[1].value"
    with pytest.raises(CannotRun):
        find(FIGURES, "densities[straw].value")
