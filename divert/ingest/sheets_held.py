"""What each sheet was read as, held by a process that reads the same folder again and again.

A sheet is read again only where something that its reading follows from has changed: its cells, what
site.toml or reading.toml says of it, a setting that every sheet is read by, or the meaning of a name
that may stand in it. A name may stand in a sheet where all its words do, or where some run of words
there is like it, and means something else now or is nearest to something else: so what is held is what
a whole reading would give.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field, replace
from difflib import SequenceMatcher
from typing import Any

from divert.core.names import plain
from divert.core.reading import SheetTaken
from divert.ingest.entries.gathered import Gathered
from divert.ingest.entries.job import TableJob
from divert.ingest.grid import Grid
from divert.ingest.known import Known, Names
from divert.ingest.plan.propose import Proposed
from divert.ingest.plan.sheet_plan import SheetPlan
from divert.ingest.sheet import Sheet, by_columns
from divert.ingest.site_read_by import may_say, read_by
from divert.ingest.tables.overrides import rule_for
from divert.site.answers import compared

_ALIKE = 0.7  # a little less than what the reader takes for a misspelling
_MORE = 2  # words more or fewer than a misspelt name may have


@dataclass
class SheetHeld:
    """One sheet: what it was taken for, what that gave, and what each of its tables gave.

    ``told``: what settings said of this sheet alone. ``reads`` are by the identity of their job.
    """

    told: tuple[Any, ...]
    proposed: Proposed
    out: Gathered
    taken: list[SheetTaken]
    reads: dict[int, tuple[TableJob, Gathered, SheetTaken]] = field(default_factory=dict)


@dataclass
class SheetsHeld:
    """The sheets of a folder; :meth:`begin` drops those that would be read otherwise now."""

    _held: dict[int, tuple[Grid, Sheet, SheetHeld | None]] = field(default_factory=dict)
    _by_sheet: dict[int, int] = field(default_factory=dict)
    _read_by: tuple[Any, ...] = ()
    _known: Known | None = None
    _said: dict[int, tuple[tuple[str, ...], frozenset[str]]] = field(default_factory=dict)

    def begin(self, known: Known, as_of: dt.date) -> Known:
        """Go on with these settings, and return what is known by them: what a change touches is let go."""
        now = (read_by(known.site), known.products, _only_material(known), as_of)
        changed = _changed(self._known, known) if self._known is not None else ()
        called = (
            {known.site.name} if self._known is None else {known.site.name, self._known.site.name}
        )
        if now != self._read_by:
            self._held, self._by_sheet, self._said = {}, {}, {}
        for key, (grid, sheet, held) in list(self._held.items()):
            renamed = len(called) > 1 and may_say(self._texts_of(key, sheet)[0], called)
            if held is not None and (renamed or self._touched(key, sheet, held, changed)):
                self._held[key] = (grid, sheet, None)
        same = self._known is not None and _same_names(self._known, known)
        if now == self._read_by and self._known is not None and same and len(called) == 1:
            known = replace(known, said=self._known.said)  # what texts were taken for holds still
        self._read_by, self._known = now, known
        return known

    def may_say(self, *names: str) -> bool:
        """Return whether one of a site's names may stand in any sheet."""
        return any(
            may_say(self._texts_of(key, sheet)[0], names)
            for key, (_, sheet, _) in self._held.items()
        )

    def sheet(self, grid: Grid) -> Sheet:
        """Return a grid's cells by column."""
        found = self._held.get(id(grid))
        if found is None:
            found = self._held[id(grid)] = (grid, by_columns(grid), None)
            self._by_sheet[id(found[1])] = id(grid)
        return found[1]

    def of(self, sheet: Sheet, known: Known, plan: SheetPlan | None) -> SheetHeld | None:
        """Return what is held of a sheet, None where it must be read."""
        key = self._by_sheet.get(id(sheet))
        held = self._held[key][2] if key is not None else None
        return held if held is not None and held.told == _told(known, sheet, plan) else None

    def keep(
        self,
        sheet: Sheet,
        known: Known,
        plan: SheetPlan | None,
        proposed: Proposed,
        out: Gathered,
        taken: list[SheetTaken],
    ) -> None:
        """Hold what a sheet was taken for."""
        key = self._by_sheet.get(id(sheet))
        if key is not None:
            held = SheetHeld(_told(known, sheet, plan), proposed, out, taken)
            self._held[key] = (*self._held[key][:2], held)

    def read_of(self, job: TableJob) -> tuple[Gathered, SheetTaken] | None:
        """Return what a table gave, None where it must be read."""
        held = self._of_job(job)
        found = held.reads.get(id(job)) if held is not None else None
        return (found[1], found[2]) if found is not None else None

    def keep_read(self, job: TableJob, out: Gathered, taken: SheetTaken) -> None:
        """Hold what a table gave."""
        held = self._of_job(job)
        if held is not None:
            held.reads[id(job)] = (job, out, taken)

    def end(self, grids: Iterable[Grid]) -> None:
        """Let go of the sheets of files that are not there any more, or hold other cells."""
        there = {id(grid) for grid in grids}
        self._held = {key: one for key, one in self._held.items() if key in there}
        self._by_sheet = {id(sheet): key for key, (_, sheet, _) in self._held.items()}
        self._said = {key: said for key, said in self._said.items() if key in there}
        for key, (_, sheet, _) in self._held.items():
            self._texts_of(key, sheet)  # now, and not when somebody waits for a name

    def _texts_of(self, key: int, sheet: Sheet) -> tuple[tuple[str, ...], frozenset[str]]:
        """Return the texts of a sheet, plain, each once, and the words in them."""
        if key not in self._said:
            texts = tuple(dict.fromkeys(_texts(sheet)))
            self._said[key] = texts, frozenset(w for text in texts for w in text.split())
        return self._said[key]

    def _of_job(self, job: TableJob) -> SheetHeld | None:
        for sheet in (job.sheet, job.sheet.origin.sheet if job.sheet.origin else None):
            key = self._by_sheet.get(id(sheet))
            if key is not None:
                return self._held[key][2]
        return None

    def _touched(
        self, key: int, sheet: Sheet, held: SheetHeld, changed: Sequence[_Changed]
    ) -> bool:
        """Return whether a name whose meaning changed may stand in a sheet."""
        if not changed:
            return False
        if held.proposed.by_others:
            return True  # what its neighbours say counts too
        texts, words = self._texts_of(key, sheet)
        return any(
            all(word in words for word in one.name.split()) or one.moves_any(texts)
            for one in changed
        )


def _told(known: Known, sheet: Sheet, plan: SheetPlan | None) -> tuple[Any, ...]:
    """Return what settings say of one sheet alone."""
    place = compared(f"{sheet.file}!{sheet.name}!")
    counted = tuple(
        a.about for a in known.site.answers if a.verdict == "count" and place in compared(a.about)
    )
    return rule_for(known.site, sheet.file, sheet.name), plan, counted


def _only_material(known: Known) -> tuple[str, ...]:
    """Return the name of the one material of a site that has no other: where none is told, it is that."""
    names = {m.name for m in known.site.materials}
    return tuple(names) if len(names) == 1 else ()


@dataclass
class _Changed:
    """A spelling, plain, that means something else than before, and the names of its kind.

    ``still`` holds runs of words that were found to mean the same with it.
    """

    name: str
    before: Names
    now: Names
    still: set[str] = field(default_factory=set)

    def moves_any(self, texts: Iterable[str]) -> bool:
        """Return whether a run of words in texts is like it, and no more what it was."""
        size = len(self.name.split())
        match = SequenceMatcher(None, "", self.name)
        less_its_letters = str.maketrans("", "", self.name)
        for text in texts:
            if text in self.still:
                continue
            words = text.split()
            for length in range(max(1, size - _MORE), min(len(words), size + _MORE) + 1):
                for at in range(len(words) - length + 1):
                    run = " ".join(words[at : at + length])
                    shared = len(run) - len(run.translate(less_its_letters))  # at the most
                    shared = min(shared, len(self.name))
                    if run in self.still or 2 * shared < _ALIKE * (len(run) + len(self.name)):
                        continue
                    match.set_seq1(run)
                    if match.quick_ratio() >= _ALIKE and self._moves(run):
                        return True
                    self.still.add(run)
            self.still.add(text)
        return False

    def _moves(self, run: str) -> bool:
        before, now = self.before, self.now
        if before.find(run) != now.find(run):
            return True
        alike = SequenceMatcher(None, self.name, run).ratio() >= _ALIKE  # turned as the reader does
        return alike and before.near(run) != now.near(run)


def _changed(before: Known, now: Known) -> tuple[_Changed, ...]:
    """Return the spellings that mean something else than before."""
    out: dict[tuple[int, str], _Changed] = {}
    for kind, (old, new) in enumerate(
        ((before.sources, now.sources), (before.materials, now.materials))
    ):
        for spelling in _spellings(old) | _spellings(new):
            if old.find(spelling) != new.find(spelling):
                out[kind, plain(spelling)] = _Changed(plain(spelling), old, new)
    return tuple(out.values())


def _same_names(one: Known, other: Known) -> bool:
    return (one.sources.spellings, one.materials.spellings) == (
        other.sources.spellings, other.materials.spellings
    )  # fmt: skip


def _spellings(names: Names) -> set[str]:
    return {s for name, others in names.spellings.items() for s in (name, *others)}


def _texts(sheet: Sheet) -> Iterator[str]:
    """Yield the texts of a sheet, plain: its cells', and those of its own and its file's name."""
    yield plain(sheet.name)
    yield plain(sheet.file)
    for column in sheet.columns:
        for cell in column.cells:
            if isinstance(cell, str):
                yield plain(cell)
