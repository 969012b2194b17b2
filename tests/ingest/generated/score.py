"""How a made-up file was read: what is right, what is asked about, and what is wrong in silence."""

from __future__ import annotations

import datetime as dt
from collections import Counter
from dataclasses import dataclass, field
from pathlib import Path

from divert.core.reading import InputFile, Reading
from divert.ingest.grid import Grid, Opened
from divert.ingest.known import know
from divert.ingest.take import Taken, finish, take_file
from divert.site.model import Site

from ..corpus.book import site
from .loads import Load
from .paper import Book

AS_OF = dt.date(2026, 3, 31)
Key = tuple[object, ...]


@dataclass(frozen=True)
class Score:
    """Of one file: true loads, those read right, and those that are wrong with no question."""

    true: int
    right: int
    asked: int
    counted_wrong: list[Key] = field(default_factory=list)
    lost: list[Key] = field(default_factory=list)
    questions: tuple[str, ...] = ()

    @property
    def silent(self) -> int:
        """Return how many amounts are wrong without a question."""
        return len(self.counted_wrong) + len(self.lost)


def read_book(book: Book) -> Reading:
    """Read a made-up file as if it had been opened."""
    settings: Site = site(Path(), dates="month first")
    grids = tuple(
        Grid(book.file, p.name, p.rows, merged=tuple(p.merged), **_struck(p.struck)) for p in book.papers
    )  # fmt: skip
    taken = Taken()
    known = know(settings)
    take_file(Opened(InputFile(book.file, str(book.seed), 1), grids), known, AS_OF, taken)
    return finish(taken, known, AS_OF)


def _struck(rows: set[int]) -> dict[str, frozenset[int]]:
    return {"struck": frozenset(rows)} if rows else {}


def _number(value: float | None) -> str:
    return "" if value is None or value != value else f"{value:.5g}"


def _key(load: Load) -> Key:
    return (
        load.day.isoformat(), load.source.casefold(), load.material.casefold(), _number(load.kg), _number(load.count),
        load.container or "", _number(load.fill),
    )  # fmt: skip


def score(book: Book) -> Score:
    """Read a made-up file and hold it against what it truly says."""
    reading = read_book(book)
    read: Counter[Key] = Counter()
    for row in reading.entries.itertuples():
        if row.kind == "rejected":
            continue  # turned away: listed, and counted nowhere
        source, material, box = (
            w if isinstance(w, str) else "" for w in (row.source, row.material, row.container)
        )
        day = str(row.date.date()) if row.kind == "intake" else f"{row.kind} {row.date.date()}"
        kg = row.mass_kg if row.mass_kg == row.mass_kg else row.gross_kg
        kg -= row.removed_kg if row.removed_kg == row.removed_kg else 0
        read[
            (
                day,
                source.casefold(),
                material.casefold(),
                _number(kg),
                _number(row.count),
                box,
                _number(row.fill),
            )
        ] += 1
    aside = {
        (s, r) for s, r in zip(reading.set_aside["sheet"], reading.set_aside["row"], strict=True)
    }
    questions = [f for f in reading.findings if f.level != "note"]
    asked, lost, true = 0, [], 0
    left = read.copy()
    for paper in book.papers:
        for row_number, load in paper.truth:
            true += 1
            key = _key(load)
            if left[key]:
                left[key] -= 1
            elif (paper.name, row_number) in aside:
                asked += 1
            else:
                lost.append((paper.name, row_number, *key))
    wrong = list((+left).elements())
    said = tuple(f"{f.code}: {f.message}" for f in questions)
    return Score(true, true - asked - len(lost), asked, wrong, lost, said)
