"""The balance strip: everything received as one bar, split into diverted, not claimed, thrown away."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from divert.core.words import N_, Text
from divert.report.charts.canvas import INK, LABEL, RULE, Canvas, finished
from divert.report.charts.chart import Amount, Chart, Look, sentences
from divert.report.charts.widths import width_mm

BAR_MM = 9.4
_LABEL_Y = BAR_MM + 4.2
_ROW_MM = 4.2
_GAP_MM = 3.0
_BRACKET_MM = 6.6


@dataclass(frozen=True, slots=True)
class Strip:
    """The three masses that make up ``received``; any of them may be negative (an adjustment)."""

    received: Amount
    diverted: Amount
    not_claimed: Amount
    thrown_away: Amount
    unit: str
    bracket: Amount | None = None  # a share of the solid part, told beneath it
    bracket_says: str = ""


@dataclass(frozen=True, slots=True)
class _Segment:
    left: float
    right: float
    label: str
    kind: str


def strip(data: Strip, look: Look) -> Chart:
    """Draw the bar to scale, labels beneath that never meet; a negative part lies left of zero."""
    segments = _segments(data, look)
    lefts = _spread([s.left for s in segments],
                    [width_mm(s.label, LABEL) for s in segments], look.width_mm)  # fmt: skip
    rows = 1 if lefts is not None else len(segments)
    under = _BRACKET_MM if data.bracket is not None else 0.0
    canvas = Canvas(look.width_mm, _LABEL_Y + under + 1.2 + _ROW_MM * (rows - 1))
    if not any(s.right - s.left > 0.02 for s in segments):
        canvas.line(0, BAR_MM, look.width_mm, BAR_MM, RULE, 0.8)
    for segment in segments:
        _draw(canvas, segment, look)
    zero = max((s.right for s in segments if s.kind == "negative"), default=None)
    if zero is not None:
        canvas.line(zero, 0, zero, BAR_MM + 1.0, INK, 1.1)
    for i, segment in enumerate(segments):
        x = lefts[i] if lefts is not None else 0.0
        y = _LABEL_Y + under + (0 if lefts is not None else i * _ROW_MM)
        middle = (segment.left + segment.right) / 2
        moved = lefts is not None and abs(x - segment.left) > 0.3
        if moved and not x <= middle <= x + width_mm(segment.label, LABEL):
            # The label had to move away from a short part: a tick shows which one it names.
            canvas.line(segment.left, BAR_MM, segment.left, BAR_MM + 1.0, RULE, 0.7)
        canvas.text(x, y, segment.label, LABEL)
    if data.bracket is not None:
        _bracket(canvas, data, segments)
    return finished(
        canvas, finding(data), note(data, look.language), alt(data, look.language), look
    )


def _bracket(canvas: Canvas, data: Strip, segments: Sequence[_Segment]) -> None:
    """Draw the reader's own share under the solid part, to scale, with its words beneath."""
    solid = next((s for s in segments if s.kind == "solid"), None)
    if solid is None or data.bracket is None or data.diverted.value <= 0:
        return
    right = solid.left + (solid.right - solid.left) * data.bracket.value / data.diverted.value
    y = BAR_MM + 2.0
    canvas.path([(solid.left, y - 1.1), (solid.left, y), (right, y), (right, y - 1.1)], INK, 0.9)
    canvas.text(solid.left, y + 3.9, data.bracket_says, LABEL, weight="semibold")


def _parts(data: Strip) -> tuple[tuple[Amount, str, str], ...]:
    return (
        (data.diverted, "solid", N_("Diverted {value}")),
        (data.not_claimed, "hatched", N_("Not claimed {value}")),
        (data.thrown_away, "outline", N_("Thrown away {value}")),
    )


def _seen(amount: Amount) -> bool:
    return any(digit in "123456789" for digit in amount.text)


def _segments(data: Strip, look: Look) -> list[_Segment]:
    # What prints as nought has no side: it keeps its place in the order.
    parts = [(a if _seen(a) else Amount(0.0, a.text), kind, m) for a, kind, m in _parts(data)]
    below = sum(-a.value for a, _, _ in parts if a.value < 0)
    above = sum(a.value for a, _, _ in parts if a.value > 0)
    scale = look.width_mm / (below + above) if below + above > 0 else 0.0
    negative = [p for p in parts if p[0].value < 0]
    positive = [p for p in parts if p[0].value >= 0]
    out, x = [], 0.0
    for value, kind, message in (*negative, *positive):
        right = x + abs(value.value) * scale
        label = Text(message, {"value": value.text}).say(look.language)
        out.append(_Segment(x, right, label, "negative" if value.value < 0 else kind))
        x = right
    return out


def _draw(canvas: Canvas, segment: _Segment, look: Look) -> None:
    width = segment.right - segment.left
    if width <= 0.02:
        return
    if segment.kind == "solid":
        canvas.solid(segment.left, 0, width, BAR_MM, look.strong)
    elif segment.kind == "hatched":
        canvas.hatched(segment.left, 0, width, BAR_MM)
    elif segment.kind == "outline":
        canvas.outline(segment.left, 0, width, BAR_MM)
    else:
        corners = [(segment.left, 0.15), (segment.right, 0.15), (segment.right, BAR_MM - 0.15),
                   (segment.left, BAR_MM - 0.15), (segment.left, 0.15)]  # fmt: skip
        canvas.path(corners, INK, 0.8, (2.0, 1.6))


def _spread(wanted: Sequence[float], widths: Sequence[float], room: float) -> list[float] | None:
    """Return left edges near the wanted ones, in order, none meeting; None where the room is short."""
    if sum(widths) + _GAP_MM * (len(widths) - 1) > room:
        return None
    lefts: list[float] = []
    edge = 0.0
    for want, width in zip(wanted, widths, strict=True):
        lefts.append(max(want, edge))
        edge = lefts[-1] + width + _GAP_MM
    edge = room
    for i in reversed(range(len(lefts))):
        lefts[i] = min(lefts[i], edge - widths[i])
        edge = lefts[i] - _GAP_MM
    return lefts


def finding(data: Strip) -> Text:
    """Say how much of what came in was diverted, in everyday shares."""
    received, diverted = data.received.value, data.diverted.value
    if received <= 0:
        return Text(N_("Nothing was received"))
    share = diverted / received
    if diverted < 0:
        return Text(N_("More was taken back out than came in to be diverted"))
    if diverted == 0:
        return Text(N_("None of what came in was diverted"))
    if diverted == received:
        return Text(N_("All that came in was diverted"))
    for least, message in (
        (0.9, N_("Nearly all that came in was diverted")),
        (0.72, N_("Most of what came in was diverted")),
        (0.52, N_("More than half of what came in was diverted")),
        (0.48, N_("About half of what came in was diverted")),
        (0.1, N_("Less than half of what came in was diverted")),
    ):
        if share >= least:
            return Text(message)
    return Text(N_("Little of what came in was diverted"))


def note(data: Strip, language: str) -> str:
    """Return what the bar is, in which unit, and what each filling means."""
    negative = any(a.value < 0 and _seen(a) for a, _, _ in _parts(data))
    return sentences(
        language,
        Text(N_("Everything received, {value} {unit}. Solid: diverted. Slanting lines: received, "
                "not claimed. Open: thrown away."),
             {"value": data.received.text, "unit": data.unit}),
        Text(N_("Dashed, left of zero: an adjustment that takes back what was counted before."))
        if negative else None,
    )  # fmt: skip


def alt(data: Strip, language: str) -> str:
    """Return the balance in words."""
    whole = Text(
        N_("One bar for everything received, {received} {unit}: diverted {diverted}, not claimed "
           "{not_claimed}, thrown away {thrown_away}."),
        {"received": data.received.text, "unit": data.unit, "diverted": data.diverted.text,
         "not_claimed": data.not_claimed.text, "thrown_away": data.thrown_away.text},
    )  # fmt: skip
    share = Text(N_("A bracket under the diverted part: {share}."), {"share": data.bracket_says})
    return sentences(language, whole, share if data.bracket_says else None)
