"""A sheet to draw a chart on, in mm from the top left, written as SVG with real text.

Drawn with matplotlib's artists placed straight on the figure: a chart here has no axes, ticks or
frame, and leaving them out keeps a drawing to a few milliseconds.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from html import escape
from io import StringIO
from typing import Any, Literal

import matplotlib as mpl
from matplotlib.artist import Artist
from matplotlib.figure import Figure
from matplotlib.font_manager import FontProperties
from matplotlib.lines import Line2D
from matplotlib.patches import Circle, Polygon, Rectangle
from matplotlib.transforms import Affine2D

from divert.core.words import Text
from divert.report.charts.chart import Chart, Look
from divert.report.charts.widths import MM_PER_POINT, width_mm

INK = "#1f2d27"
QUIET = "#5b6762"  # 5.9:1 on white
RULE = "#8b9691"
HAIR = 0.6  # points
LABEL = 8.4  # points
SMALL = 7.6
_MM = 1 / 25.4
_HATCH_STEP_MM = 1.5

# Text stays text, and its fallback is the reader's own face: no list of matplotlib's.
_AS_TEXT: dict[Any, Any] = {"svg.fonttype": "none", "svg.hashsalt": "divert", "font.sans-serif": []}
_NO_METADATA = dict.fromkeys(("Creator", "Date", "Format", "Type"))

Anchor = Literal["left", "center", "right"]


@dataclass(frozen=True, slots=True)
class Box:
    """Where a text stands, in mm."""

    left: float
    top: float
    right: float
    bottom: float

    def meets(self, other: Box) -> bool:
        """Return whether two boxes share any area."""
        return (
            self.left < other.right
            and other.left < self.right
            and self.top < other.bottom
            and other.top < self.bottom
        )


def text_box(
    x: float, y: float, text: str, size: float = LABEL, anchor: Anchor = "left",
    weight: str = "regular",
) -> Box:  # fmt: skip
    """Return the box of a text whose baseline starts, centres or ends at (x, y)."""
    wide = width_mm(text, size, weight)
    left = {"left": x, "center": x - wide / 2, "right": x - wide}[anchor]
    return Box(left, y - 0.72 * size * MM_PER_POINT, left + wide, y + 0.22 * size * MM_PER_POINT)


class Label(Artist):
    """One line of text; what matplotlib's SVG writer asks of a text, without its own measuring."""

    def __init__(self, x: float, y: float, text: str, font: FontProperties, anchor: Anchor,
                 colour: str) -> None:  # fmt: skip
        super().__init__()
        self._at, self._text, self._font = (x, y), text, font
        self._anchor, self._colour = anchor, colour

    def draw(self, renderer: Any) -> None:
        """Write the text element."""
        gc = renderer.new_gc()
        gc.set_foreground(self._colour)
        x, y = self.get_transform().transform(self._at)
        renderer.draw_text(gc, x, renderer.height - y, self._text, self._font, 0, False, mtext=self)
        gc.restore()

    def get_unitless_position(self) -> tuple[float, float]:
        """Return the anchor."""
        return self._at

    def get_ha(self) -> str:
        """Return which end of the text the anchor is."""
        return self._anchor

    def get_rotation_mode(self) -> str:
        """Return that the text is anchored."""
        return "anchor"


class Canvas:
    """A drawing ``width`` by ``height`` mm; y runs down from the top.

    ``texts`` and ``shapes`` hold the box of everything placed that a text must keep clear of, so
    that a chart can see where room is left.
    """

    def __init__(self, width: float, height: float) -> None:
        self.width, self.height = width, height
        self.texts: list[Box] = []
        self.shapes: list[Box] = []
        self._drawn = 0
        self._figure = Figure(figsize=(width * _MM, height * _MM), dpi=72, facecolor="none")
        flip = Affine2D().scale(_MM, -_MM).translate(0, height * _MM)
        self._mm = flip + self._figure.dpi_scale_trans

    def _add(self, artist: Artist) -> None:
        artist.set_transform(self._mm)
        artist.set_zorder(self._drawn)  # in the order drawn
        self._drawn += 1
        self._figure.add_artist(artist)

    def solid(self, x: float, y: float, width: float, height: float, fill: str) -> None:
        """Fill a rectangle whose top left corner is (x, y)."""
        self._add(Rectangle((x, y), width, height, facecolor=fill, linewidth=0))

    def outline(
        self, x: float, y: float, width: float, height: float, colour: str = RULE,
        points: float = 0.9, open_side: Literal["top", "bottom", "right", ""] = "",
    ) -> None:  # fmt: skip
        """Draw a rectangle's edge, its line inside the rectangle, one side left open if named."""
        inset = points * MM_PER_POINT / 2
        left, right, top, bottom = x + inset, x + width - inset, y + inset, y + height - inset
        around = {
            "": [(left, top), (right, top), (right, bottom), (left, bottom)],
            "top": [(left, y), (left, bottom), (right, bottom), (right, y)],
            "bottom": [(left, y + height), (left, top), (right, top), (right, y + height)],
            "right": [(x + width, top), (left, top), (left, bottom), (x + width, bottom)],
        }[open_side]
        self._add(
            Polygon(around, closed=not open_side, fill=False, edgecolor=colour, linewidth=points,
                    joinstyle="miter", capstyle="butt")
        )  # fmt: skip

    def hatched(self, x: float, y: float, width: float, height: float, colour: str = QUIET) -> None:
        """Draw a rectangle filled with slanting lines and edged: what is not claimed."""
        start = x - height
        steps = int((width + height) / _HATCH_STEP_MM) + 1
        for i in range(1, steps + 1):
            foot = start + i * _HATCH_STEP_MM
            left, right = max(foot, x), min(foot + height, x + width)
            if right - left > 0.05:
                self.line(left, y + height - (left - foot), right, y + height - (right - foot),
                          colour, 0.7)  # fmt: skip
        self.outline(x, y, width, height, colour)

    def line(
        self, x1: float, y1: float, x2: float, y2: float, colour: str = INK, points: float = HAIR,
        dashes: tuple[float, ...] = (),
    ) -> None:  # fmt: skip
        """Draw a straight line; ``dashes`` are lengths on and off in points."""
        self.path([(x1, y1), (x2, y2)], colour, points, dashes)

    def path(
        self, points: list[tuple[float, float]], colour: str = INK, width: float = HAIR,
        dashes: tuple[float, ...] = (),
    ) -> None:  # fmt: skip
        """Draw a line through points."""
        xs, ys = zip(*points, strict=True)
        style: Any = (0, dashes) if dashes else "-"
        self._add(
            Line2D(xs, ys, color=colour, linewidth=width, linestyle=style,
                   solid_capstyle="butt", dash_capstyle="butt", solid_joinstyle="miter")
        )  # fmt: skip

    def polygon(self, points: list[tuple[float, float]], fill: str) -> None:
        """Fill a closed shape."""
        self._add(Polygon(points, closed=True, facecolor=fill, linewidth=0))

    def dot(self, x: float, y: float, radius: float, colour: str, *, filled: bool = True) -> None:
        """Draw a dot, or an open ring whose paper covers what lies beneath."""
        face, edge = (colour, 0.0) if filled else ("#ffffff", 0.9)
        self._add(
            Circle((x, y), radius, facecolor=face, edgecolor=colour, linewidth=edge)
        )  # fmt: skip

    def text(
        self, x: float, y: float, text: str, size: float = LABEL, anchor: Anchor = "left",
        colour: str = INK, weight: Literal["regular", "semibold"] = "regular",
    ) -> None:  # fmt: skip
        """Write one line of text with its baseline at y."""
        font = FontProperties(
            family=["Source Sans 3", "sans-serif"],
            size=size,
            weight=600 if weight == "semibold" else 400,
        )
        self.texts.append(text_box(x, y, text, size, anchor, weight))
        self._add(Label(x, y, text, font, anchor, colour))

    def has_room(self, box: Box, gap: float = 0.6) -> bool:
        """Return whether a text could stand here: on the sheet, clear of every text and shape."""
        if box.left < -0.01 or box.right > self.width + 0.01:
            return False
        if box.top < -0.01 or box.bottom > self.height + 0.01:
            return False
        wider = Box(box.left - gap, box.top, box.right + gap, box.bottom)
        return not any(wider.meets(other) for other in self.texts) and not any(
            Box(box.left - 0.4, box.top, box.right + 0.4, box.bottom).meets(other)
            for other in self.shapes
        )

    def svg(self, alt: str) -> str:
        """Return the drawing as an ``<svg>`` element that names itself to a screen reader."""
        out = StringIO()
        with mpl.rc_context(_AS_TEXT):
            self._figure.savefig(out, format="svg", metadata=_NO_METADATA)
        return _tidied(out.getvalue(), alt)


def finished(canvas: Canvas, finding: Text, note: str, told: str, look: Look) -> Chart:
    """Return the chart: its finding is the title, and opens what is told to whoever cannot see it."""
    title = finding.say(look.language)
    alt = f"{title}. {told}".strip()
    return Chart(canvas.svg(alt), title, note, alt)


def _tidied(written: str, alt: str) -> str:
    """Keep what an inline drawing needs: no prolog, no style sheet, no ids that meet on one page.

    Matplotlib has no setting for these: it begins a file of its own, numbers every group anew in each
    drawing, where a group's own id (set_gid) would still have to be unlike all others of the page, and
    indents. Its writer could be replaced only by methods that it does not publish.
    """
    body = written[written.index("<svg") :]
    body = re.sub(r"<defs>\s*<style.*?</style>\s*</defs>", "", body, flags=re.S)
    body = re.sub(r' id="[a-z]+[a-z0-9]*_\d+"', "", body)
    body = re.sub(r">\s+<", "><", body)
    label = escape(alt, quote=True)
    return body.replace("<svg ", f'<svg role="img" aria-label="{label}" ', 1).strip()
