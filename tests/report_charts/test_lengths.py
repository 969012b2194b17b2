"""Lengths are to scale, worked out by hand from the numbers drawn."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest
from drawings import balance, months, parts, rising

from divert.report.charts.by_month import by_month
from divert.report.charts.chart import Amount, Look
from divert.report.charts.cumulative import cumulative
from divert.report.charts.mix import largest, mix
from divert.report.charts.strip import BAR_MM, strip
from divert.report.charts.widths import evenly, shortened, width_mm, wrapped
from divert.report.charts.years import Year, Years, years

LOOK = Look(strong="#2f6b4f", pale="#b9cbc1", width_mm=100.0)
MM = 25.4 / 72


def _boxes(svg: str, fill: str) -> list[tuple[float, float, float, float]]:
    """Return left, top, width and height (mm) of every shape filled so."""
    out = []
    for path, style in re.findall(r'<path d="([^"]*)"[^>]*style="([^"]*)"', svg):
        if f"fill: {fill}" in style:
            numbers = [float(n) * MM for n in re.findall(r"-?\d+(?:\.\d+)?", path)]
            xs, ys = numbers[0::2], numbers[1::2]
            out.append((min(xs), min(ys), max(xs) - min(xs), max(ys) - min(ys)))
    return out


def test_the_strip_gives_half_its_length_to_half_the_mass() -> None:
    (solid,) = _boxes(strip(balance(50, 30, 20), LOOK).svg, "#2f6b4f")
    assert solid == pytest.approx((0.0, 0.0, 50.0, BAR_MM), abs=0.01)


def test_an_adjustment_lies_left_of_zero_and_the_rest_begins_there() -> None:
    svg = strip(balance(-20, 0, 80), LOOK).svg
    assert _boxes(svg, "#2f6b4f") == []  # nothing is diverted, so nothing is solid
    zero = re.findall(r"M (\S+) 0 \nL \1 ", svg)
    assert float(zero[-1]) * MM == pytest.approx(20.0, abs=0.02)  # 20 of 20 + 80 mm


def test_columns_stand_on_zero_and_are_as_high_as_their_numbers() -> None:
    chart = by_month(months([100, 50, 25, 100]), LOOK)
    paler, full = _boxes(chart.svg, "#b9cbc1"), _boxes(chart.svg, "#2f6b4f")
    heights = [box[3] for box in (*paler, *full)]
    assert [h / heights[0] for h in heights] == pytest.approx([1, 0.5, 0.25, 1], abs=0.005)
    feet = {round(top + height, 2) for _, top, _, height in (*paler, *full)}
    assert len(feet) == 1


def test_a_column_below_zero_hangs_from_the_line() -> None:
    boxes = _boxes(by_month(months([100, -100]), LOOK).svg, "#2f6b4f")
    up = _boxes(by_month(months([100, -100]), LOOK).svg, "#b9cbc1")[0]
    down = boxes[0]
    assert up[1] + up[3] == pytest.approx(down[1], abs=0.02)
    assert up[3] == pytest.approx(down[3], abs=0.02)


def test_lying_bars_are_as_long_as_their_numbers() -> None:
    svg = mix(parts(("scraps", 200), ("pulp", 50)), LOOK).svg
    (first,), (second,) = _boxes(svg, "#2f6b4f"), _boxes(svg, "#b9cbc1")
    assert second[2] / first[2] == pytest.approx(0.25, abs=0.005)
    assert first[0] == pytest.approx(second[0], abs=0.01)


def test_at_most_five_parts_and_the_rest() -> None:
    values = [3.0, 9.0, 1.0, 7.0, 5.0, 2.0, 4.0]
    named, rest = largest(values, lambda v: v)
    assert (named, rest) == ([9.0, 7.0, 5.0, 4.0, 3.0], [2.0, 1.0])
    assert largest(values[:6], lambda v: v)[1] == []  # a rest of one keeps its own name


def test_the_target_is_dashed_and_named() -> None:
    svg = cumulative(rising(1.0, 109, 120, 91), LOOK).svg
    assert "stroke-dasharray" in svg
    assert ">Target 120<" in svg and ">2024 91<" in svg


def test_widths_are_the_fonts_own() -> None:
    # Source Sans 3 Regular gives the capital A an advance of 544 of 1000 units (its hmtx table).
    assert width_mm("A", 72.0) == pytest.approx(0.544 * 25.4, rel=1e-9)
    assert width_mm("AAAA", 10.0) == pytest.approx(4 * width_mm("A", 10.0))


def test_labels_of_an_axis_are_left_out_evenly() -> None:
    one = width_mm("Mar", 8.4)
    labels = [(i * one, "Mar") for i in range(12)]  # each just touches the next
    assert evenly(labels, 8.4, 0.0) == labels
    assert evenly(labels, 8.4, 0.5) == labels[::2]
    assert evenly(labels, 8.4, 1.5 * one) == labels[::3]
    assert evenly(labels[:1], 8.4, 9.0) == labels[:1]


def test_long_names_are_broken_and_cut_to_their_room() -> None:
    room = width_mm("kitchen scraps", 8.4)
    assert wrapped("kitchen scraps and flowers", room, 8.4) == ["kitchen scraps", "and flowers"]
    cut = shortened("kitchen scraps and flowers", room, 8.4)
    assert cut.endswith("…") and width_mm(cut, 8.4) <= room


def test_what_prints_as_nought_keeps_its_place_in_the_strip() -> None:
    hair = Amount(-0.4, "0")
    svg = strip(replace(balance(50, 0, 50), not_claimed=hair), LOOK).svg
    assert _boxes(svg, "#2f6b4f")[0][0] == pytest.approx(0.0, abs=0.01)  # solid from the left edge
    words = re.findall(r">(Diverted|Not claimed|Thrown away) ", svg)
    assert words == ["Diverted", "Not claimed", "Thrown away"]


def test_a_target_without_room_at_its_side_is_told_above_it() -> None:
    look = replace(LOOK, width_mm=80.0)
    told = Years(
        tuple(Year(str(y), Amount(v, f"{v:,}"), Amount(t, f"{t:,}"))
              for y, v, t in ((2024, 11_900, 14_000), (2025, 12_100, 20_000), (2026, 6_900, 22_000))),
        "Diverted", "pounds",
    )  # fmt: skip
    svg = years(told, look).svg
    for number in ("11,900", "12,100", "6,900", "20,000", "22,000"):
        assert f">{number}<" in svg or f"{number}</text>" in svg
