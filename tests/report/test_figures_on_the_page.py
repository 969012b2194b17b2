"""Every figure on a page is one of the figures, after rounding."""

from __future__ import annotations

import re
from collections.abc import Sequence
from html import unescape
from typing import Any

import cases
import pytest

from divert.figures.contract import to_json
from divert.figures.figure_path import get
from divert.figures.numbers.printed import MINUS, THIN, Printed
from divert.figures.numbers.scales import FACTOR


def _number(text: str) -> float:
    return float(text.replace(",", "").replace(MINUS, "-").replace(THIN, ""))


def _unfounded(page: str, printed: Sequence[Printed], json: dict[str, Any]) -> list[str]:
    """Return the marked figures of a page that are not in the figures after rounding."""
    known = {(p.key, p.text): p for p in printed}
    wrong = []
    for value, key, text in _marked(page):
        one = known.get((key, text))
        true = sum(get(json, term.split(":", 1)[1]) for term in key.split("+"))
        if one is None or abs(float(value) - true) > 1e-9 * max(1.0, abs(true)):
            wrong.append(f"{key} = {text}")
            continue
        # Parts of a sum may stand up to one rounding unit off their own nearest.
        reach = (1.0 if one.group else 0.5) * one.quantum + 1e-6
        if abs(_number(text) - true / FACTOR[one.unit]) > reach:
            wrong.append(f"{key} = {text}, not {true / FACTOR[one.unit]}")
    return wrong


def _marked(page: str) -> list[tuple[str, str, str]]:
    """Return value, key and text of every figure marked in a page."""
    found = re.findall(
        r'<data class="figure" value="([^"]*)" data-key="([^"]*)">([^<]*)</data>', page
    )
    assert len(found) == page.count("<data")  # none is written otherwise
    return [(value, unescape(key), text) for value, key, text in found]


@pytest.mark.parametrize("case", cases.CASES)
def test_marked_figures_are_found_in_the_figures(case: str) -> None:
    figures = cases.CASES[case]()
    page, printed = cases.page_of(figures)
    assert len(_marked(page)) >= (8 if case == "nothing_this_quarter" else 25)
    assert _unfounded(page, printed, to_json(figures)) == []


def test_the_large_number_the_balance_and_the_months_are_among_them() -> None:
    page, _ = cases.page_of(cases.supplied())
    keys = {key for _, key, _ in _marked(page)}
    for due in ("supplied.diverted.central", "supplied.share", "supplied.received.central",
                "supplied.net_avoided.central", "mass.received.central", "cumulative.diverted.central",
                "supplied.by_month[2].diverted.high", "emissions_within.20.central",
                "weeks.logged"):  # fmt: skip
        assert f"period:{due}" in keys


def test_a_figure_changed_on_the_page_or_in_the_figures_is_found_out() -> None:
    figures = cases.supplied()
    page, printed = cases.page_of(figures)
    json = to_json(figures)
    digit = page.replace(">960</data>", ">970</data>", 1)
    assert digit != page and _unfounded(digit, printed, json)
    json["supplied"]["diverted"]["central"] *= 1.02
    assert any("supplied.diverted.central" in wrong for wrong in _unfounded(page, printed, json))


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
