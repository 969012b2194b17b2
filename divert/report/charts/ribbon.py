"""Where it went: from what was received, over what was diverted, to product and the places it left for.

Heights are to scale. Between diverted and product the band is broken: material takes months to become
product and loses most of its mass on the way, so a harvest comes of earlier loads.
"""

from __future__ import annotations

from dataclasses import dataclass

from divert.core.words import N_, Text
from divert.report.charts.canvas import INK, LABEL, RULE, SMALL, Canvas, finished
from divert.report.charts.chart import Amount, Chart, Look, sentences
from divert.report.charts.widths import width_mm

HEIGHT_MM = 40.0
_TOP_MM, _BAND_MM = 5.4, 31.0
_BAR_MM = 5.0
_LEAST_MM = 3.9  # a line of text
_MOST_PLACES = 6


@dataclass(frozen=True, slots=True)
class Lot:
    """What was harvested for one place: "worm castings, school gardens"."""

    what: str
    amount: Amount


@dataclass(frozen=True, slots=True)
class Ribbon:
    """Masses in one unit; ``product`` is everything harvested, ``lots`` its parts."""

    received: Amount
    diverted: Amount
    not_claimed: Amount
    thrown_away: Amount
    product: Amount
    lots: tuple[Lot, ...]
    unit: str


def ribbon(data: Ribbon, look: Look) -> Chart:
    """Draw three upright bars joined by bands, and a band to each place on the right."""
    canvas = Canvas(look.width_mm, HEIGHT_MM)
    scale = _BAND_MM / max(data.received.value, data.product.value, 1e-9)
    xs = (0.0, look.width_mm * 0.27, look.width_mm * 0.52, look.width_mm * 0.66)
    kept = max(0.0, data.diverted.value) * scale
    taken = [max(0.0, part.value) * scale for part in (data.not_claimed, data.thrown_away)]
    whole = max(0.0, data.received.value) * scale
    _bar(canvas, xs[0], whole, INK_BAR, look)
    _band(canvas, (xs[0] + _BAR_MM, _TOP_MM, kept), (xs[1], _TOP_MM, kept), look.pale)
    _bar(canvas, xs[1], kept, "strong", look)
    _dropped(canvas, data, xs, kept, taken)
    product = data.product.value * scale
    _broken(canvas, xs[1] + _BAR_MM, kept, xs[2], product)
    _bar(canvas, xs[2], product, "strong", look)
    _places(canvas, data, xs[2] + _BAR_MM, xs[3], scale, look)
    for x, message, value in (
        (xs[0], N_("Received {value}"), data.received),
        (xs[1], N_("Diverted {value}"), data.diverted),
        (xs[2], N_("Harvested {value}"), data.product),
    ):
        canvas.text(x, 3.6, Text(message, {"value": value.text}).say(look.language), LABEL,
                    weight="semibold")  # fmt: skip
    return finished(
        canvas, finding(data), note(data, look.language), alt(data, look.language), look
    )


INK_BAR = "ink"


def _bar(canvas: Canvas, x: float, tall: float, kind: str, look: Look) -> None:
    canvas.solid(x, _TOP_MM, _BAR_MM, max(tall, 0.25), INK if kind == INK_BAR else look.strong)


Side = tuple[float, float, float]  # x, top, height


def _band(canvas: Canvas, left: Side, right: Side, fill: str) -> None:
    (x1, y1, h1), (x2, y2, h2) = left, right
    if min(h1, h2) <= 0.02:
        return
    middle = (x1 + x2) / 2
    upper = [_curve(x1, y1, x2, y2, middle, t / 12) for t in range(13)]
    lower = [_curve(x1, y1 + h1, x2, y2 + h2, middle, t / 12) for t in range(12, -1, -1)]
    canvas.polygon([*upper, *lower], fill)


def _curve(
    x1: float, y1: float, x2: float, y2: float, middle: float, t: float
) -> tuple[float, float]:
    """Return a point of a cubic curve that leaves and arrives level."""
    a, b, c, d = (1 - t) ** 3, 3 * t * (1 - t) ** 2, 3 * t * t * (1 - t), t**3
    return a * x1 + b * middle + c * middle + d * x2, a * y1 + b * y1 + c * y2 + d * y2


def _dropped(
    canvas: Canvas, data: Ribbon, xs: tuple[float, ...], kept: float, taken: list[float]
) -> None:
    """Draw what never became diverted below it: slanting lines and an open edge, as on the strip."""
    y = _TOP_MM + kept
    end = xs[0] + _BAR_MM + (xs[1] - xs[0]) * 0.34
    for tall, hatch in zip(taken, (True, False), strict=True):
        if tall > 0.3:
            draw = canvas.hatched if hatch else canvas.outline
            draw(xs[0] + _BAR_MM, y, end - xs[0] - _BAR_MM, tall)
        y += tall


def _broken(canvas: Canvas, x1: float, h1: float, x2: float, h2: float) -> None:
    """Draw the way from diverted to product as dashed edges: it is not the same load."""
    for y1, y2 in ((_TOP_MM, _TOP_MM), (_TOP_MM + h1, _TOP_MM + h2)):
        points = [_curve(x1, y1, x2, y2, (x1 + x2) / 2, t / 12) for t in range(13)]
        canvas.path(points, RULE, 0.8, (2.0, 1.8))


def _places(canvas: Canvas, data: Ribbon, x1: float, x2: float, scale: float, look: Look) -> None:
    shown = _shown(data)
    talls = [max(0.0, lot.amount.value) * scale for lot in shown]
    places = _places_at(talls)
    y = _TOP_MM
    for lot, tall, at in zip(shown, talls, places, strict=False):
        _band(canvas, (x1, y, tall), (x2, at, max(min(tall, _LEAST_MM), 0.6)), look.pale)
        text = f"{lot.amount.text} {data.unit} {lot.what}"
        canvas.text(x2 + 1.6, at + 2.9, _cut(text, canvas.width - x2 - 1.6), SMALL)
        y += tall
    more = len(data.lots) - len(shown)
    if more:
        said = Text(N_("and {count} more"), {"count": more}).say(look.language)
        canvas.text(x2 + 1.6, max([_TOP_MM, *places]) + _LEAST_MM + 2.9, said, SMALL)


def _shown(data: Ribbon) -> tuple[Lot, ...]:
    """Return the lots that have a line of their own; one line is kept for what is more."""
    return data.lots if len(data.lots) <= _MOST_PLACES else data.lots[: _MOST_PLACES - 1]


def _places_at(talls: list[float]) -> list[float]:
    """Return the top of each lot's line: at its own part of the bar, a line of text apart at least."""
    out: list[float] = []
    part = _TOP_MM
    for tall in talls:
        out.append(max(part, out[-1] + _LEAST_MM) if out else part)
        part += tall
    lowest = _TOP_MM + _BAND_MM - _LEAST_MM
    for i in reversed(range(len(out))):
        out[i] = min(out[i], lowest)
        lowest = out[i] - _LEAST_MM
    return out


def _cut(text: str, room: float) -> str:
    if width_mm(text, SMALL) <= room:
        return text
    while text and width_mm(f"{text}\u2026", SMALL) > room:
        text = text[:-1]
    return f"{text.rstrip(' ,;')}\u2026"


def finding(data: Ribbon) -> Text:
    """Say what the ribbon leads to."""
    return Text(N_("Where it went")) if data.lots else Text(N_("Where it stands"))


def note(data: Ribbon, language: str) -> str:
    """Return unit and scope, and that a harvest comes of earlier loads."""
    return sentences(
        language,
        Text(N_("The whole site, {unit}, to scale."), {"unit": data.unit}),
        Text(N_("Dashed: composting takes months, so this harvest comes of earlier loads.")),
    )


def alt(data: Ribbon, language: str) -> str:
    """Return the ribbon in words."""
    lots = [
        Text(
            N_("{value} of {what}."), {"value": f"{lot.amount.text} {data.unit}", "what": lot.what}
        )
        for lot in data.lots
    ]
    return sentences(
        language,
        Text(N_("Received {received} {unit}, of which diverted {diverted}; harvested of earlier loads "
                "{product}."),
             {"received": data.received.text, "unit": data.unit, "diverted": data.diverted.text,
              "product": data.product.text}),
        *lots,
    )  # fmt: skip
