"""A part of the board report: one finding, what shows it, and its numbers."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from markupsafe import Markup

from divert.figures.numbers.tables import Table
from divert.report.charts.drawn import Drawn


@dataclass(frozen=True, slots=True)
class Section:
    """A finding as ``title``, a ``note`` on what is shown, a drawing, tables and sentences.

    Any of them may be missing; ``tables`` stand side by side where there are two. A narrow drawing
    stands ``beside`` its table; a ``half`` section is as wide as half the page, and stands beside
    the next one of its kind.
    """

    title: str
    note: str = ""
    drawing: Drawn | None = None
    tables: tuple[Table, ...] = ()
    words: tuple[Markup, ...] = ()
    beside: bool = False
    half: bool = False


def of_drawing(
    shown: Drawn, tables: tuple[Table, ...] = (), words: tuple[Markup, ...] = (),
    *, beside: bool = False, half: bool = False,
) -> Section:  # fmt: skip
    """Return a section that a drawing leads: its finding is the title."""
    return Section(shown.title, shown.note, shown, tables, words, beside, half)


def in_rows(sections: Iterable[Section]) -> tuple[tuple[Section, ...], ...]:
    """Return the sections in rows across the page: half ones in pairs, the others by themselves."""
    rows: list[tuple[Section, ...]] = []
    for section in sections:
        last = rows[-1] if rows else ()
        if section.half and len(last) == 1 and last[0].half:
            rows[-1] = (*last, section)
        else:
            rows.append((section,))
    return tuple(rows)
