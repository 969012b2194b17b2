"""What the mass is made of: lying bars, at most five parts and the rest as one."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import TypeVar

from divert.core.words import N_, Text
from divert.report.charts.canvas import INK, LABEL, RULE, Canvas, finished
from divert.report.charts.chart import Amount, Chart, Look, as_name, in_sentence, sentences
from divert.report.charts.widths import width_mm, wrapped

_MOST_NAMED = 12
_MOST_OF_THE_REST = 0.25
MOST_PARTS = 5
_BAR_MM = 3.6
_ROW_MM = 6.2
_LINE_MM = 3.5
_NAMES_SHARE = 0.42  # of the width, at most

T = TypeVar("T")


@dataclass(frozen=True, slots=True)
class MixPart:
    """One part by name; ``rest`` marks the one that gathers everything smaller."""

    name: str
    value: Amount
    rest: bool = False


@dataclass(frozen=True, slots=True)
class Mix:
    """The parts, largest first, the rest last; ``measure`` says of what ("Diverted this quarter")."""

    parts: tuple[MixPart, ...]
    measure: str
    unit: str


def largest(
    parts: Sequence[T], size: Callable[[T], float], most: int = MOST_PARTS
) -> tuple[list[T], list[T]]:
    """Split parts into the ``most`` largest and the rest; a lone rest keeps its own name.

    More are named where the rest would come to more than a quarter of the whole.
    """
    ordered = sorted(parts, key=size, reverse=True)
    whole = sum(max(0.0, size(part)) for part in ordered)
    while most < _MOST_NAMED and sum(size(p) for p in ordered[most:]) > _MOST_OF_THE_REST * whole:
        most += 1
    if len(ordered) <= most + 1:
        return ordered, []
    return ordered[:most], ordered[most:]


def mix(data: Mix, look: Look) -> Chart:
    """Draw one lying bar a part, its name before it and its value behind it."""
    width = look.width_mm
    names_room = max((width_mm(as_name(p.name), LABEL) for p in data.parts), default=0.0)
    names_room = min(names_room, width * _NAMES_SHARE)
    lines = [wrapped(as_name(p.name), names_room + 0.01, LABEL, 3) for p in data.parts]
    heights = [_ROW_MM + _LINE_MM * (len(name) - 1) for name in lines]
    canvas = Canvas(width, sum(heights) + 0.6)
    values_room = max((width_mm(p.value.text, LABEL) for p in data.parts), default=0.0) + 1.6
    above = max([0.0, *(p.value.value for p in data.parts)])
    below = -min([0.0, *(p.value.value for p in data.parts)])
    left = names_room + 1.8 + (values_room if below else 0.0)
    scale = (width - left - values_room) / ((above + below) or 1.0)
    zero = left + below * scale
    y = 0.0
    for i, (part, name, height) in enumerate(zip(data.parts, lines, heights, strict=True)):
        middle = y + height / 2
        for j, line in enumerate(name):
            base = middle + 1.05 + (j - (len(name) - 1) / 2) * _LINE_MM
            canvas.text(names_room, base, line, LABEL, "right")
        reach = part.value.value * scale
        bar = (min(zero, zero + reach), middle - _BAR_MM / 2, abs(reach), _BAR_MM)
        if part.rest:
            canvas.outline(*bar, colour=RULE)
        elif i == 0:
            canvas.solid(*bar, fill=look.strong)
        else:
            canvas.solid(*bar, fill=look.pale)
            if abs(reach) > 0.5:
                canvas.outline(*bar, colour=look.strong, points=0.5)
        if reach < 0:
            canvas.text(zero + reach - 1.0, middle + 1.05, part.value.text, LABEL, "right")
        else:
            canvas.text(zero + reach + 1.0, middle + 1.05, part.value.text, LABEL)
        y += height
    canvas.line(zero, 0, zero, y, INK if below else RULE, 0.7)
    return finished(
        canvas, finding(data), note(data, look.language), alt(data, look.language), look
    )


def finding(data: Mix) -> Text:
    """Say which material leads, and whether it is all, most or only the largest part."""
    parts = [p for p in data.parts if p.value.value > 0]
    whole = sum(p.value.value for p in parts)
    named = [p for p in parts if not p.rest]
    if not named or whole <= 0:
        return Text(N_("Nothing to divide"))
    first = named[0]
    if len(parts) == 1:
        return Text(N_("All of it {material}"), {"material": _short(first)})
    if first.value.value / whole > 0.5:
        return Text(N_("Mostly {material}"), {"material": _short(first)})
    alike = [p for p in named if p.value.text == first.value.text]
    if len(alike) > 2 or (len(alike) == 2 and 2 * first.value.value / whole <= 0.5):
        return Text(N_("No single material leads"))
    if len(named) > 1 and (first.value.value + named[1].value.value) / whole > 0.5:
        return Text(N_("More than half is {first} and {second}"),
                    {"first": _short(first), "second": _short(named[1])})  # fmt: skip
    return Text(N_("The largest part is {material}"), {"material": _short(first)})


def _short(part: MixPart) -> str:
    name = in_sentence(part.name)
    if len(name) <= 40:
        return name
    whole_words = name[:39].rpartition(" ")[0] or name[:38]
    return whole_words.rstrip(" ,;") + "…"


def note(data: Mix, language: str) -> str:
    """Return measure and unit."""
    return Text(N_("{measure}, {unit}."), {"measure": data.measure, "unit": data.unit}).say(
        language
    )


def alt(data: Mix, language: str) -> str:
    """Return every part in words."""
    return sentences(
        language,
        Text(N_("Bars: {measure}, {unit}."), {"measure": data.measure, "unit": data.unit}),
        *(Text(N_("{label}: {value}."), {"label": as_name(p.name), "value": p.value.text})
          for p in data.parts),
    )  # fmt: skip
