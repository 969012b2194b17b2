"""A small line of quarters: what a reader's part came to since they began, 60 by 12 mm."""

from __future__ import annotations

from dataclasses import dataclass

from divert.core.words import N_, Text
from divert.report.charts.canvas import QUIET, RULE, SMALL, Canvas, finished
from divert.report.charts.chart import Amount, Chart, Look, sentences

WIDTH_MM, HEIGHT_MM = 60.0, 12.0
_FOOT_MM = 8.2
_WIDEST_MM = 4.4


@dataclass(frozen=True, slots=True)
class Quarter:
    """One quarter by its name ("Q2 2025"); ``now`` marks that of the report."""

    name: str
    value: Amount
    now: bool = False


@dataclass(frozen=True, slots=True)
class Quarters:
    """The quarters in order, with the unit they are told in."""

    quarters: tuple[Quarter, ...]
    unit: str


def quarters(data: Quarters, look: Look) -> Chart:
    """Draw a thin column a quarter on one base line; the first and last are named beneath."""
    canvas = Canvas(WIDTH_MM, HEIGHT_MM)
    largest = max((abs(q.value.value) for q in data.quarters), default=0.0) or 1.0
    slot = min(WIDTH_MM / max(len(data.quarters), 1), _WIDEST_MM + 1.2)
    wide = min(slot * 0.72, _WIDEST_MM)
    for i, one in enumerate(data.quarters):
        tall = max(0.0, one.value.value) / largest * (_FOOT_MM - 0.4)
        fill = look.strong if one.now else look.pale
        canvas.solid(i * slot, _FOOT_MM - tall, wide, tall, fill)
    end = slot * len(data.quarters)
    canvas.line(0, _FOOT_MM, end, _FOOT_MM, RULE, 0.6)
    first, last = data.quarters[0], data.quarters[-1]
    canvas.text(0, HEIGHT_MM - 0.8, first.name, SMALL, colour=QUIET)
    if end > 30:
        canvas.text(end, HEIGHT_MM - 0.8, last.name, SMALL, "right", QUIET)
    return finished(
        canvas, Text(N_("Quarter by quarter since the start")), "", _alt(data, look), look
    )


def _alt(data: Quarters, look: Look) -> str:
    told = [
        Text(N_("{label}: {value}."), {"label": q.name, "value": q.value.text})
        for q in data.quarters
    ]
    return sentences(look.language, Text(N_("Columns, in {unit}."), {"unit": data.unit}), *told)
