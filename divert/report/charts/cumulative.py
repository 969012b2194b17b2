"""Diverted so far, mounting up over the time against a target and the year before."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

from divert.core.words import N_, Text
from divert.figures.compare import Verdict
from divert.report.charts.canvas import INK, LABEL, QUIET, Box, Canvas, finished, text_box
from divert.report.charts.chart import Amount, Chart, Look, sentences
from divert.report.charts.upright import base_line, upright
from divert.report.charts.widths import evenly, width_mm

HEIGHT_MM = 52.0
_LINE_MM = 3.7
_ALIKE = 0.005
_APART_MM = 1.0  # between two labels of the axis
_PIECE_MM = 2.0


@dataclass(frozen=True, slots=True)
class Cumulated:
    """Points are (place in time 0-1, value); ``so_far`` is the last point's figure.

    ``ticks`` are (place in time, label) of what stands beneath, each centred on its stretch;
    ``name`` and ``name_before`` are what the two lines are called ("2025", "2024"); ``half_by``
    is the month by which half of the whole was reached, where that is worth saying; ``began`` is
    the place in time from which an even pace is counted; ``than_before`` says how the end compares
    with the year before by the same day.
    """

    points: tuple[tuple[float, float], ...]
    so_far: Amount
    ticks: tuple[tuple[float, str], ...]
    measure: str
    unit: str
    name: str = ""
    target: Amount | None = None
    before: tuple[tuple[float, float], ...] = ()
    before_end: Amount | None = None
    name_before: str = ""
    half_by: str = ""
    began: float = 0.0
    reached: bool = False  # the target, as printed
    than_before: Verdict | None = None


def cumulative(data: Cumulated, look: Look) -> Chart:
    """Draw a strong line with its end labelled, the target dashed, the year before thin."""
    canvas = Canvas(look.width_mm, HEIGHT_MM)
    labels = _end_labels(data, look)
    margin = max(width_mm(text, LABEL) for _, text, _ in labels) + 2.4
    right = look.width_mm - margin
    values = [v for _, v in (*data.points, *data.before)] + [data.so_far.top, data.so_far.bottom]
    if data.target:
        values.append(data.target.value)
    scale = upright(values, 3.4, HEIGHT_MM - 5.0)

    line = [(x * right, scale.y(v)) for x, v in data.points]
    canvas.polygon([(line[0][0], scale.zero), *line, (line[-1][0], scale.zero)], look.pale)
    if data.before:
        before = [(x * right, scale.y(v)) for x, v in data.before]
        canvas.path(before, QUIET, 1.0)
        canvas.shapes += _along(before)
    canvas.path(line, look.strong, 2.0)
    if data.target:
        y = scale.y(data.target.value)
        canvas.line(0, y, right, y, INK, 0.9, (4.0, 2.6))
        canvas.shapes.append(Box(0, y - 0.3, right, y + 0.3))
        canvas.line(data.began * right, scale.zero, right, y, INK, 0.7, (0.8, 2.2))
    x_end, y_end = line[-1]
    if data.so_far.low is not None and data.so_far.high is not None:
        low, high = scale.y(data.so_far.low), scale.y(data.so_far.high)
        if low - high > 0.5:
            canvas.line(x_end, high, x_end, low, INK, 0.9)
            for y in (low, high):
                canvas.line(x_end - 0.8, y, x_end + 0.8, y, INK, 0.9)
    base_line(canvas, scale)
    middles = []
    for x, label in data.ticks:
        half = width_mm(label, LABEL) / 2
        middles.append((min(max(x * right, half), look.width_mm - half), label))
    for at, label in evenly(middles, LABEL, _APART_MM):
        canvas.text(at, HEIGHT_MM - 1.1, label, LABEL, "center")
    _write_ends(canvas, [(scale.y(v), t, c) for v, t, c in labels], right, x_end, y_end)
    return finished(
        canvas, finding(data), note(data, look.language), alt(data, look.language), look
    )


def _along(line: list[tuple[float, float]]) -> list[Box]:
    """Return small boxes along a line, for words to keep clear of."""
    out = []
    for (x1, y1), (x2, y2) in pairwise(line):
        pieces = max(1, round(abs(x2 - x1) / _PIECE_MM))
        for n in range(pieces):
            a, b = n / pieces, (n + 1) / pieces
            ends = sorted((y1 + (y2 - y1) * a, y1 + (y2 - y1) * b))
            out.append(Box(x1 + (x2 - x1) * a, ends[0] - 0.3, x1 + (x2 - x1) * b, ends[1] + 0.3))
    return out


def _end_labels(data: Cumulated, look: Look) -> list[tuple[float, str, str]]:
    """Return (value, text, colour): this line's end first, then the target, then last year's."""
    out = [(data.so_far.value, f"{data.name} {data.so_far.text}".strip(), look.strong)]
    if data.target:
        text = Text(N_("Target {value}"), {"value": data.target.text}).say(look.language)
        out.append((data.target.value, text, INK))
    if data.before and data.before_end:
        out.append(
            (data.before_end.value, f"{data.name_before} {data.before_end.text}".strip(), QUIET)
        )
    return out


def _write_ends(
    canvas: Canvas, ends: list[tuple[float, str, str]], right: float, x_end: float, y_end: float
) -> None:
    """Write the labels beside the lines' ends, moved apart where they would meet."""
    (_, own, colour), *others = ends
    wide = width_mm(own, LABEL)
    if x_end < right - 0.5:
        # The line ends within the sheet: its label stands near the end, clear of the other lines.
        tries = [
            (x, y)
            for x in (x_end + 1.8, x_end - wide - 1.8)
            for y in (y_end + 1.0, y_end - 1.8, y_end + 4.2, y_end - 4.4, y_end + 7.0, y_end + 10.0)
        ]
        room = (t for t in tries if canvas.has_room(text_box(*t, own, LABEL, "left", "semibold")))
        x, y = next(room, tries[0])
        canvas.text(x, y, own, LABEL, "left", colour, "semibold")
        beside = others
    else:
        beside = ends
    ordered = sorted(beside)
    at: list[float] = []
    for y, _, _ in ordered:
        at.append(max(y, at[-1] + _LINE_MM) if at else max(y, 2.0))
    lowest = canvas.height - 6.4
    for i in reversed(range(len(at))):
        at[i] = min(at[i], lowest)
        lowest = at[i] - _LINE_MM
    for y, (_, text, ink) in zip(at, ordered, strict=True):
        weight = "semibold" if text == own and ink == colour else "regular"
        canvas.text(right + 1.6, y + 1.05, text, LABEL, "left", ink, weight)  # type: ignore[arg-type]


def finding(data: Cumulated) -> Text:
    """Say how the end stands to the target, or to the year before where there is no target."""
    end, value = data.points[-1][0], data.so_far.value
    if data.target is not None:
        if end >= 0.999:
            return Text(N_("The target was reached") if data.reached else N_("Short of the target"))
        if data.reached:
            return Text(N_("The target is reached already"))
        if value >= data.target.value * (end - data.began) / (1 - data.began):
            return Text(N_("Ahead of an even pace to the target"))
        return Text(N_("Behind an even pace to the target"))
    if data.than_before is not None:
        return Text(_BESIDE[data.than_before, end >= 0.999])
    if data.before:
        return Text(N_("How it mounted up, and a year before"))
    if value <= 0:
        return Text(
            N_("More was thrown away than diverted") if value else N_("Nothing was diverted")
        )
    if data.half_by:
        return Text(N_("The first half had come by the end of {month}"), {"month": data.half_by})
    return Text(N_("How it mounted up"))


# (how it compares with the year before, whether the year is over)
_BESIDE = {
    ("more", True): N_("More than a year before"),
    ("more", False): N_("More than a year before by the same day"),
    ("less", True): N_("Less than a year before"),
    ("less", False): N_("Less than a year before by the same day"),
    ("about the same", True): N_("About as much as a year before"),
    ("about the same", False): N_("About as much as a year before by the same day"),
}


def note(data: Cumulated, language: str) -> str:
    """Return measure and unit, and what the lines mean."""
    return sentences(
        language,
        Text(N_("{measure}, {unit}, added up."), {"measure": data.measure, "unit": data.unit}),
        Text(N_("Upright line: 90\u202f% range.")) if data.so_far.low is not None else None,
        Text(N_("Thin line: {year}."), {"year": data.name_before}) if data.before else None,
        Text(N_("Dashed: the target; dotted: an even pace to it.")) if data.target else None,
    )


def alt(data: Cumulated, language: str) -> str:
    """Return where the lines end in words."""
    target = data.target
    return sentences(
        language,
        Text(N_("A rising line: {measure}, {unit}. {name} ends at {value}.") if data.name
             else N_("A rising line: {measure}, {unit}. It ends at {value}."),
             {"measure": data.measure, "unit": data.unit, "name": data.name,
              "value": data.so_far.text}),
        Text(N_("The target is {value}."), {"value": target.text}) if target else None,
        Text(N_("{name} ended at {value}."),
             {"name": data.name_before, "value": data.before_end.text})
        if data.before and data.before_end else None,
    )  # fmt: skip
