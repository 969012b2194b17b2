"""Two times side by side, one row a name: an open dot for the earlier, a filled one for now."""

from __future__ import annotations

from dataclasses import dataclass

from divert.core.words import N_, Text
from divert.report.charts.canvas import LABEL, QUIET, RULE, SMALL, Canvas, finished
from divert.report.charts.chart import Amount, Chart, Look, sentences
from divert.report.charts.widths import width_mm, wrapped

_ROW_MM = 4.8
_LINE_MM = 3.4
_HEAD_MM = 5.0
_DOT_MM = 1.15
_NAMES_SHARE = 0.34
_GAP_MM = 3.0
_NONE = "–"


@dataclass(frozen=True, slots=True)
class Pair:
    """One name with its amounts now and before; None where nothing is recorded."""

    name: str
    now: Amount | None
    before: Amount | None


@dataclass(frozen=True, slots=True)
class Dots:
    """The pairs in the order drawn; ``name_now`` and ``name_before`` head their columns of values."""

    pairs: tuple[Pair, ...]
    finding: Text
    measure: str
    unit: str
    name_now: str
    name_before: str


def dots(data: Dots, look: Look) -> Chart:
    """Draw each pair on one scale from zero, joined by a line, its two values at the right."""
    width = look.width_mm
    names = min(
        max((width_mm(p.name, LABEL) for p in data.pairs), default=0.0), width * _NAMES_SHARE
    )
    lines = [wrapped(p.name, names + 0.01, LABEL, 2) for p in data.pairs]
    heights = [_ROW_MM + _LINE_MM * (len(of) - 1) for of in lines]
    columns = [
        max([width_mm(head, SMALL), *(width_mm(_text(a), LABEL) for a in amounts)])
        for head, amounts in (
            (data.name_before, [p.before for p in data.pairs]),
            (data.name_now, [p.now for p in data.pairs]),
        )
    ]
    canvas = Canvas(width, _HEAD_MM + sum(heights) + 0.6)
    at_now = width
    at_before = width - columns[1] - _GAP_MM
    left, right = names + _GAP_MM, at_before - columns[0] - _GAP_MM
    most = max([1e-9, *(a.value for p in data.pairs for a in (p.now, p.before) if a is not None)])
    scale = (right - left - 2 * _DOT_MM) / most
    for x, head in ((at_before, data.name_before), (at_now, data.name_now)):
        canvas.text(x, 3.0, head, SMALL, "right", QUIET)
    y = _HEAD_MM
    for pair, name, tall in zip(data.pairs, lines, heights, strict=True):
        middle = y + tall / 2
        first = middle - _LINE_MM * (len(name) - 1) / 2
        for j, line in enumerate(name):
            canvas.text(0, first + _LINE_MM * j + 1.0, line, LABEL)
        _pair(canvas, pair, middle, left + _DOT_MM, scale, look)
        canvas.text(at_before, middle + 1.0, _text(pair.before), LABEL, "right", QUIET)
        canvas.text(at_now, middle + 1.0, _text(pair.now), LABEL, "right", weight="semibold")
        y += tall
    return finished(canvas, data.finding, note(data, look.language), alt(data, look.language), look)


def _text(amount: Amount | None) -> str:
    return _NONE if amount is None else amount.text


def _pair(canvas: Canvas, pair: Pair, y: float, zero: float, scale: float, look: Look) -> None:
    at = [
        (zero + max(0.0, a.value) * scale, filled)
        for a, filled in ((pair.before, False), (pair.now, True)) if a is not None
    ]  # fmt: skip
    if not at:
        return
    canvas.line(zero, y, max(x for x, _ in at), y, "#d5dad7", 0.6)
    if len(at) == 2:
        (one, _), (other, _) = at
        canvas.line(one, y, other, y, look.strong, 1.6)
    for x, filled in at:
        canvas.dot(x, y, _DOT_MM, look.strong if filled else RULE, filled=filled)


def note(data: Dots, language: str) -> str:
    """Return measure and unit, and what the dots are."""
    return sentences(
        language,
        Text(N_("{measure}, {unit}."), {"measure": data.measure, "unit": data.unit}),
        Text(N_("Filled dot: {now}. Open dot: {before}."),
             {"now": data.name_now, "before": data.name_before}),
    )  # fmt: skip


def alt(data: Dots, language: str) -> str:
    """Return every pair in words."""
    told = [
        Text(N_("{label}: {before}, then {value}."),
             {"label": p.name, "before": _text(p.before), "value": _text(p.now)})
        for p in data.pairs
    ]  # fmt: skip
    return sentences(language, Text(N_("Dots, {unit}."), {"unit": data.unit}), *told)
