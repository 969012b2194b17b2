"""Every figure on a page is one of the figures, after rounding."""

from __future__ import annotations

import re
from collections.abc import Sequence
from html import unescape
from typing import Any

import cases
import pytest

from divert.figures.as_json import to_json
from divert.figures.figure_sum import value_of
from divert.figures.numbers.printed import Printed
from divert.figures.numbers.scales import FACTOR
from divert.figures.numbers.written import rounded_text


def _unfounded(page: str, printed: Sequence[Printed], json: dict[str, Any]) -> list[str]:
    """Return the marked figures of a page that are not in the figures after rounding."""
    known = {(p.key, p.text): p for p in printed}
    wrong = []
    for value, key, text in _marked(page):
        one = known.get((key, text))
        true = value_of(key, {"period": json})
        if one is None or true is None or abs(float(value) - true) > 1e-9 * max(1.0, abs(true)):
            wrong.append(f"{key} = {text}")
            continue
        if text != rounded_text(true / FACTOR[one.unit], one.unit, one.quantum, "en"):
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


def test_one_figure_reads_the_same_wherever_it_stands() -> None:
    _, printed = cases.page_of(cases.both())
    texts: dict[tuple[str, str], set[str]] = {}
    for one in printed:
        texts.setdefault((one.key, one.unit), set()).add(one.text)
    assert [key for key, said in texts.items() if len(said) > 1] == []
