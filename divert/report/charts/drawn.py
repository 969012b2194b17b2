"""A chart as a page carries it: drawn for paper and wide screens, and narrow for a phone."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass

from markupsafe import Markup

from divert.report.charts.chart import Chart
from divert.report.charts.chart import Look as ChartLook
from divert.report.charts.widths import MM_PER_POINT
from divert.report.paper.look import Look

NARROW_MM = 94.0  # what a phone 390 pixels wide shows at full size
GUTTER_MM = 10.0  # between two columns of a page


@dataclass(frozen=True, slots=True)
class Drawn:
    """A chart's finding, its note and its drawings; ``narrow`` is None where one serves both."""

    title: str
    note: str
    wide: Markup
    narrow: Markup | None


def full_width_mm(look: Look) -> float:
    """Return the width between the margins."""
    return look.text_width_pt * MM_PER_POINT


def half_width_mm(look: Look) -> float:
    """Return the width of one of two columns."""
    return (full_width_mm(look) - GUTTER_MM) / 2


def drawn(
    draw: Callable[[ChartLook], Chart], width_mm: float, language: str, look: Look, *, screen: bool
) -> Drawn:
    """Draw a chart at its printed width, and once more for a phone where the page is for a screen.

    ``draw`` takes a chart's look and returns the chart, e.g. ``lambda look: by_month(data, look)``.
    """
    colours = look.colours
    chart = draw(ChartLook(colours.strong, colours.pale, width_mm, language))
    narrow = None
    if screen and width_mm > NARROW_MM:
        on_phone = draw(ChartLook(colours.strong, colours.pale, NARROW_MM, language))
        narrow = Markup(_as_attributes(on_phone.svg))
    return Drawn(chart.title, chart.note, Markup(_as_attributes(chart.svg)), narrow)


def _as_attributes(svg: str) -> str:
    """Write a drawing's inline styles as attributes: no style sheet parser has to read them.

    Matplotlib writes nothing but styles, and the local page's policy allows none inline.
    """
    return re.sub(
        r' style="([^"]*)"',
        lambda style: "".join(
            f' {name.strip()}="{value.strip()}"'
            for name, _, value in (part.partition(":") for part in style[1].split(";"))
            if value
        ),
        svg,
    )
