"""Year on year: one column a reporting year, years that are not whole left open."""

from __future__ import annotations

from dataclasses import dataclass

from divert.core.words import N_, Text
from divert.figures.compare import Verdict
from divert.report.charts.canvas import INK, LABEL, QUIET, SMALL, Box, Canvas, finished, text_box
from divert.report.charts.chart import Amount, Chart, Look, sentences
from divert.report.charts.upright import (
    OPEN_MM,
    Upright,
    base_line,
    column,
    stand,
    whisker,
    write_values,
)
from divert.report.charts.widths import evenly, width_mm

HEIGHT_MM = 36.0
_WIDEST_SLOT = 30.0
_WIDEST_COLUMN = 15.0


@dataclass(frozen=True, slots=True)
class Year:
    """A reporting year; ``under`` says what is missing of a partial one ("from April", "to 25 Nov")."""

    label: str
    value: Amount
    target: Amount | None = None
    partial: bool = False
    under: str = ""
    than_before: Verdict | None = None  # how it compares with the year before it


@dataclass(frozen=True, slots=True)
class Years:
    """The years in order, and what is measured; ``uneven`` where gaps forbid to compare them."""

    years: tuple[Year, ...]
    measure: str
    unit: str
    uneven: bool = False


def years(data: Years, look: Look) -> Chart:
    """Draw a column a year, with its range and its target as a dashed line labelled at its end."""
    canvas = Canvas(look.width_mm, HEIGHT_MM)
    drawn = [y.value for y in data.years]
    values = [v for a in drawn for v in (a.top, a.bottom)]
    values += [y.target.value for y in data.years if y.target]
    on = stand(
        canvas, values, len(data.years), share=0.5, widest=(_WIDEST_SLOT, _WIDEST_COLUMN),
        under=any(y.under for y in data.years), open_top=any(y.partial for y in data.years),
    )  # fmt: skip
    scale, slot, wide, foot = on.scale, on.slot, on.wide, on.foot
    spans = []
    for i, year in enumerate(data.years):
        middle = on.middle(i)
        x = middle - wide / 2
        column(canvas, scale, x, wide, year.value.value, "strong", look, year.partial)
        whisker(canvas, scale, middle, wide, year.value, "strong")
        spans.append((x, wide, year.value, OPEN_MM if year.partial else 0.0))
        if year.under:
            box = text_box(middle, foot + 7.4, year.under, SMALL, "center")
            left = max(0.0, box.left)
            if canvas.has_room(text_box(left, foot + 7.4, year.under, SMALL)):
                canvas.text(left, foot + 7.4, year.under, SMALL, "left", QUIET)
    labels = [(on.middle(i), year.label) for i, year in enumerate(data.years)]
    for middle, label in evenly(labels, LABEL, 0.8):
        canvas.text(middle, foot + 3.9, label, LABEL, "center")
    base_line(canvas, scale)
    unnamed = _targets(canvas, scale, data, slot, wide, look.language)
    write_values(canvas, scale, spans)
    for x, y, text in unnamed:
        if canvas.has_room(text_box(x, y, text, SMALL)):
            canvas.text(x, y, text, SMALL)
    return finished(
        canvas, finding(data), note(data, look.language), alt(data, look.language), look
    )


def _targets(
    canvas: Canvas, scale: Upright, data: Years, slot: float, wide: float, language: str
) -> list[tuple[float, float, str]]:
    """Draw each target across its column, its number in the gap after it where that has room.

    The last one that has room for it says what it is. Returns the numbers that found none, each
    with where it may stand above its line once the columns have theirs.
    """
    gap = slot - wide
    aside = min(1.8, gap * 0.2)
    names: dict[int, tuple[str, float, float]] = {}  # words, where they start, their room
    for i, year in enumerate(data.years):
        if year.target is None:
            continue
        left = i * slot + gap / 2
        y, right = scale.y(year.target.value), left + wide
        on_column = y > scale.y(year.value.value)
        if on_column:  # light within the column, dark at its sides
            canvas.line(left - aside, y, left, y, INK, 0.9)
            canvas.line(left, y, right, y, "#ffffff", 0.9, (3.0, 2.0))
            canvas.line(right, y, right + aside, y, INK, 0.9)
        else:
            canvas.line(left - aside, y, right + aside, y, INK, 0.9, (3.0, 2.0))
        # Words keep a little off the line, above and below.
        canvas.shapes.append(Box(left - aside, y - 1.0, right + aside, y + 1.0))
        start = right + aside + 0.7
        end = canvas.width if i + 1 == len(data.years) else right + gap - aside - 0.6
        words = Text(N_("Target {value}"), {"value": year.target.text}).say(language)
        names[i] = (words, start, end - start)
    unnamed: list[tuple[float, float, str]] = []
    in_full = [i for i, (words, _, room) in names.items() if width_mm(words, SMALL) <= room][-1:]
    for i, (words, start, room) in names.items():
        target = data.years[i].target
        if target is None:
            continue
        text = words if i in in_full else target.text
        y, across = scale.y(target.value), width_mm(text, SMALL)
        if across <= room and canvas.has_room(text_box(start, y + 0.95, text, SMALL)):
            canvas.text(start, y + 0.95, text, SMALL)
        else:
            unnamed.append((start - 0.7 - across, y - 1.9, text))
    return unnamed


def finding(data: Years) -> Text:
    """Compare whole years only; a partial year is never set against a whole one."""
    if data.uneven:
        return Text(N_("The years so far"))
    whole = [y for y in data.years if not y.partial]
    if len(whole) < 2:
        if whole:
            return Text(N_("{year} is the first whole year"), {"year": whole[0].label})
        return Text(N_("No whole year yet"))
    steps = [y.than_before for y in whole[1:]]
    if len(steps) > 1 and all(s == "more" for s in steps):
        return Text(N_("More in every whole year than in the one before"))
    if len(steps) > 1 and all(s == "less" for s in steps):
        return Text(N_("Less in every whole year than in the one before"))
    then, last = whole[-2], whole[-1]
    message = {
        "more": N_("More in {year} than in {before}"),
        "less": N_("Less in {year} than in {before}"),
    }.get(steps[-1] or "", N_("About as much in {year} as in {before}"))
    return Text(message, {"year": last.label, "before": then.label})


def note(data: Years, language: str) -> str:
    """Return measure and unit, and how to read line, dashes and open columns."""
    return sentences(
        language,
        Text(N_("{measure}, {unit} per year."), {"measure": data.measure, "unit": data.unit}),
        Text(N_("Line: 90\u202f% range."))
        if any(y.value.low is not None for y in data.years) else None,
        Text(N_("Dashed: target.")) if any(y.target for y in data.years) else None,
        Text(N_("Open at the top: not a whole year."))
        if any(y.partial for y in data.years) else None,
    )  # fmt: skip


def alt(data: Years, language: str) -> str:
    """Return every year in words."""
    parts: list[Text | None] = [
        Text(N_("Columns: {measure}, {unit}."), {"measure": data.measure, "unit": data.unit})
    ]
    for y in data.years:
        values = {"label": f"{y.label} {y.under}".strip(), "value": y.value.text}
        if y.target:
            message = N_("The year {label} came to {value}, against a target of {target}.")
            parts.append(Text(message, {**values, "target": y.target.text}))
        else:
            parts.append(Text(N_("The year {label} came to {value} in all."), values))
    return sentences(language, *parts)
