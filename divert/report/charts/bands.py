"""Yield or bed load against the ordinary band, and where a question starts."""

from __future__ import annotations

from dataclasses import dataclass

from divert.core.words import N_, Text
from divert.report.charts.canvas import INK, LABEL, QUIET, RULE, SMALL, Canvas, finished, text_box
from divert.report.charts.chart import Amount, Chart, Look, as_name, sentences
from divert.report.charts.widths import width_mm, wrapped

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
    asked: bool = False  # above its band by another measure, which the drawing does not show


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
    left = names_room + 1.8
    known = [r.value for r in data.rows if r.value is not None]
    values_room = max((width_mm(v.text, LABEL) for v in known), default=0.0) + 2.0
    most = max([data.implausible.value * 1.04, *(v.top for v in known)])
    scale = (look.width_mm - left - values_room) / most
    names = _limit_names(data, left, scale, look.language)
    head = _HEAD_MM + (_LINE_MM if _would_meet(names) else 0.0)
    foot = head + sum(heights)
    canvas = Canvas(look.width_mm, foot + 0.6)

    canvas.solid(left + data.ordinary_low * scale, head,
                 (data.ordinary_high.value - data.ordinary_low) * scale, foot - head,
                 "#e9edea")  # fmt: skip
    _limits(canvas, names, head, foot)
    limits = [left + limit.value * scale for limit in (data.ordinary_high, data.implausible)]
    y = head
    for row, name, height in zip(data.rows, lines, heights, strict=True):
        middle = y + height / 2
        for j, line in enumerate(name):
            base = middle + 1.05 + (j - (len(name) - 1) / 2) * _LINE_MM
            canvas.text(names_room, base, line, LABEL, "right")
        _bar(canvas, row, left, middle, scale, look, limits)
        y += height
    canvas.line(left, head, left, foot, RULE, 0.8)
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


Named = tuple[float, str, str]  # mm from the left, what a limit is called, its number alone


def _limit_names(data: Bands, left: float, scale: float, language: str) -> list[Named]:
    """Return where the question starts and where it cannot be right, each with its name."""
    return [
        (left + limit.value * scale, Text(message, {"value": limit.text}).say(language), limit.text)
        for limit, message in (
            (data.ordinary_high, N_("ordinary up to {value}")),
            (data.implausible, N_("not plausible above {value}")),
        )
    ]


def _would_meet(names: list[Named]) -> bool:
    (low, _, _), (high, words, _) = names
    return high - width_mm(words, SMALL) < low + 1.5


def _limits(canvas: Canvas, names: list[Named], head: float, foot: float) -> None:
    """Draw each limit, named at its head; where the names would meet, one above the other."""
    stacked = _would_meet(names)
    for place, (x, words, number) in enumerate(names):
        up = _LINE_MM if stacked and place == 1 else 0.0
        canvas.line(x, head - 1.2 - up, x, foot, INK, 0.7, (3.0, 2.0))
        y = head - 2.2 - up
        for text in (words, number):
            at = max(x, width_mm(text, SMALL))
            if canvas.has_room(text_box(at, y, text, SMALL, "right")):
                canvas.text(at, y, text, SMALL, "right", QUIET)
                break


def finding(data: Bands) -> Text:
    """Say whether all lie in the ordinary band, and if not, how many do not."""
    known = [r.value.value for r in data.rows if r.value is not None]
    if not known:
        return Text(N_("Not enough is recorded to tell"))
    asked = [(r.value is not None and r.value.value > data.ordinary_high.value) or r.asked
             for r in data.rows]  # fmt: skip
    above = sum(asked)
    below = sum(v < data.ordinary_low for v in known)
    if len(known) == len(data.rows) == 1:
        if above:
            return Text(N_("Above the ordinary band"))
        return Text(N_("Below the ordinary band") if below else N_("Within the ordinary band"))
    if not above and not below:
        if len(known) < len(data.rows):
            return Text(N_("Within the ordinary band, as far as is known"))
        return Text(N_("All within the ordinary band"))
    if above and below:
        return Text(N_("{above} above and {below} below the ordinary band, of {all}"),
                    {"above": above, "below": below, "all": len(known)})  # fmt: skip
    if above == len(data.rows):
        return Text(N_("All above the ordinary band"))
    if below == len(data.rows):
        return Text(N_("All below the ordinary band"))
    if above:
        return Text(N_("{some} of {all} above the ordinary band"),
                    {"some": above, "all": len(known)})  # fmt: skip
    return Text(N_("{some} of {all} below the ordinary band"), {"some": below, "all": len(known)})


def note(data: Bands, language: str) -> str:
    """Return measure and unit and what the band is."""
    return Text(
        N_("{measure}, {unit}. Gray: the ordinary band. A band asks a question, it corrects "
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
