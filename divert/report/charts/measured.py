"""How much was weighed and how much estimated from volume, quarter by quarter."""

from __future__ import annotations

from dataclasses import dataclass

from divert.core.words import N_, Text
from divert.report.charts.canvas import LABEL, QUIET, SMALL, Canvas, finished, text_box
from divert.report.charts.chart import Amount, Chart, Look, sentences
from divert.report.charts.upright import OPEN_MM, VALUE_GAP, base_line, stand
from divert.report.charts.widths import width_mm

HEIGHT_MM = 42.0
MOST = 12
_WIDEST_COLUMN = 14.0
_WIDEST_SLOT = 30.0
_ABOUT = 0.015  # a share that prints as 49 to 51 % is about half


@dataclass(frozen=True, slots=True)
class Stretch:
    """One quarter: both masses in print units and the weighed share as printed ("58 %")."""

    label: str
    weighed: Amount
    estimated: Amount
    share_text: str
    under: str = ""
    partial: bool = False


@dataclass(frozen=True, slots=True)
class Measured:
    """The quarters in order."""

    stretches: tuple[Stretch, ...]
    measure: str
    unit: str


def measured(data: Measured, look: Look) -> Chart:
    """Draw a column a quarter: weighed solid below, estimated as outline on top, the share over it."""
    canvas = Canvas(look.width_mm, HEIGHT_MM)
    shown = data.stretches[-MOST:]
    tops = [max(0.0, s.weighed.value) + max(0.0, s.estimated.value) for s in shown]
    on = stand(
        canvas, tops, len(shown), share=0.55, widest=(_WIDEST_SLOT, _WIDEST_COLUMN),
        under=any(s.under for s in shown), open_top=any(s.partial for s in shown),
    )  # fmt: skip
    scale, slot, wide, foot = on.scale, on.slot, on.wide, on.foot
    for i, (s, top) in enumerate(zip(shown, tops, strict=True)):
        middle = on.middle(i)
        x, y_weighed, y_top = middle - wide / 2, scale.y(max(0.0, s.weighed.value)), scale.y(top)
        canvas.solid(x, y_weighed, wide, scale.zero - y_weighed, look.strong)
        if y_weighed - y_top > 0.05:
            canvas.outline(x, y_top, wide, y_weighed - y_top, look.strong,
                           open_side="top" if s.partial else "")  # fmt: skip
        if s.partial:
            for side in (x + 0.12, x + wide - 0.12):
                canvas.line(side, y_top, side, y_top - OPEN_MM, look.strong, 0.7, (1.6, 1.2))
        lift = OPEN_MM if s.partial else 0.0
        y = y_top - VALUE_GAP - lift
        if canvas.has_room(text_box(middle, y, s.share_text, LABEL, "center")):
            canvas.text(middle, y, s.share_text, LABEL, "center")
        if width_mm(s.label, LABEL) <= slot:
            canvas.text(middle, foot + 3.9, s.label, LABEL, "center")
        if s.under and canvas.has_room(text_box(middle, foot + 7.4, s.under, SMALL, "center")):
            canvas.text(middle, foot + 7.4, s.under, SMALL, "center", QUIET)
    base_line(canvas, scale)
    return finished(
        canvas, finding(data), note(data, look.language), alt(data, look.language), look
    )


def finding(data: Measured) -> Text:
    """Say how much is weighed, and whether the later half of the quarters weighed more of it."""
    shown = [s for s in data.stretches[-MOST:] if s.weighed.value + s.estimated.value > 0]
    if not shown:
        return Text(N_("Nothing was received"))
    share = _share(shown)
    if share <= 0:
        return Text(N_("Nothing was weighed"))
    if share >= 1:
        return Text(N_("Everything was weighed"))
    if share > 0.9:
        return Text(N_("Nearly everything was weighed"))
    if len(shown) >= 4:
        half = len(shown) // 2
        rise = _share(shown[half:]) - _share(shown[:half])
        if rise >= 0.1:
            return Text(N_("A growing share is weighed"))
        if rise <= -0.1:
            return Text(N_("A shrinking share is weighed"))
    if abs(share - 0.5) < _ABOUT:
        return Text(N_("About half is weighed"))
    if share > 0.5:
        return Text(N_("More is weighed than estimated"))
    return Text(N_("More is estimated than weighed"))


def _share(stretches: list[Stretch]) -> float:
    weighed = sum(s.weighed.value for s in stretches)
    whole = weighed + sum(s.estimated.value for s in stretches)
    return weighed / whole if whole else 0.0


def note(data: Measured, language: str) -> str:
    """Return measure and unit, and how to read the columns."""
    partial = any(s.partial for s in data.stretches[-MOST:])
    return sentences(
        language,
        Text(N_("{measure}, {unit} per quarter."), {"measure": data.measure, "unit": data.unit}),
        Text(N_("Solid: weighed. Outline: estimated from volume. Above: the weighed share.")),
        Text(N_("Open at the top: not over yet.")) if partial else None,
    )


def alt(data: Measured, language: str) -> str:
    """Return every quarter in words."""
    return sentences(
        language,
        Text(N_("Columns: {measure}, {unit}."), {"measure": data.measure, "unit": data.unit}),
        *(
            Text(N_("{label}: weighed {weighed}, estimated {estimated}, weighed share {share}."),
                 {"label": f"{s.label} {s.under}".strip(), "weighed": s.weighed.text,
                  "estimated": s.estimated.text, "share": s.share_text})
            for s in data.stretches[-MOST:]
        ),
    )  # fmt: skip
