"""Materials of which nobody has said where they went before: not claimed, and not known."""

from __future__ import annotations

from collections.abc import Iterable

from divert.figures.contract import Figures, Part

_ASKED = "usual fate not stated"


def unstated(figures: Figures, parts: Iterable[Part]) -> tuple[str, ...]:
    """Return the materials among parts that are not claimed only because nobody has told."""
    open_names = {f.name for f in figures.findings if f.code == _ASKED and f.answer is None}
    return tuple(p.name for p in parts if p.not_claimed.central > 0 and p.name in open_names)
