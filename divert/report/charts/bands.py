"""Yield or bed load against the ordinary band, and where a question starts."""

from __future__ import annotations

from dataclasses import dataclass

from divert.report.charts.canvas import INK, LABEL, QUIET, RULE, SMALL, Canvas, finished, text_box
from divert.report.charts.chart import Amount, Chart, Look, as_name, sentences
from divert.report.charts.widths import width_mm, wrapped
from divert.words import N_, Text

_BAR_MM = 3.6
_ROW_MM = 6.6
_LINE_MM = 3.5
_HEAD_MM = 6.0
_NAMES_SHARE = 0.36


@dataclass(frozen=True, slots=True)
class Against:
    """One bar; ``value`` None where it is not known."""

    name: str
    value: Amount | None


@dataclass(frozen=True, slots=True)
class Bands:
    """Bars in one unit with the same band: ordinary up to ``ordinary_high``, asked about beyond it.

    ``implausible`` is where it cannot be right any more; both ends also as printed.
    """

    rows: tuple[Against, ...]
    ordinary_low: float
    ordinary_high: Amount
    implausible: Amount
    measure: str
    unit: str


def bands(data: Bands, look: Look) -> Chart:
    """Draw a lying bar each over the ordinary band, its limits as lines labelled at their heads."""
    names_room = max((width_mm(as_name(r.name), LABEL) for r in data.rows), default=0.0)
    names_room = min(names_room, look.width_mm * _NAMES_SHARE)
    lines = [wrapped(as_name(r.name), names_room + 0.01, LABEL) for r in data.rows]
    heights = [_ROW_MM + _LINE_MM * (len(name) - 1) for name in lines]
    foot = _HEAD_MM + sum(heights)
    canvas = Canvas(look.width_mm, foot + 0.6)
    left = names_room + 1.8
    known = [r.value for r in data.rows if r.value is not None]
    values_room = max((width_mm(v.text, LABEL) for v in known), default=0.0) + 2.0
    most = max([data.implausible.value * 1.04, *(v.top for v in known)])
    scale = (look.width_mm - left - values_room) / most

    canvas.solid(left + data.ordinary_low * scale, _HEAD_MM,
                 (data.ordinary_high.value - data.ordinary_low) * scale, foot - _HEAD_MM,
                 "#e9edea")  # fmt: skip
    _limits(canvas, data, left, scale, foot, look.language)
    limits = [left + limit.value * scale for limit in (data.ordinary_high, data.implausible)]
    y = _HEAD_MM
    for row, name, height in zip(data.rows, lines, heights, strict=True):
        middle = y + height / 2
        for j, line in enumerate(name):
            base = middle + 1.05 + (j - (len(name) - 1) / 2) * _LINE_MM
            canvas.text(names_room, base, line, LABEL, "right")
        _bar(canvas, row, left, middle, scale, look, limits)
        y += height
    canvas.line(left, _HEAD_MM, left, foot, RULE, 0.8)
    return finished(
        canvas, finding(data), note(data, look.language), alt(data, look.language), look
    )


def _bar(
    canvas: Canvas, row: Against, left: float, middle: float, scale: float, look: Look,
    limits: list[float],
) -> None:  # fmt: skip
    if row.value is None:
        unknown = Text(N_("not known")).say(look.language)
        canvas.text(left + 1.2, middle + 1.05, unknown, SMALL, "left", QUIET)
        return
    reach = left + max(0.0, row.value.value) * scale
    canvas.solid(left, middle - _BAR_MM / 2, reach - left, _BAR_MM, look.strong)
    end = reach
    if row.value.low is not None and row.value.high is not None:
        low, high = left + max(0.0, row.value.low) * scale, left + row.value.high * scale
        if high - low > 0.5:
            canvas.line(low, middle, reach, middle, "#ffffff", 0.9)
            canvas.line(reach, middle, high, middle, INK, 0.9)
            canvas.line(low, middle - 0.8, low, middle + 0.8, "#ffffff", 0.9)
            canvas.line(high, middle - 0.8, high, middle + 0.8, INK, 0.9)
            end = high
    x = end + 1.2
    wide = width_mm(row.value.text, LABEL)
    for limit in limits:  # left to right: a value stands beside a limit's line, not on it
        if x - 0.6 < limit < x + wide + 0.6:
            x = limit + 1.0
    canvas.text(x, middle + 1.05, row.value.text, LABEL)


def _limits(
    canvas: Canvas, data: Bands, left: float, scale: float, foot: float, language: str
) -> None:
    """Draw where the question starts and where it cannot be right, each named at its head."""
    for limit, message in (
        (data.ordinary_high, N_("ordinary up to {value}")),
        (data.implausible, N_("not plausible above {value}")),
    ):
        x = left + limit.value * scale
        canvas.line(x, _HEAD_MM - 1.2, x, foot, INK, 0.7, (3.0, 2.0))
        text = Text(message, {"value": limit.text}).say(language)
        for words in (text, limit.text):
            if canvas.has_room(text_box(x, _HEAD_MM - 2.2, words, SMALL, "right")):
                canvas.text(x, _HEAD_MM - 2.2, words, SMALL, "right", QUIET)
                break


def finding(data: Bands) -> Text:
    """Say whether all lie in the ordinary band, and if not, how many do not."""
    known = [r.value.value for r in data.rows if r.value is not None]
    if not known:
        return Text(N_("Not enough is recorded to tell"))
    above = sum(v > data.ordinary_high.value for v in known)
    below = sum(v < data.ordinary_low for v in known)
    if len(known) == 1:
        if above:
            return Text(N_("Above the ordinary band"))
        return Text(N_("Below the ordinary band") if below else N_("Within the ordinary band"))
    if not above and not below:
        return Text(N_("All within the ordinary band"))
    if above:
        return Text(N_("{some} of {all} above the ordinary band"),
                    {"some": above, "all": len(known)})  # fmt: skip
    return Text(N_("{some} of {all} below the ordinary band"), {"some": below, "all": len(known)})


def note(data: Bands, language: str) -> str:
    """Return measure and unit and what the band is."""
    return Text(
        N_("{measure}, {unit}. Grey: the ordinary band. A band asks a question, it corrects "
           "nothing."),
        {"measure": data.measure, "unit": data.unit},
    ).say(language)  # fmt: skip


def alt(data: Bands, language: str) -> str:
    """Return every bar and the limits in words."""
    return sentences(
        language,
        Text(N_("Bars: {measure}, {unit}; ordinary up to {ordinary}, not plausible above "
                "{implausible}."),
             {"measure": data.measure, "unit": data.unit, "ordinary": data.ordinary_high.text,
              "implausible": data.implausible.text}),
        *(Text(N_("{label}: {value}."),
               {"label": as_name(r.name),
                "value": r.value.text if r.value else Text(N_("not known"))})
          for r in data.rows),
    )  # fmt: skip
