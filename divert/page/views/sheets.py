"""Every sheet as a grid of its own cells, and the words that its columns are read as."""

from __future__ import annotations

from dataclasses import dataclass, replace
from urllib.parse import urlencode

from flask import Blueprint, abort, request
from werkzeug.wrappers import Response

from divert.convert.by_sheet import sheets_with_refusals
from divert.core.column_words import field_said
from divert.core.findings import CannotRun, Finding
from divert.core.names import plain
from divert.core.words import N_, Text
from divert.ingest.grid import Grid
from divert.ingest.lexicon import words
from divert.page.desk import Seen
from divert.page.grid import WINDOW, first_aside, sheet_shown
from divert.page.house import house
from divert.page.left_out import left_by_sheet
from divert.page.open_yard import needs_reading, the_desk
from divert.page.questions import Question
from divert.page.screen import language_of, printer_of, screen
from divert.page.story import story
from divert.page.views.changing import change
from divert.site.change import AddTo, Edit, SetKey
from divert.site.model import HOLDS, Site

blueprint = Blueprint("sheets", __name__)
IGNORED = "-"  # what the list says for a column that is nothing
_BEFORE = 8  # rows that are shown over a chosen one


@dataclass(frozen=True, slots=True)
class SheetListed:
    """One sheet in the list at the left: its tables' counts added up."""

    file: str
    sheet: str
    used: int
    aside: int


@blueprint.get("/sheets")
def sheets() -> str:
    """Show one sheet's grid beside the list of all."""
    seen = needs_reading()
    workings = seen.workings
    assert workings is not None
    listed = _listed(seen)
    file, sheet = request.args.get("file"), request.args.get("sheet")
    if file is None and listed:
        start = next((s for s in listed if s.aside), listed[0])
        file, sheet = start.file, start.sheet
    grid = _grid(seen, file or "", sheet)
    shown, told, row = None, None, request.args.get("row", type=int)
    if grid is not None:
        first = request.args.get("from", type=int)
        if first is None:
            wanted = row or first_aside(workings, grid.file, grid.sheet)
            first = 1 if wanted is None or wanted < WINDOW - _BEFORE else wanted - _BEFORE
        shown = sheet_shown(workings, grid, first)
        if row:
            printer = printer_of(workings.site, language_of(workings.site))
            told = story(workings, printer, grid.file, grid.sheet, row)
    rows, left = workings.rows(workings.findings), left_by_sheet(workings).total()
    if shown is None and not the_desk().cells.whole:
        the_desk().nudge()  # whoever looks at a sheet does not want to wait
    chosen, cells = request.args.get("column", ""), the_desk().cells
    return screen(
        "sheets.html", listed=listed, shown=shown, row=row, told=told, rows=rows, chosen=chosen,
        waiting=rows.set_aside - left, left=left,
        alike=_alike(seen, grid.file, grid.sheet, chosen) if grid is not None and chosen else [],
        fields=_fields(workings.site), ignored=IGNORED, holds=HOLDS, window=WINDOW,
        questions=_questions(seen, grid, row), opening="" if cells.whole else cells.opening or "…",
    )  # fmt: skip


@blueprint.get("/sheets/rows")
def rows() -> str:
    """Return a window of rows alone, for the script to put under those that are there."""
    seen = needs_reading()
    assert seen.workings is not None
    grid = _grid(seen, request.args.get("file", ""), request.args.get("sheet"))
    if grid is None:
        abort(404)
    shown = sheet_shown(seen.workings, grid, request.args.get("from", 1, type=int))
    return screen("sheet_rows.html", shown=shown, row=None)


@blueprint.post("/sheets")
def set_word() -> str | Response:
    """Change what a sheet holds, or what one of its columns is read as."""
    form = request.form
    file, sheet = form.get("file", ""), form.get("sheet", "")

    def edits() -> list[Edit]:
        if holds := form.get("holds", ""):
            return [SetKey("sheet", _place(file, sheet), "holds", holds)]
        field, column = form.get("field", ""), form.get("column", "")
        if not field or not column:
            raise CannotRun(Text(N_("Choose what the column is.")))
        alike = _alike(needs_reading(), file, sheet, column) if form.get("alike") else []
        made: list[Edit] = []
        for place in (_place(file, name) for name in (sheet, *alike)):
            if field == IGNORED:
                made.append(AddTo("sheet", place, "ignore", (column,)))
                continue
            made.append(SetKey("sheet", place, f"columns.{field}", column))
            if unit := form.get("unit", "").strip():
                made.append(SetKey("sheet", place, f"units.{field}", unit))
        return made

    back = "/sheets?" + urlencode({"file": file, "sheet": sheet})
    return change(edits, back, Text(N_("How “{sheet}” is read"), {"sheet": sheet or file}))


def _place(file: str, sheet: str) -> dict[str, str]:
    return {"file": file, **({"sheet": sheet} if sheet else {})}


def _alike(seen: Seen, file: str, sheet: str, column: str) -> list[str]:
    """Return the other sheets of a file whose column of a letter has the same heading."""
    assert seen.workings is not None
    headings = {
        one.sheet: heading
        for one in seen.workings.reading.sheets
        if one.file == file
        for where, heading, _ in one.columns
        if where == column and heading
    }
    mine = headings.pop(sheet, None)
    return [name for name, heading in headings.items() if heading == mine]


def _fields(site: Site) -> list[tuple[str, str]]:
    """Return what a column may be, as it is said and as it is written, in the order of the words."""
    language = language_of(site)
    said = [(field_said(field).say(language), field) for field in words("headings")["field"]]
    return sorted(said, key=lambda pair: plain(pair[0]))


def _listed(seen: Seen) -> list[SheetListed]:
    workings = seen.workings
    assert workings is not None
    refused = workings.set_aside.iloc[len(workings.reading.set_aside) :]
    found: dict[tuple[str, str], SheetListed] = {}
    for one in sheets_with_refusals(workings.reading.sheets, refused):
        key = (one.file, one.sheet)
        had = found.get(key, SheetListed(*key, 0, 0))
        found[key] = SheetListed(*key, had.used + one.used, had.aside + one.set_aside)
    for key, lines in left_by_sheet(workings).items():
        if key in found:
            found[key] = replace(found[key], aside=found[key].aside - lines)
    for (
        file
    ) in workings.reading.inputs:  # sheets of which nothing was taken are there to see as well
        opened = the_desk().cells.of(file.file)
        for grid in opened.grids if opened is not None else ():
            found.setdefault((grid.file, grid.sheet), SheetListed(grid.file, grid.sheet, 0, 0))
    order = {i.file: n for n, i in enumerate(workings.reading.inputs)}
    return sorted(found.values(), key=lambda s: order.get(s.file, len(order)))


def _grid(seen: Seen, file: str, sheet: str | None) -> Grid | None:
    opened = the_desk().cells.of(file)
    if opened is None:
        return None
    named = [g for g in opened.grids if sheet is None or g.sheet == sheet]
    return named[0] if named else None


def _questions(
    seen: Seen, grid: Grid | None, row: int | None
) -> list[tuple[Question | None, Finding]]:
    """Return what is open about a chosen row, or about the rows of the sheet, with its question."""
    if grid is None or seen.workings is None:
        return []
    asked = {
        (f.code, f.where): question
        for question in house().weighing.questions(seen)
        for f in question.findings
    }
    out = []
    for finding in house().weighing.findings(seen):
        where = finding.where
        here = where.file == grid.file and (where.sheet or "") == grid.sheet
        is_open = finding.level != "note" and finding.answer is None
        if here and is_open and where.row and row in (None, where.row):
            out.append((asked.get((finding.code, where)), finding))
    return out[:5]
