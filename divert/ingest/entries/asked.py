"""What used rows leave to be asked: words only site.toml settles, and entries without a source."""

from __future__ import annotations

import re

import numpy as np
import numpy.typing as npt

from divert.core.findings import Where
from divert.core.names import plain
from divert.ingest.amounts.measured import Measured
from divert.ingest.arrays import Bools
from divert.ingest.coded import Coded, of_cells
from divert.ingest.entries.gathered import Gathered
from divert.ingest.entries.job import TableJob, place_in, text_at
from divert.ingest.grid import Cell
from divert.ingest.lexicon import words
from divert.ingest.sheet import as_text
from divert.ingest.tables.columns import Column
from divert.ingest.tables.groups import Group


def ask_words(job: TableJob, amounts: Measured, value: Bools, group: Group, out: Gathered) -> None:
    """Count the used rows whose unit only site.toml settled, by word."""
    for word, rows in amounts.asked.items():
        hit = np.flatnonzero(rows & value)
        if not len(hit):
            continue
        column = next((c for c in job.columns if c.index == amounts.where[hit[0]]), group.first)
        count, where, found = out.asked.get(
            word, (0, place_in(job, int(hit[0]), column), text_at(column, int(hit[0])))
        )
        out.asked[word] = (count + len(hit), where, found)


def ask_source(
    job: TableJob,
    group: Group,
    kinds: Coded,
    source: Coded,
    used: npt.NDArray[np.int64],
    out: Gathered,
) -> None:
    """Count the used rows of intake that name no source, by file."""
    intake = np.array([n == "intake" for n in kinds.names] + [False])[kinds.codes[used]]
    missing = used[(source.codes[used] < 0) & intake]
    if len(missing):
        column = job.layout.shared.get("source", group.first)
        count, where = out.sourceless.get(
            job.sheet.file, (0, place_in(job, int(missing[0]), column))
        )
        out.sourceless[job.sheet.file] = (count + len(missing), where)


def ask_fates(
    job: TableJob, strange: Coded | None, used: npt.NDArray[np.int64], out: Gathered
) -> None:
    """Count the used rows whose word for where it went before is none we know, by that word."""
    _ask(job, job.layout.shared.get("before"), strange, used, out.fates)


def ask_contamination(
    job: TableJob, group: Group, used: npt.NDArray[np.int64], out: Gathered
) -> None:
    """Count the used rows whose contamination is much in words, with no weight or share, by word."""
    column = job.layout.column(group, "contamination")
    if column is None:
        return
    much = re.compile(rf"\b(?:{'|'.join(plain(w) for w in words('marks')['much'])})\b")

    def said(cell: Cell) -> str:
        text = as_text(cell)
        measured = any(c.isdigit() for c in text)
        return text if isinstance(cell, str) and not measured and much.search(plain(text)) else ""

    _ask(job, column, of_cells(column.cells, said), used, out.much)


def _ask(
    job: TableJob,
    column: Column | None,
    strange: Coded | None,
    used: npt.NDArray[np.int64],
    into: dict[tuple[str, str], tuple[int, Where]],
) -> None:
    if strange is None or column is None:
        return
    for code, text in enumerate(strange.names):
        rows = used[strange.codes[used] == code]
        if text and len(rows):
            key = (job.sheet.file, text)
            count, where = into.get(key, (0, place_in(job, int(rows[0]), column)))
            into[key] = (count + len(rows), where)
