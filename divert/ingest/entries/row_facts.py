"""What a row says for all its amounts: source, material, condition, fate, status, notes."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial

import numpy as np

from divert.core.names import plain
from divert.ingest import carry
from divert.ingest.amounts.measured import add_texts
from divert.ingest.amounts.unit_in_name import find_less_unit
from divert.ingest.arrays import Bools, Objects, no_rows
from divert.ingest.cells import mark
from divert.ingest.coded import Coded, constant, of_cells, of_texts
from divert.ingest.days.dated_rows import When
from divert.ingest.entries.job import TableJob
from divert.ingest.entries.status import IN, reads_status
from divert.ingest.entries.things import carried_cells, condition, named
from divert.ingest.fates import NOT_STATED, fate_of
from divert.ingest.grid import Cell
from divert.ingest.known import row_kinds
from divert.ingest.sheet import Distinct, as_text
from divert.ingest.tables.columns import Column
from divert.ingest.tables.crew import names_the_crew
from divert.ingest.tables.kind_words import THROWN_OUT
from divert.ingest.tables.rows import Rows, spread_section


class RowFacts:
    """What a row says for all its groups: source, material, fate, notes."""

    def __init__(self, job: TableJob, rows: Rows, dated: When, merged: dict[str, Bools]) -> None:
        self.job, self.rows, self.dated, self.merged = job, rows, dated, merged
        self.size = len(rows.reason)
        known = job.known
        self.source = self._thing(
            "source",
            partial(find_less_unit, known.sources, known=known),
            job.context.source,
            rows.sources,
        )
        materials = (
            "product"
            if "product" in job.layout.shared and "material" not in job.layout.shared
            else "material"
        )
        self.material = self._thing(
            materials,
            partial(find_less_unit, known.materials, known=known),
            job.context.material,
            rows.materials,
        )
        if self.job.kind in THROWN_OUT and "material" not in job.layout.shared:
            self.material = constant("", self.size)
        self.condition = self._plain("condition", condition(known))
        self.destination = self._plain("destination", lambda t: t)
        self.before, self.strange_fates = self._fates()
        self.status = self._status()
        self.kind = self._kinds()
        self.notes = self._notes(self.strange_fates)
        self.start_mark = self._start_marks()

    def _thing(
        self, name: str, find: Callable[[str], str | None], outer: str, sections: dict[int, str]
    ) -> Coded:
        column = self.job.layout.shared.get(name)
        out = constant("", self.size)
        if column is not None and sections and names_the_crew(column):
            column = None  # "Who" over initials, under titles that name sources
        if column is not None:
            anew = None
            date = self.job.layout.shared.get("date")
            if date is not None and self.dated.grouped and date.index < column.index:
                anew = self.dated.own
            cells = carried_cells(column, self.rows.open, self.rows.reason == "blank",
                                  self.merged.get(name, no_rows(self.size)), anew)  # fmt: skip
            if name == "source" and anew is not None:
                cells = self._with_date(cells)
            out = named(cells, find)
        if sections:
            out = out.filled(of_texts(spread_section(self.size, sections)))
        return out.filled(constant(outer, self.size)) if outer else out

    def _with_date(self, cells: Distinct) -> Distinct:
        """Carry a source down with its date: where both are blank, both are the row's above."""
        under = self.rows.open & ~self.dated.own & ~np.isnat(self.dated.days)
        stops = self.rows.reason == "blank"
        return Distinct(carry.carried(cells.codes, under & (cells.codes < 0), stops), cells.cells)

    def _plain(self, name: str, find: Callable[[str], str | None]) -> Coded:
        column = self.job.layout.shared.get(name)
        return constant("", self.size) if column is None else named(self._carried(column), find)

    def _carried(self, column: Column) -> Distinct:
        """Return a column's cells with what merges and ditto marks say carried down, and no groups."""
        none = no_rows(self.size)
        return carried_cells(column, none, none, self.merged.get(column.field, none))

    def _fates(self) -> tuple[Coded, Coded | None]:
        """Return where each row's material went before, and the texts that name no place we know."""
        column = self.job.layout.shared.get("before")
        if column is None:
            return constant("", self.size), None

        def strange(cell: Cell) -> str:
            text = as_text(cell)
            return text if fate_of(text, self.job.known) == NOT_STATED else ""

        asked = of_cells(column.cells, strange)  # "?" too, which is carried nowhere
        out = of_cells(self._carried(column), lambda c: fate_of(as_text(c), self.job.known))
        return out.where(asked.codes >= 0, constant(NOT_STATED, self.size)), asked

    def _status(self) -> Coded:
        """Return what a status or a note says of each row's load, as :func:`mark.of_a_load` does."""
        out = constant("", self.size)
        column = self.job.layout.shared.get("status")
        if column is not None:
            read = reads_status(column.head.text)
            out = of_cells(column.cells, lambda c: "" if (said := read(c)) == IN else said)
        for column in self.job.layout.notes:
            said = of_cells(column.cells, _said_in_note)
            out = out.filled(said)
        return out

    def _kinds(self) -> Coded | None:
        column = self.job.layout.shared.get("kind")
        return (
            None
            if column is None
            else of_cells(column.cells, lambda c: row_kinds().get(plain(as_text(c)), ""))
        )

    def _notes(self, strange: Coded | None) -> Objects | None:
        columns = list(self.job.layout.notes)
        texts = [of_cells(c.cells, as_text).texts() for c in columns]
        if strange is not None and len(strange.names):
            texts.append(strange.texts())
        if not texts:
            return None
        out = texts[0].copy()
        for more in texts[1:]:
            add_texts(out, more)
        return out

    def _start_marks(self) -> Coded:
        """Return the mark that any text cell of a row begins with, notes last."""
        out = constant("", self.size)
        quiet = ("date", "by", "id", "time", "weekday")
        ordered = sorted(self.job.columns, key=lambda c: c.field == "note")
        for column in ordered:
            if column.field in quiet:
                continue
            texts = [c for c in column.cells.cells if isinstance(c, str)]
            if texts:
                out = out.filled(
                    of_cells(
                        column.cells,
                        lambda c: mark.read_start(c) or "" if isinstance(c, str) else "",
                    )
                )
        return out.where(self.dated.closed, constant("closed", self.size))


def _said_in_note(cell: object) -> str:
    return mark.of_a_load(cell) if isinstance(cell, str) else ""
