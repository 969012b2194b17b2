"""The child's answer about one file, turned into sheets and findings."""

from __future__ import annotations

import json
from collections.abc import Callable, Iterable
from dataclasses import dataclass, field
from typing import Any

from divert.core.findings import Finding, Where
from divert.core.mark import marked_rows
from divert.core.words import N_, Text
from divert.ingest.grid import Cell, Grid
from divert.ingest.refusals import sentences
from divert.sandbox import frames
from divert.sandbox.frames import Frame


@dataclass
class Answer:
    """What has been heard of a file so far; ``refused`` is "" or why it cannot be read."""

    grids: list[Grid] = field(default_factory=list)
    findings: list[Finding] = field(default_factory=list)
    refused: str = ""

    @property
    def ours(self) -> bool:
        """Say whether this tool wrote the file."""
        return self.refused == "ours"


def heard(file: str, answer: Iterable[Frame], rows_come: Callable[[int], None]) -> Answer:
    """Return a file's sheets and findings from the frames of its answer, used up.

    ``rows_come`` is called with the number of rows in each piece. Frames that make no sense refuse
    the file as "crash": only a child that has gone wrong sends them.
    """
    got = Answer()
    rows: list[list[Cell]] = []
    try:
        for kind, body in answer:
            if kind == b"R":
                more = frames.rows_in(body)
                rows += more
                rows_come(len(more))
            elif kind == b"S":
                name, hidden, merged, struck, *unseen = json.loads(body)
                rows = []
                places = tuple((int(a), int(b), int(c), int(d)) for a, b, c, d in merged)
                lined = frozenset(map(int, struck))
                out_of_sight = (frozenset(map(int, lines)) for lines in unseen)
                got.grids.append(
                    Grid(file, str(name), rows, bool(hidden), places, lined, *out_of_sight)
                )
            elif kind == b"F":
                got.findings.append(_said(file, *json.loads(body)))
            elif kind == b"X":
                got.refused = str(json.loads(body))
    except (ValueError, TypeError, KeyError, RecursionError):
        got.refused = "crash"
    if not got.refused and any(marked_rows(grid.rows[:1]) for grid in got.grids):
        got.refused = "ours"
    if got.refused:
        got.grids.clear()
        got.findings[:] = [ours(file) if got.ours else unreadable(Where(file), got.refused)]
    return got


def unreadable(where: Where, reason: str) -> Finding:
    """Return the one finding for a file or sheet that cannot be read."""
    message, hint = sentences(reason)
    return Finding("refused", "file unreadable", message, where, hint, name=str(where), blocks=True)


def ours(file: str) -> Finding:
    """Return the note for a file that this tool wrote."""
    message = Text(N_("this tool wrote the file, so it is not read as a record of intake"))
    return Finding("note", "written by this tool", message, Where(file))


def _said(file: str, sheet: str, what: str, *more: Any) -> Finding:
    where = Where(file, sheet)
    if what == "macro sheet":
        message = Text(N_("the sheet holds macros, which are never looked at"))
        return Finding("note", "sheet not read", message, where)
    if what == "formula":
        message = Text(
            N_("formulas without a stored value, shown as their text: {count}"),
            {"count": int(more[0])},
        )
        hint = Text(N_("open the file in a spreadsheet program and save it, so that it calculates"))
        return Finding("note", "formula without a value", message, where, hint)
    return unreadable(where, "damaged sheet")
