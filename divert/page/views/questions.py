"""The open questions, that on which most mass hangs first, and the lines that each answer writes."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING

from flask import Blueprint, redirect, request
from werkzeug.wrappers import Response

from divert.core.findings import CannotRun
from divert.core.words import N_, Text
from divert.page.desk import Seen
from divert.page.grid import RowShown, sheet_shown
from divert.page.house import house
from divert.page.open_yard import needs_reading, the_desk
from divert.page.questions import Choice, Question, Signed
from divert.page.screen import screen
from divert.page.views.changing import change, refused, remember
from divert.site.change import Change, Edit

if TYPE_CHECKING:
    from divert.figures.contract import Mass

blueprint = Blueprint("questions", __name__)
AT_ONCE = 6  # questions that are laid out in full; the others as a list
LEAST = 1e-4  # of the total: answers that lead to totals this near lead to the same
MUCH = 0.01  # of all received: what hangs less than this is said to be almost nothing


@dataclass(frozen=True, slots=True)
class Asked:
    """A question with what the view shows beside it: ``cells`` are (heading, text, whether it is asked
    about), without the empty ones at the row's end."""

    question: Question
    row: RowShown | None
    cells: tuple[tuple[str, str, bool], ...]
    usual: Change | None
    becomes: Mapping[str, Mass | None]

    @property
    def decides(self) -> bool:
        """Return whether the answers lead to different totals."""
        totals = [m.diverted.central for m in self.becomes.values() if m is not None]
        return len(totals) > 1 and max(totals) - min(totals) > LEAST * abs(max(totals))

    @property
    def largest(self) -> float:
        """Return the largest of these totals (kg), whose unit all of them are said in."""
        return max(
            (m.diverted.central for m in self.becomes.values() if m is not None), default=0.0
        )


@blueprint.get("/questions")
def questions() -> str:
    """Show the open questions."""
    seen = needs_reading()
    every = house().weighing.questions(seen)
    start = max(0, min(request.args.get("from", 0, type=int), len(every) - 1))
    one = request.args.get("one", "")
    shown = [q for q in every if q.key == one] or every[start : start + AT_ONCE]
    return screen(
        "questions.html", every=every, shown=[_laid_out(seen, q) for q in shown], start=start,
        at_once=AT_ONCE, weight=_weight(seen, every), by=_initials(seen),
        now=house().weighing.mass if house().weighing.number == seen.number else None,
        settled=[f for f in house().weighing.findings(seen) if f.answer is not None],
    )  # fmt: skip


@blueprint.post("/questions/<key>")
def answer(key: str) -> str | Response:
    """Answer a question: ask what the answer must know, show its lines, or write them."""
    seen = needs_reading()
    question = next((q for q in house().weighing.questions(seen) if q.key == key), None)
    choice = question.choice(request.form.get("choice", "")) if question is not None else None
    if question is None or choice is None:
        why = Text(N_("This question is not open any more."))
        return refused(Text(N_("Questions")), why, "/questions")
    if choice.makes is None:
        return redirect(f"/questions#q-{question.key}")
    missing = [f for f in choice.needs if f.name not in request.form]
    if missing:
        return screen("answer.html", question=question, choice=choice, by=_initials(seen))
    return change(lambda: _edits(choice), "/questions", question.title)


def _edits(choice: Choice) -> Iterable[Edit]:
    assert choice.makes is not None
    return choice.makes(request.form, signed())


def signed() -> Signed:
    """Return who answers by this form."""
    return Signed(request.form.get("by", "").strip()[:20], the_desk().today)


def _laid_out(seen: Seen, question: Question) -> Asked:
    row, cells = _row(seen, question)
    return Asked(question, row, cells, _usual(question), house().weighing.of(seen, question))


def _usual(question: Question) -> Change | None:
    """Return what the usual answer writes, where it needs nothing more to be known."""
    for choice in question.choices:
        if choice.usual and choice.makes and not any(f.required for f in choice.needs):
            try:
                edits = choice.makes({}, Signed("", the_desk().today))
                planned = house().plans.of(the_desk().folder, edits)
            except CannotRun:
                return None
            remember(planned)
            return planned
    return None


def _row(
    seen: Seen, question: Question
) -> tuple[RowShown | None, tuple[tuple[str, str, bool], ...]]:
    """Return the row that a question is about as it stands in the sheet."""
    where = question.first.where
    opened = the_desk().cells.of(where.file or "")
    if opened is None or where.row is None or seen.workings is None:
        return None, ()
    grid = next((g for g in opened.grids if g.sheet == (where.sheet or "")), None)
    if grid is None or where.row > len(grid.rows):
        return None, ()
    shown = sheet_shown(seen.workings, grid, where.row, most=1)
    row = next((r for r in shown.rows if r.number == where.row), None)
    if row is None:
        return None, ()
    cells = [
        (
            c.heading or c.letter,
            text,
            question.rows == 1 and bool(text) and c.letter == where.column,
        )
        for c, text in zip(shown.columns, row.cells, strict=True)
    ]
    while cells and not cells[-1][1]:
        cells.pop()
    return row, tuple(cells)


def _weight(seen: Seen, every: Iterable[Question]) -> tuple[int, float] | None:
    """Return how many questions decide most, and the mass that hangs on them."""
    mass = house().weighing.mass
    if mass is None or not mass.received.central:
        return None
    heavy = [q for q in every if (q.mass_kg or 0) >= MUCH * mass.received.central]
    # Several may be asked of one load: together they decide no more than what counts now, and what
    # loads usually weigh is told of the same lines again and again.
    rough = max((q.mass_kg or 0 for q in heavy if q.rough), default=0)
    counted = sum(q.mass_kg or 0 for q in heavy if q.counted and not q.rough)
    waiting = sum(q.mass_kg or 0 for q in heavy if not q.counted and not q.rough)
    return len(heavy), float(min(counted, mass.received.central) + waiting + rough)


def _initials(seen: Seen) -> str:
    answers = seen.site.answers if seen.site is not None else ()
    return next((a.by for a in reversed(answers) if a.by), "")
