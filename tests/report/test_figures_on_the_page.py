"""Every figure on a page is one of the figures, after rounding."""

import re
from html import unescape

import cases
import pytest

from divert.figure_path import get
from divert.figures import to_json
from divert.report.printed import MINUS, THIN
from divert.report.scales import FACTOR


def _number(text: str) -> float:
    return float(text.replace(",", "").replace(MINUS, "-").replace(THIN, ""))


@pytest.mark.parametrize("case", cases.CASES)
def test_marked_figures_are_found_in_the_figures(case: str) -> None:
    figures = cases.CASES[case]()
    page, printed = cases.page_of(figures)
    json = to_json(figures)
    scales = {(p.key, p.text): p for p in printed}
    found = re.findall(
        r'<data class="figure" value="([^"]*)" data-key="([^"]*)">([^<]*)</data>', page
    )
    assert len(found) >= 20 or case == "nothing_this_quarter"
    for value, key, text in found:
        one = scales[unescape(key), text]
        paths = [term.split(":", 1)[1] for term in unescape(key).split("+")]
        true = sum(get(json, path) for path in paths)
        assert float(value) == pytest.approx(true, rel=1e-9, abs=1e-12)
        # Parts of a sum may stand up to one rounding unit off their own nearest.
        reach = (1.0 if one.group else 0.5) * one.quantum + 1e-6
        assert abs(_number(text) - true / FACTOR[one.unit]) <= reach


def test_parts_add_up_on_the_page() -> None:
    _, printed = cases.page_of(cases.both())
    by_key = {p.key: _number(p.text) for p in printed}
    months = [by_key[f"period:supplied.by_month[{i}].diverted.central"] for i in range(3)]
    assert sum(months) == by_key["period:supplied.diverted.central"]
    materials = [v for k, v in by_key.items() if k.startswith("period:supplied.by_material")]
    assert sum(materials) == by_key["period:supplied.diverted.central"]
    balance = ("diverted", "mass.not_claimed", "mass.thrown_away")
    assert (
        sum(by_key[f"period:supplied.{k}.central"] for k in balance)
        == (by_key["period:supplied.received.central"])
    )
