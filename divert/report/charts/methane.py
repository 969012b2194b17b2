"""Landfill methane avoided, year by year over the decades that follow."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import accumulate

from divert.core.words import N_, Text
from divert.report.charts.canvas import LABEL, QUIET, SMALL, Canvas, finished, text_box
from divert.report.charts.chart import Chart, Look, sentences
from divert.report.charts.upright import base_line, upright
from divert.report.charts.widths import width_mm

HEIGHT_MM = 40.0
_WIDEST_SLOT = 6.0


@dataclass(frozen=True, slots=True)
class Methane:
    """``years`` are (year, mass in print units); ``largest_text`` the largest one as printed.

    Years up to ``now`` have passed; the rest is still to come. ``later`` is what follows in years
    that are too small to draw.
    """

    years: tuple[tuple[int, float], ...]
    largest_text: str
    now: int
    unit: str
    later: float = 0.0


def methane(data: Methane, look: Look) -> Chart:
    """Draw one thin column a year: those that have passed strong, those to come pale."""
    canvas = Canvas(look.width_mm, HEIGHT_MM)
    scale = upright([v for _, v in data.years], 4.6, HEIGHT_MM - 4.8)
    slot = min(_WIDEST_SLOT, look.width_mm / max(1, len(data.years)))
    wide = slot * 0.72
    largest = max(range(len(data.years)), key=lambda i: data.years[i][1])
    for i, (year, value) in enumerate(data.years):
        x = i * slot + (slot - wide) / 2
        y = scale.y(value)
        fill = look.strong if year <= data.now else look.pale
        canvas.solid(x, min(y, scale.zero), wide, abs(scale.zero - y), fill)
        if year > data.now and wide > 1.0 and scale.zero - y > 0.5:
            canvas.outline(x, y, wide, scale.zero - y, look.strong, 0.5)
        if i == largest:
            half = width_mm(data.largest_text, LABEL) / 2
            at = min(max(x + wide / 2, half), look.width_mm - half)
            canvas.text(at, y - 1.2, data.largest_text, LABEL, "center")
    base_line(canvas, scale)
    _years_below(canvas, data, slot)
    _name_parts(canvas, data, slot, scale.zero, look)
    return finished(
        canvas, finding(data), note(data, look.language), alt(data, look.language), look
    )


def _years_below(canvas: Canvas, data: Methane, slot: float) -> None:
    """Label the first year and every fifth or tenth that has room."""
    every = 10 if len(data.years) > 40 else 5 if len(data.years) > 12 else 1
    for i, (year, _) in enumerate(data.years):
        if i and year % every:
            continue
        half = width_mm(str(year), LABEL) / 2
        at = min(max((i + 0.5) * slot, half), canvas.width - half)
        if canvas.has_room(text_box(at, HEIGHT_MM - 1.0, str(year), LABEL, "center"), 1.5):
            canvas.text(at, HEIGHT_MM - 1.0, str(year), LABEL, "center")


def _name_parts(canvas: Canvas, data: Methane, slot: float, zero: float, look: Look) -> None:
    """Write "still to come" in the empty air over the falling columns."""
    later = [i for i, (year, _) in enumerate(data.years) if year > data.now]
    if len(later) < 8:
        return
    text = Text(N_("still to come")).say(look.language)
    i = later[len(later) // 3]
    highest = max(v for _, v in data.years[i:])
    y = zero - (zero - 4.6) * highest / max(v for _, v in data.years) - 1.6
    if canvas.has_room(text_box(i * slot, y, text, SMALL)):
        canvas.text(i * slot, y, text, SMALL, "left", QUIET)


def finding(data: Methane) -> Text:
    """Say by which year half of the methane would have left the landfill."""
    whole = sum(v for _, v in data.years) + data.later
    if whole <= 0:
        return Text(N_("No landfill methane is avoided"))
    so_far = accumulate(v for _, v in data.years)
    drawn = zip(data.years, so_far, strict=True)
    half = next((year for (year, _), mass in drawn if mass >= whole / 2), data.years[-1][0])
    return Text(N_("Half of the methane would have left the landfill by the end of {year}"),
                {"year": str(half)})  # fmt: skip


def note(data: Methane, language: str) -> str:
    """Return what is drawn and in which unit."""
    return sentences(
        language,
        Text(N_("Methane the landfill would have released, {unit} per year, after gas capture and "
                "oxidation."), {"unit": data.unit}),
        Text(N_("Pale: still to come.")) if data.years and data.years[-1][0] > data.now else None,
    )  # fmt: skip


def alt(data: Methane, language: str) -> str:
    """Return the course of it in words; the table beside it gives the years."""
    if not data.years:
        return ""
    largest = max(data.years, key=lambda y: y[1])
    return Text(
        N_("Columns from {first} to {last}, {unit} of methane a year: the largest is {value} in "
           "{year}, then it falls year by year."),
        {"first": str(data.years[0][0]), "last": str(data.years[-1][0]), "unit": data.unit,
         "value": data.largest_text, "year": str(largest[0])},
    ).say(language)  # fmt: skip
