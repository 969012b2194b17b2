"""Materials of which nobody has said where they went before: the list's usual fate speaks for them."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from markupsafe import Markup

from divert.core.words import N_, Text
from divert.figures.contract import AssumedFate, Figures, Part
from divert.figures.numbers.printed import Printer
from divert.report.charts.chart import in_sentence
from divert.report.wording.material_names import material_name

_ASKED = "usual fate not stated"


def unstated(figures: Figures, parts: Iterable[Part]) -> tuple[str, ...]:
    """Return the materials among parts that are not claimed only because nobody has told."""
    open_names = {f.name for f in figures.findings if f.code == _ASKED and f.answer is None}
    return tuple(p.name for p in parts if p.not_claimed.central > 0 and p.name in open_names)


def assumed_sentence(fate: AssumedFate | None, key: str, printer: Printer) -> Markup | None:
    """Return which share of what is claimed rests on an assumed fate; None where none does.

    ``key``: the path of the figure, "assumed_fate" or a sponsor's own.
    """
    if fate is None or fate.assumed_kg <= 0:
        return None
    share = printer.share(f"{key}.share", fate.share)
    return printer.say(
        Text(N_("Of what is claimed, {share} rests on an assumed fate: nobody has stated where it went "
                "before."), {"share": printer.with_unit(share)})
    )  # fmt: skip


def not_told_sentence(names: Sequence[str], printer: Printer) -> Markup:
    """Return that nobody has told of some materials where they went before, and what stands for it."""
    said = printer.names([in_sentence(material_name(name, printer)) for name in names])
    return printer.say(
        Text(N_("Of {names} nobody has told yet where it went before; what usually becomes of it stands "
                "here until then."), {"names": said})
    )  # fmt: skip
