"""Made-up files as they come out of the reading child: of some kinds written and opened, else as cells."""

from __future__ import annotations

import datetime as dt
import tempfile
from pathlib import Path

from divert.ingest.answer import heard
from divert.ingest.grid import Grid
from divert.sandbox.child import read

from ..corpus import writers
from .paper import File, Paper


def grids_of(file: File, french: bool) -> tuple[Grid, ...]:
    """Return the sheets of a file; what is hidden or not a workbook is written and opened for it."""
    ending = file.name.rpartition(".")[2]
    seen = not any(p.hidden or p.unseen for p in file.papers)
    if ending == "xlsx" and seen:
        return tuple(_grid(file.name, p) for p in file.papers)
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / f"made.{ending}"
        if ending == "csv":
            writers.text(path, _typed(file.papers[0], french), separator=";" if french else ",")
        elif ending == "ods":
            lined = {p.name: list(p.struck) for p in file.papers}
            hidden = {p.name: p.hidden for p in file.papers}
            writers.ods(path, {p.name: p.rows for p in file.papers}, lined, hidden)
        else:
            _workbook(path, file.papers)
        answer = heard(file.name, read(path.read_bytes(), f".{ending}"), lambda _: None)
    assert not answer.refused, f"{file.name}: {answer.refused}"
    return tuple(answer.grids)


def _grid(file: str, paper: Paper) -> Grid:
    return Grid(
        file, paper.name, paper.rows, merged=tuple(paper.merged), struck=frozenset(paper.struck)
    )


def _typed(paper: Paper, french: bool) -> list[list[object]]:
    """Return cells as a spreadsheet program saves them as text in the crew's country."""
    return [[_text(cell, french) for cell in row] for row in paper.rows]


def _text(cell: object, french: bool) -> object:
    if isinstance(cell, dt.datetime):
        return f"{cell:%d/%m/%Y %H:%M}" if french else f"{cell.month}/{cell.day}/{cell:%Y %H:%M}"
    if isinstance(cell, dt.date):
        return f"{cell:%d/%m/%Y}" if french else f"{cell.month}/{cell.day}/{cell.year}"
    if isinstance(cell, float):
        text = f"{cell:.10g}"
        return text.replace(".", ",") if french else text
    return cell


def _workbook(path: Path, papers: list[Paper]) -> None:
    import xlsxwriter

    with xlsxwriter.Workbook(
        path, {"default_date_format": "yyyy-mm-dd", "in_memory": True}
    ) as book:
        for paper in papers:
            sheet = book.add_worksheet(paper.name)
            for r, row in enumerate(paper.rows):
                form = book.add_format({"font_strikeout": True} if r + 1 in paper.struck else {})
                dated = book.add_format(
                    {"num_format": "yyyy-mm-dd", "font_strikeout": r + 1 in paper.struck}
                )
                for c, cell in enumerate(row):
                    if cell is not None:
                        sheet.write(r, c, cell, dated if isinstance(cell, dt.date) else form)
                if r + 1 in paper.hidden:
                    sheet.set_row(r, None, None, {"hidden": True})
            for column in paper.unseen:
                sheet.set_column(column - 1, column - 1, None, None, {"hidden": True})
            for r1, c1, r2, c2 in paper.merged:
                sheet.merge_range(r1 - 1, c1 - 1, r2 - 1, c2 - 1, paper.rows[r1 - 1][0])
