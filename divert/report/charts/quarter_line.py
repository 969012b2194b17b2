"""One figure by quarter as a line: each point with its value, broken where nothing is recorded."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from divert.core.words import N_, Text
from divert.report.charts.canvas import LABEL, QUIET, SMALL, Box, Canvas, finished, text_box
from divert.report.charts.chart import Amount, Chart, Look, sentences
from divert.report.charts.upright import base_line, upright
from divert.report.charts.widths import evenly

HEIGHT_MM = 35.0
MOST = 12
FEWEST = 3  # fewer points make no line
_DOT_MM = 0.95
_WIDEST_SLOT = 22.0


@dataclass(frozen=True, slots=True)
class Point:
    """A quarter ("Q2"), its value or None where none is recorded, and the year beneath it."""

    label: str
    value: Amount | None
    under: str = ""
    partial: bool = False


@dataclass(frozen=True, slots=True)
class QuarterLine:
    """The quarters in order; ``measure`` says what is drawn, with its unit."""

    points: tuple[Point, ...]
    finding: Text
    measure: Text


def worth_drawing(points: Sequence[Point]) -> bool:
    """Return whether a line shows anything: enough points, and not all alike."""
    known = {p.value.text for p in points if p.value is not None}
    return sum(p.value is not None for p in points) >= FEWEST and len(known) > 1


def quarter_line(data: QuarterLine, look: Look) -> Chart:
    """Draw the line over a base line at zero; a quarter not over yet ends in an open dot."""
    canvas = Canvas(look.width_mm, HEIGHT_MM)
    foot = HEIGHT_MM - 8.4
    scale = upright([p.value.value for p in data.points if p.value is not None], 5.4, foot)
    slot = min(_WIDEST_SLOT, look.width_mm / max(1, len(data.points)))
    xs = [(i + 0.5) * slot for i in range(len(data.points))]
    placed = [
        (x, scale.y(p.value.value), p) for x, p in zip(xs, data.points, strict=True)
        if p.value is not None
    ]  # fmt: skip
    for run in _runs(xs, data.points):
        line = [(x, scale.y(v)) for x, v in run]
        if len(line) > 1:
            canvas.path(line, look.strong, 1.6)
            canvas.shapes += [
                Box(x - 0.3, y - 0.3, x + 0.3, y + 0.3) for x, y in _between(line)
            ]  # fmt: skip
    base_line(canvas, scale)
    for x, y, point in placed:
        canvas.dot(x, y, _DOT_MM, look.strong, filled=not point.partial)
    for x, y, point in [*placed[-1:], *placed[:-1]]:  # the latest first: it must have its value
        assert point.value is not None
        for base in (y - 2.0, y + 4.6, y - 3.6):
            if canvas.has_room(text_box(x, base, point.value.text, LABEL, "center")):
                canvas.text(x, base, point.value.text, LABEL, "center")
                break
    for x, label in evenly(
        [(x, p.label) for x, p in zip(xs, data.points, strict=True)], LABEL, 0.8
    ):
        canvas.text(x, foot + 3.9, label, LABEL, "center")
    for x, point in zip(xs, data.points, strict=True):
        if point.under and canvas.has_room(text_box(x, foot + 7.4, point.under, SMALL, "center")):
            canvas.text(x, foot + 7.4, point.under, SMALL, "center", QUIET)
    return finished(canvas, data.finding, note(data, look.language), alt(data, look.language), look)


def _runs(xs: Sequence[float], points: Sequence[Point]) -> list[list[tuple[float, float]]]:
    """Return the stretches of points with no gap between them."""
    out: list[list[tuple[float, float]]] = [[]]
    for x, point in zip(xs, points, strict=True):
        if point.value is None:
            out.append([])
        else:
            out[-1].append((x, point.value.value))
    return [run for run in out if run]


def _between(line: list[tuple[float, float]]) -> list[tuple[float, float]]:
    """Return places along a line that words keep clear of."""
    out = []
    for (x1, y1), (x2, y2) in pairwise(line):
        out += [(x1 + (x2 - x1) * t / 6, y1 + (y2 - y1) * t / 6) for t in range(1, 6)]
    return out


def note(data: QuarterLine, language: str) -> str:
    """Return what is drawn, and how to read an open dot and a gap."""
    return sentences(
        language,
        data.measure,
        Text(N_("Open dot: not over yet.")) if any(p.partial for p in data.points) else None,
        Text(N_("A gap: nothing recorded.")) if any(p.value is None for p in data.points) else None,
    )


def alt(data: QuarterLine, language: str) -> str:
    """Return every quarter in words."""
    year, told = "", []
    for p in data.points:
        year = p.under or year
        name = f"{p.label} {year}".strip()
        if p.value is None:
            told.append(Text(N_("{label}: nothing recorded."), {"label": name}))
        else:
            told.append(Text(N_("{label}: {value}."), {"label": name, "value": p.value.text}))
    return sentences(language, *told)
