"""A part of the board report: one finding, what shows it, and its numbers."""

from __future__ import annotations

from dataclasses import dataclass

from markupsafe import Markup

from divert.report.drawn import Drawn
from divert.report.tables import Table


@dataclass(frozen=True, slots=True)
class Section:
    """A finding as ``title``, a ``note`` on what is shown, a drawing, tables and sentences.

    Any of them may be missing; ``tables`` stand side by side where there are two. A narrow drawing
    stands ``beside`` its table.
    """

    title: str
    note: str = ""
    drawing: Drawn | None = None
    tables: tuple[Table, ...] = ()
    words: tuple[Markup, ...] = ()
    beside: bool = False


def of_drawing(
    shown: Drawn, tables: tuple[Table, ...] = (), words: tuple[Markup, ...] = (),
    *, beside: bool = False,
) -> Section:  # fmt: skip
    """Return a section that a drawing leads: its finding is the title."""
    return Section(shown.title, shown.note, shown, tables, words, beside)
