"""The upright scale of a chart of columns: zero always on it, a line at zero, nothing else."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Literal

from divert.report.charts.canvas import INK, LABEL, RULE, Anchor, Box, Canvas, text_box
from divert.report.charts.chart import Amount, Look

VALUE_GAP = 1.2  # mm between a column's highest point and its value
TEXT_HEIGHT = 3.2
OPEN_MM = 2.6  # how far the sides of an open column stand above its filling


@dataclass(frozen=True, slots=True)
class Upright:
    """Turns a value into mm from the top; ``zero`` is where the base line lies."""

    top: float
    foot: float
    highest: float
    lowest: float

    def y(self, value: float) -> float:
        """Return the height of a value, mm from the top of the sheet."""
        return self.foot - (value - self.lowest) * (self.foot - self.top) / (
            self.highest - self.lowest
        )

    @property
    def zero(self) -> float:
        """Return where zero lies."""
        return self.y(0.0)


def upright(values: Iterable[float], top: float, foot: float) -> Upright:
    """Return the scale between ``top`` and ``foot`` mm that holds zero and every value."""
    held = [0.0, *values]
    highest, lowest = max(held), min(held)
    if highest == lowest:
        highest = 1.0
    # Leave room below the lowest column for its value.
    if lowest < 0:
        foot -= TEXT_HEIGHT + VALUE_GAP
    return Upright(top, foot, highest, lowest)


Kind = Literal["strong", "pale", "outline"]


def column(
    canvas: Canvas, scale: Upright, x: float, width: float, value: float, kind: Kind, look: Look,
    partial: bool = False,
) -> None:  # fmt: skip
    """Draw one column from zero, downwards where negative; a partial one stays open at its end."""
    far, zero = scale.y(value), scale.zero
    top, height = min(far, zero), abs(far - zero)
    canvas.shapes.append(Box(x, top, x + width, top + height))
    up = value >= 0
    end = ("top" if up else "bottom") if partial else ""
    if kind == "outline":
        if height > 0.05:
            canvas.outline(x, top, width, height, RULE, open_side=end)  # type: ignore[arg-type]
        return
    canvas.solid(x, top, width, height, look.strong if kind == "strong" else look.pale)
    if kind == "pale" and height > 0.4:
        canvas.outline(x, top, width, height, look.strong, 0.5, end)  # type: ignore[arg-type]
    if partial:
        step = -OPEN_MM if up else OPEN_MM
        for side in (x + 0.12, x + width - 0.12):
            canvas.line(side, far, side, far + step, look.strong, 0.7, (1.6, 1.2))


def whisker(
    canvas: Canvas, scale: Upright, x: float, width: float, amount: Amount, kind: Kind
) -> None:
    """Draw an amount's range as a thin line with ends: light on a strong column, dark beyond it."""
    if amount.low is None or amount.high is None:
        return
    low, high = scale.y(amount.low), scale.y(amount.high)
    if low - high < 0.5:
        return  # narrower than its own ends
    end, on = min(0.8, width * 0.24), "#ffffff" if kind == "strong" else INK
    bar_top, bar_foot = sorted((scale.y(amount.value), scale.zero))
    for top, foot, colour in (
        (high, min(low, bar_top), INK),
        (max(high, bar_top), min(low, bar_foot), on),
        (max(high, bar_foot), low, INK),
    ):
        if foot > top:
            canvas.line(x, top, x, foot, colour, 0.9)
    for y in (low, high):
        colour = on if bar_top < y < bar_foot else INK
        canvas.line(x - end, y, x + end, y, colour, 0.9)


@dataclass(frozen=True, slots=True)
class Place:
    """Where a text would stand."""

    x: float
    y: float
    anchor: Anchor
    box: Box


def place_of_value(
    canvas: Canvas, scale: Upright, x: float, width: float, amount: Amount, lift: float = 0.0
) -> Place | None:
    """Return where an amount can stand at the end of its column, clear of all else, or None."""
    if amount.value >= 0:
        y = scale.y(amount.top) - VALUE_GAP - lift
    else:
        y = scale.y(amount.bottom) + VALUE_GAP + TEXT_HEIGHT - 0.8 + lift
    tries: tuple[tuple[float, Anchor], ...] = (
        (x + width / 2, "center"), (x, "left"), (x + width, "right"),
    )  # fmt: skip
    away = -1.0 if amount.value >= 0 else 1.0
    for further in (0.0, 2.0, 4.0):  # past a line that runs just there
        for at, anchor in tries:
            base = y + away * further
            box = text_box(at, base, amount.text, LABEL, anchor)
            if canvas.has_room(box):
                return Place(at, base, anchor, box)
    return None


def write_values(
    canvas: Canvas, scale: Upright, columns: Sequence[tuple[float, float, Amount, float]]
) -> None:
    """Write every amount at its column if all have room; else only the largest and the latest.

    ``columns`` are (left edge, width, amount, lift) in mm, in order of time.
    """
    placed = [place_of_value(canvas, scale, *column) for column in columns]
    boxes = [p.box for p in placed if p is not None]
    clear = all(not a.meets(b) for i, a in enumerate(boxes) for b in boxes[i + 1 :])
    if len(boxes) == len(columns) and clear:
        chosen = list(columns)
    else:
        largest = max(columns, key=lambda c: c[2].value)
        chosen = [largest, columns[-1]] if columns[-1] is not largest else [largest]
    for x, width, value, lift in chosen:
        place = place_of_value(canvas, scale, x, width, value, lift)
        if place is not None:
            canvas.text(place.x, place.y, value.text, LABEL, place.anchor)


@dataclass(frozen=True, slots=True)
class Stand:
    """Where the columns of a chart stand: their scale, the mm of a slot and of a column in it."""

    scale: Upright
    slot: float
    wide: float
    foot: float

    def middle(self, place: int) -> float:
        """Return the middle of a column by its place, mm from the left."""
        return (place + 0.5) * self.slot


def stand(
    canvas: Canvas, values: Iterable[float], columns: int, *, share: float, widest: tuple[float, float],
    under: bool, open_top: bool,
) -> Stand:  # fmt: skip
    """Return how columns stand on a sheet with one line of labels beneath, two where ``under``.

    ``share`` is a column's part of its slot; ``widest`` the most mm of a slot and of a column;
    ``open_top`` leaves room for the sides of a column that is not over.
    """
    foot = canvas.height - (8.4 if under else 4.8)
    head = TEXT_HEIGHT + VALUE_GAP + (OPEN_MM if open_top else 0.0)
    slot = min(widest[0], canvas.width / max(1, columns))
    held = list(values)
    lowest = foot - (OPEN_MM if open_top and min([0.0, *held]) < 0 else 0.0)
    return Stand(upright(held, head, lowest), slot, min(widest[1], slot * share), foot)


def base_line(canvas: Canvas, scale: Upright) -> None:
    """Draw the line at zero across the sheet."""
    canvas.line(0, scale.zero, canvas.width, scale.zero, RULE, 0.8)
