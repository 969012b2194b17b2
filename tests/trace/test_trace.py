"""Every figure walks back to rows that add up to it, to densities and to sources."""

import json
import math
import re

import pytest
from made_up import AS_OF, OWN, SITE, workings

from divert.core.findings import CannotRun
from divert.core.period import read_period
from divert.figures.as_json import to_json
from divert.figures.compute import figures_for
from divert.figures.figure_path import is_range, leaves
from divert.trace import trace, trace_json, trace_lines

PERIOD = read_period("2025-Q2", as_of=AS_OF, started=SITE.started)
SCHOOL = "Quillmarsh School"


def walked(figure, sponsor=None):
    return trace(workings(), figure, PERIOD, AS_OF, sponsor)


# A share and a net are sums with signs; a count counts its rows; these add up like any mass.
ADD_UP = [
    "mass.received", "mass.diverted", "mass.removed", "mass.residue", "mass.not_claimed",
    "not_claimed[fed to animals]", "by_material[kitchen scraps].diverted",
    f"by_source[{OWN}].received", "by_month[2025-04].diverted",
    "by_month[2025-05].same_month_last_year", "emissions.landfill_avoided", "emissions.process",
    "emissions.fuel", "emissions.net_avoided", "emissions_within.20", "sensitivity.landfill_avoided",
    "methane_by_year[2030].kg_ch4", "screening[0].landfill_avoided", "screening[1].ours",
    "harvest[0].mass_kg", "harvest[0].volume_m3", "yield.fed", "yield.share", "basis.weighed",
    "diversion_rate.rate", "activities[volunteer hours].amount", "money.sales", "money.spent",
    "money.disposal_fee_avoided", "money.spent_per_tonne", "previous.diverted",
    "same_period_last_year.diverted", "cumulative.diverted", "targets[2025].diverted",
    "by_quarter[2025-Q1].weighed_kg", "history[0].diverted", "moved", "rejected",
    "beds[Bed 1].feed_kg_per_m2_week", "densities[kitchen scraps].value", "rows.used",
    "rows.set_aside", "rows.skipped", "rows.seen", "diverted_by_before.incinerator",
]  # fmt: skip


@pytest.mark.parametrize("figure", ADD_UP)
def test_the_rows_of_a_figure_add_up_to_it(figure):
    found = walked(figure)
    assert found.rows
    assert math.isclose(sum(r.amount for r in found.rows), found.value, rel_tol=1e-9)
    sizes = [abs(row.amount) for row in found.rows]
    assert sizes == sorted(sizes, reverse=True)
    json.dumps(trace_json(found), allow_nan=False)
    assert all(isinstance(str(line), str) for line in trace_lines(found))


@pytest.mark.parametrize(
    "figure",
    ["supplied.share", "supplied.diverted", "supplied.net_avoided", "supported.diverted",
     "supported.net_avoided", "supported.share", "supplied.by_month[2025-06].received"],
)  # fmt: skip
def test_a_sponsors_figures_add_up_too(figure):
    found = walked(figure, SCHOOL)
    assert math.isclose(sum(r.amount for r in found.rows), found.value, rel_tol=1e-9)
    assert found.sponsor == SCHOOL


def test_every_figure_can_be_walked_or_says_why_there_is_nothing_to_walk():
    figures = to_json(figures_for(workings(), PERIOD, AS_OF))
    kinds = {}
    for leaf in leaves({k: v for k, v in figures.items() if k != "findings"}):
        first, last = re.split(r"[.\[]", leaf.path)[0], leaf.path.rpartition(".")[2]
        kinds.setdefault((first, last), leaf.spoken)
    for spoken in kinds.values():
        assert str(walked(spoken).how)


def test_rows_have_their_place_words_and_basis():
    found = walked("by_material[kitchen scraps].received")
    first = found.rows[0]
    assert first.file and first.row > 1 and first.column == "F" and first.found
    assert {row.material for row in found.rows} == {"kitchen scraps"}
    assert first.basis == "measured density" and first.factor.startswith("measured.")


def test_densities_come_with_what_rests_on_them_and_emissions_with_their_sources():
    found = walked("emissions.landfill_avoided")
    keys = {one.key: one for one in found.factors}
    # IPCC 2006 Guidelines, Volume 5, Table 2.4: DOC of food waste 0.15.
    assert keys["doc.food"].value == 0.15 and "IPCC 2006" in keys["doc.food"].source
    densities = [one for one in found.factors if one.amount is not None]
    assert densities and densities[0].amount == max(one.amount for one in densities)


def test_the_end_of_a_range_says_that_it_was_drawn():
    found = walked("mass.diverted.high")
    assert "draws" in str(found.how)
    assert found.value == found.high > walked("mass.diverted").value
    assert is_range({"central": 0.0, "low": found.low, "high": found.high})


def test_charges_name_the_row_they_come_from():
    found = walked("mass.residue")
    assert {row.what for row in found.rows} == {"residue, charged"}
    assert {row.sheet for row in found.rows} == {"Out"}


@pytest.mark.parametrize(
    ("figure", "says"),
    [
        ("mass.divrted", "Did you mean mass.diverted"),
        ("by_material[kitchen scarps].diverted", r"by_material\[kitchen scraps\].diverted"),
        ("mass", "holds several figures. Name one: mass.received"),
        ("site", "is not a number"),
        ("supplied.diverted", "name one with --sponsor"),
        ("", "holds several figures|There is no figure"),
    ],
)
def test_what_cannot_be_walked_is_one_clear_line(figure, says):
    with pytest.raises(CannotRun, match=says):
        walked(figure)


def test_the_stock_and_the_mix_name_the_numbers_they_rest_on():
    (lost,) = (one for one in walked("stock.kg").factors if one.key == "beds.solids_lost")
    assert lost.value == 0.5 and "ommon practice" in lost.source
    mix = figures_for(workings(), PERIOD, AS_OF).feed_mix
    path = next(f"feed_mix.months[{n}].moisture" for n, m in enumerate(mix.months) if m.moisture)
    keys = {one.key: one for one in walked(path).factors}
    # On-Farm Composting Handbook, NRAES-54 (1992), Table A.1, food waste: 69 % moisture (from memory).
    assert keys["moisture of kitchen scraps"].value == 0.69
    assert "NRAES-54" in keys["moisture of kitchen scraps"].source


def test_a_small_share_is_not_printed_as_a_range_of_one_point():
    found = figures_for(workings(), PERIOD, AS_OF).contamination
    place = next(n for n, one in enumerate(found) if one.removed_kg > 0)
    first, *_ = (str(line) for line in trace_lines(walked(f"contamination[{place}].share")))
    low, high = re.search(r"\((\S+ %) – (\S+ %)\)", first.replace("\u202f", " ")).groups()
    assert low != high
