"""A part of the board report: one finding, what shows it, and its numbers."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
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


def shows_nothing(values: Sequence[str]) -> bool:
    """Return whether a drawing of these values, as printed, would show nothing: one, or all alike."""
    return len(set(values)) < 2


def in_rows(sections: Iterable[Section]) -> tuple[tuple[Section, ...], ...]:
    """Return the sections in rows across the page: half ones in pairs, the others by themselves.

    A half one waits for the next of its kind; the last that finds none stands by itself.
    """
    rows: list[tuple[Section, ...]] = []
    waiting: Section | None = None
    for section in sections:
        if not section.half:
            rows.append((section,))
        elif waiting is None:
            waiting = section
        else:
            rows.append((waiting, section))
            waiting = None
    return (*rows, (waiting,)) if waiting is not None else tuple(rows)
