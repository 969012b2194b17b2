"""How a made-up file was read: what is right, what is asked about, and what is wrong in silence."""

from __future__ import annotations

import datetime as dt
from collections import Counter
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from divert.core.reading import InputFile, Reading
from divert.ingest.grid import Opened
from divert.ingest.known import know
from divert.ingest.plan.read_file import read_plans
from divert.ingest.plan.write_file import plans_text
from divert.ingest.take import Taken, finish, take_file
from divert.site.model import Container, Material, Site, Source

from ..corpus.book import LB, L, site
from .files import grids_of
from .loads import Load
from .paper import Book
from .words import french

AS_OF = dt.date(2026, 3, 31)
Key = tuple[object, ...]


@dataclass(frozen=True)
class Score:
    """Of one file: true loads, those read right, and those that are wrong with no question.

    ``queried``: loads that count though they should not, with a question that quotes the note beside them.
    """

    true: int
    right: int
    asked: int
    counted_wrong: list[Key] = field(default_factory=list)
    lost: list[Key] = field(default_factory=list)
    questions: tuple[str, ...] = ()
    queried: int = 0

    @property
    def silent(self) -> int:
        """Return how many amounts are wrong without a question."""
        return len(self.counted_wrong) + len(self.lost)


def read_book(book: Book) -> Reading:
    """Read a made-up folder as if its files had been opened."""
    return read_with_plans(book, "")[0]


def read_with_plans(book: Book, kept: str) -> tuple[Reading, str]:
    """Read a made-up folder by the text of a reading.toml, and return the plans followed as such a text."""
    settings = french_site() if book.french else site(Path(), dates="month first")
    own = {(p.file, p.sheet): p for p in read_plans(kept, Path())}
    taken = Taken(kept=own, with_plans=True)
    known = know(settings)
    for number, file in enumerate(book.files):
        opened = InputFile(file.name, f"{book.seed} {number}", 1)
        take_file(Opened(opened, grids_of(file, book.french)), known, AS_OF, taken)
    return finish(taken, known, AS_OF), plans_text(taken.plans)


def french_site() -> Site:
    """Return the site of the crews that write French."""
    likes = ("food-scraps", "coffee-grounds", "leaves", "cut-flowers")
    return site(
        Path(), dates="day first", units="metric", language="fr", country="FR",
        materials=tuple(
            Material(name, also, like, "landfill")
            for (name, also), like in zip(french.MATERIALS.items(), likes, strict=True)
        ),
        sources=tuple(Source(name, also) for name, also in french.SOURCES.items()),
        containers=(
            Container("bac", ("bacs",), 120 * L, 9 * LB),
            Container("seau", ("seaux",), 20 * L, 1.9 * LB, 0.9),
            Container("bac roulant", ("bacs roulants",), 240 * L, 12.0, 0.8),
        ),
    )  # fmt: skip


def _quoted(cells: list[Any], asked: list[str]) -> bool:
    """Return whether a question quotes what somebody wrote beside a load, as far as it quotes at all."""
    return any(f"“{c[:60]}”" in said for c in cells if isinstance(c, str) for said in asked)


def _number(value: float | None) -> str:
    return "" if value is None or value != value else f"{value:.5g}"


def _key(load: Load) -> Key:
    return (
        load.day.isoformat(), load.source.casefold(), load.material.casefold(), _number(load.kg), _number(load.count),
        load.container or "", _number(load.fill), _number(load.m3),
    )  # fmt: skip


def score(book: Book) -> Score:
    """Read a made-up file and hold it against what it truly says."""
    reading = read_book(book)
    read: Counter[Key] = Counter()
    noted: Counter[Key] = Counter()
    asked_notes = [str(f.message) for f in reading.findings if f.code == "notes not understood"]
    cells = {
        (f.name, "" if f.name.endswith(".csv") else p.name, n): row
        for f in book.files for p in f.papers for n, row in enumerate(p.rows, start=1)
    }  # fmt: skip
    for row in reading.entries.itertuples():
        if row.kind == "rejected":
            continue  # turned away: listed, and counted nowhere
        source, material, box = (
            w if isinstance(w, str) else "" for w in (row.source, row.material, row.container)
        )
        day = str(row.date.date()) if row.kind == "intake" else f"{row.kind} {row.date.date()}"
        kg = row.mass_kg if row.mass_kg == row.mass_kg else row.gross_kg
        kg -= row.removed_kg if row.removed_kg == row.removed_kg else 0
        counted = row.count == row.count
        key = (
            day, source.casefold(), material.casefold(), _number(kg), _number(row.count), box,
            _number(row.fill), "" if counted else _number(row.volume_m3),
        )  # fmt: skip
        read[key] += 1
        sheet = row.sheet if isinstance(row.sheet, str) else ""
        noted[key] += _quoted(cells[row.file, sheet, row.row], asked_notes)
    aside = set(zip(*(reading.set_aside[c] for c in ("file", "sheet", "row")), strict=True))
    questions = [f for f in reading.findings if f.level != "note"]
    asked, lost, true = 0, [], 0
    left = read.copy()
    for file in book.files:
        for paper in file.papers:
            name = "" if file.name.endswith(".csv") else paper.name
            for row_number, load in paper.truth:
                true += 1
                key = _key(load)
                if left[key]:
                    left[key] -= 1
                elif (file.name, name, row_number) in aside:
                    asked += 1
                else:
                    lost.append((paper.name, row_number, *key))
    queried = sum((left & noted).values())
    wrong = list((left - noted).elements())
    said = tuple(f"{f.code}: {f.message}" for f in questions)
    return Score(true, true - asked - len(lost), asked, wrong, lost, said, queried)
