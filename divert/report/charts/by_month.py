"""Diverted by month or quarter, each beside the same one a year before."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from divert.core.words import N_, Text
from divert.figures.compare import Verdict
from divert.report.charts.canvas import LABEL, QUIET, SMALL, Anchor, Canvas, finished, text_box
from divert.report.charts.chart import Amount, Chart, Look, as_name, sentences
from divert.report.charts.upright import (
    OPEN_MM,
    Kind,
    Upright,
    base_line,
    column,
    stand,
    whisker,
    write_values,
)
from divert.report.charts.widths import width_mm, wrapped

HEIGHT_MM = 46.0
_WIDEST_COLUMN = 14.0
_WIDEST_SLOT = 58.0
_NO_ENTRIES = N_("no entries")


@dataclass(frozen=True, slots=True)
class MonthColumn:
    """One month or quarter.

    ``now`` is None where it has no entry, ``before`` where there is no year before;
    ``under`` stands small beneath the label (the year, or "to 25 Nov"); ``full`` marks those of the
    report's own period, ``partial`` one that had not ended.
    """

    label: str
    now: Amount | None
    before: Amount | None = None
    under: str = ""
    full: bool = True
    partial: bool = False
    name: str = ""  # in full, "June 2025", for sentences
    than_before: Verdict | None = None  # how it compares with the year before, where both are whole

    @property
    def full_name(self) -> str:
        """Return what a sentence calls it."""
        return self.name or f"{self.label} {self.under}".strip()


@dataclass(frozen=True, slots=True)
class ByMonth:
    """``measure`` and ``unit`` say what is drawn ("Diverted by the whole yard", "pounds");

    ``each`` is "month" or "quarter"; ``year_before`` is what the outlined ones are called ("2024").
    """

    columns: tuple[MonthColumn, ...]
    measure: str
    unit: str
    each: str = "month"
    year_before: str = ""


def by_month(data: ByMonth, look: Look) -> Chart:
    """Draw solid columns for this year beside open outlines for the year before."""
    canvas = Canvas(look.width_mm, HEIGHT_MM)
    columns = data.columns
    paired = any(c.before is not None for c in columns)
    drawn = [a for c in columns for a in (c.now, c.before) if a is not None]
    on = stand(
        canvas, [v for a in drawn for v in (a.top, a.bottom)], len(columns),
        share=0.36 if paired else 0.52, widest=(_WIDEST_SLOT, _WIDEST_COLUMN),
        under=any(c.under for c in columns), open_top=any(c.partial for c in columns),
    )  # fmt: skip
    scale, slot, wide, foot = on.scale, on.slot, on.wide, on.foot
    gap = min(1.4, slot * 0.045)

    spans: list[tuple[float, float, Amount, float]] = []
    for i, c in enumerate(columns):
        middle = on.middle(i)
        x = middle + gap / 2 if paired else middle - wide / 2
        if c.before is not None:
            column(canvas, scale, middle - gap / 2 - wide, wide, c.before.value, "outline", look)
        if c.now is not None:
            kind: Kind = "strong" if c.full else "pale"
            column(canvas, scale, x, wide, c.now.value, kind, look, c.partial)
            whisker(canvas, scale, x + wide / 2, wide, c.now, kind)
            spans.append((x, wide, c.now, OPEN_MM if c.partial else 0.0))
    base_line(canvas, scale)
    _labels_below(canvas, data, slot, foot)
    if spans:
        write_values(canvas, scale, spans)
    _say_no_entries(canvas, scale, data, look, slot, wide if paired else 0.0, gap)
    _name_year_before(canvas, scale, data, slot, wide, gap)
    return finished(
        canvas, finding(data), note(data, look.language), _alt(data, look.language), look
    )


def _labels_below(canvas: Canvas, data: ByMonth, slot: float, foot: float) -> None:
    widest = max((width_mm(c.label, LABEL) for c in data.columns), default=0.0)
    every = 1
    while widest + 1.0 > slot * every:
        every += 1
    for i, c in enumerate(data.columns):
        middle = (i + 0.5) * slot
        if i % every == 0:
            half = width_mm(c.label, LABEL) / 2
            at = min(max(middle, half), canvas.width - half)
            canvas.text(at, foot + 3.9, c.label, LABEL, "center")
        if c.under:
            half = width_mm(c.under, SMALL) / 2
            at = min(max(middle, half), canvas.width - half)
            box = text_box(at, foot + 7.4, c.under, SMALL, "center")
            if canvas.has_room(box):
                canvas.text(at, foot + 7.4, c.under, SMALL, "center", QUIET)


def _say_no_entries(
    canvas: Canvas, scale: Upright, data: ByMonth, look: Look, slot: float, wide: float, gap: float
) -> None:
    """Write where a column would stand that there is no entry; a dash where that is too long."""
    words = Text(_NO_ENTRIES).say(look.language)
    y = scale.zero - 1.4
    for i, c in enumerate(data.columns):
        if c.now is not None:
            continue
        left, right = i * slot, (i + 1) * slot
        at = (i + 0.5) * slot
        if c.before is not None:
            left, at = at, at + gap / 2 + wide / 2
        for lines in (wrapped(words, right - left - 1.2, SMALL, 2), ["\u2013"]):
            half = max(width_mm(line, SMALL) for line in lines) / 2
            x = min(max(at, left + half), right - half)
            places = [y - 3.1 * n for n in reversed(range(len(lines)))]
            boxes = [text_box(x, p, t, SMALL, "center") for p, t in zip(places, lines, strict=True)]
            if not any("\u2026" in t for t in lines) and all(map(canvas.has_room, boxes)):
                for p, t in zip(places, lines, strict=True):
                    canvas.text(x, p, t, SMALL, "center", QUIET)
                break


def _name_year_before(
    canvas: Canvas, scale: Upright, data: ByMonth, slot: float, wide: float, gap: float
) -> None:
    """Write the year before over the first outline that has room."""
    for i, c in enumerate(data.columns):
        if c.before is None or not data.year_before:
            continue
        x = (i + 0.5) * slot - gap / 2 - wide
        y = scale.y(max(c.before.value, 0.0)) - 1.1
        tries: tuple[tuple[float, Anchor], ...] = (
            (x + wide / 2, "center"), (x + wide, "right"), (x, "left"),
        )  # fmt: skip
        for at, anchor in tries:
            if canvas.has_room(text_box(at, y, data.year_before, SMALL, anchor)):
                canvas.text(at, y, data.year_before, SMALL, anchor, QUIET)
                return


def note(data: ByMonth, language: str) -> str:
    """Return measure and unit, and how line, outline and open columns are to be read."""
    measured = (
        Text(N_("{measure}, {unit} per month."), {"measure": data.measure, "unit": data.unit})
        if data.each == "month"
        else Text(N_("{measure}, {unit} per quarter."),
                  {"measure": data.measure, "unit": data.unit})
    )  # fmt: skip
    ranged = any(c.now is not None and c.now.low is not None for c in data.columns)
    return sentences(
        language,
        measured,
        Text(N_("Line: 90\u202f% range.")) if ranged else None,
        _outline_means(data),
        Text(N_("Paler: before this period.")) if any(not c.full for c in data.columns) else None,
        Text(N_("Open at the top: only part of it is counted."))
        if any(c.partial for c in data.columns)
        else None,
        Text(N_("No column: no entries.")) if any(c.now is None for c in data.columns) else None,
    )


def _outline_means(data: ByMonth) -> Text | None:
    if not any(c.before is not None for c in data.columns):
        return None
    if not data.year_before:
        return Text(N_("Outline: a year earlier."))
    if data.each == "month":
        return Text(N_("Outline: same month of {year}."), {"year": data.year_before})
    return Text(N_("Outline: same quarter of {year}."), {"year": data.year_before})


def finding(data: ByMonth) -> Text:
    """Say what the columns show: those that stand clear of the year before, by their own ranges."""
    known = [c for c in data.columns if c.now is not None]
    compared = [c for c in known if c.than_before is not None]
    if not known or all(c.now is not None and c.now.value == 0 for c in known):
        return Text(N_("Nothing was diverted in these months"))
    if not compared:
        return _without_a_year_before(known, data.each)
    up, down = (sum(c.than_before == side for c in compared) for side in ("more", "less"))
    month = data.each == "month"
    if len(compared) == 1:
        return Text(_ONE["more" if up else "less" if down else "about the same"])
    if len(known) == len(compared) and len(compared) in (up, down):
        return Text(_EVERY[month, bool(up)])
    if not up and not down:
        return Text(
            N_("No month stands clearly above or below the year before") if month
            else N_("No quarter stands clearly above or below the year before")
        )  # fmt: skip
    values = {"up": up, "down": down, "all": len(compared)}
    if up and down:
        return Text(
            N_("Clearly more than a year before in {up} of {all} months compared, clearly less in {down}")
            if month
            else N_("Clearly more than a year before in {up} of {all} quarters compared, clearly less in "
                    "{down}"),
            values,
        )  # fmt: skip
    return Text(_SOME[month, bool(up)], values)


_ONE = {
    "more": N_("More was diverted than a year before"),
    "less": N_("Less was diverted than a year before"),
    "about the same": N_("About as much was diverted as a year before"),
}
# (whether by month, whether more): where all, and where only some, stand clear of the year before.
_EVERY = {
    (True, True): N_("More was diverted in every month than a year before"),
    (True, False): N_("Less was diverted in every month than a year before"),
    (False, True): N_("More was diverted in every quarter than a year before"),
    (False, False): N_("Less was diverted in every quarter than a year before"),
}
_SOME = {
    (True, True): N_("Clearly more than a year before in {up} of {all} months compared"),
    (True, False): N_("Clearly less than a year before in {down} of {all} months compared"),
    (False, True): N_("Clearly more than a year before in {up} of {all} quarters compared"),
    (False, False): N_("Clearly less than a year before in {down} of {all} quarters compared"),
}


def _without_a_year_before(known: Sequence[MonthColumn], each: str) -> Text:
    """Say in which month most was diverted, where it stands clear of every other."""
    if len(known) == 1:
        return Text(N_("Only {month} is on record"), {"month": known[0].full_name})
    amounts = {c.full_name: c.now for c in known if c.now is not None}
    largest = max(amounts, key=lambda name: amounts[name].value)
    if all(amounts[largest].bottom > one.top for name, one in amounts.items() if name != largest):
        return Text(N_("Most was diverted in {month}"), {"month": largest})
    return Text(
        N_("What was diverted month by month") if each == "month"
        else N_("What was diverted quarter by quarter")
    )  # fmt: skip


def _alt(data: ByMonth, language: str) -> str:
    """Return every column in words."""
    parts: list[Text | None] = [
        Text(N_("Columns: {measure}, {unit}."), {"measure": data.measure, "unit": data.unit})
    ]
    year = ""
    for c in data.columns:
        # Who listens hears a year once, with the first month of it.
        full, said = c.full_name, year
        year = full.rpartition(" ")[2]
        name = as_name(full.removesuffix(f" {said}") if said == year else full)
        now = c.now.text if c.now else Text(_NO_ENTRIES)
        if c.before is None:
            parts.append(Text(N_("{label}: {value}."), {"label": name, "value": now}))
        else:
            parts.append(
                Text(N_("{label}: {value}, a year earlier {before}."),
                     {"label": name, "value": now, "before": c.before.text})
            )  # fmt: skip
    return sentences(language, *parts)
