"""A region's statement written: PDF, HTML, workbook, each whole or not at all."""

from __future__ import annotations

import sys
from collections.abc import Callable, Sequence
from pathlib import Path

from divert.core.period import folder_name
from divert.core.safe_files import slug, write_whole
from divert.core.words import Text
from divert.figures.numbers.printed import Printer
from divert.region.result import RegionFigures
from divert.region.statement.view import region_frame, region_view
from divert.region.statement.workbook import region_workbook
from divert.report.paper.look import Look, plain_look
from divert.report.paper.pages import render, self_contained
from divert.report.paper.pdf import INSTEAD, NoPango, write_pdf


def write_statement(
    figures: RegionFigures,
    out: Path,
    formats: Sequence[str] = ("pdf", "html", "xlsx"),
    say: Callable[[Text], None] | None = None,
) -> tuple[Path, ...]:
    """Write a region's statement into ``out/<period>/``; return the paths written.

    ``say`` hears what the user should know (default: standard error). Raises CannotRun where the
    folder cannot be written.
    """
    say = say or (lambda text: print(text.say(figures.language), file=sys.stderr))
    look = plain_look(figures.country)
    files: dict[str, bytes] = {}
    if "pdf" in formats:
        try:
            page = _page(figures, look, screen=False)
            files[".pdf"] = write_pdf(page, look, figures.language, figures.as_of)
        except NoPango:
            say(INSTEAD)
            formats = (*formats, "html")
    if "html" in formats:
        page = _page(figures, look, screen=True)
        files[".html"] = self_contained(page, look, figures.language).encode()
    if "xlsx" in formats:
        files[".xlsx"] = region_workbook(figures)
    folder = out / folder_name(figures.period.label)
    written = []
    for ending, data in files.items():
        path = folder / f"together-{slug(figures.region)}{ending}"
        write_whole(path, data)
        written.append(path)
    return tuple(written)


def _page(figures: RegionFigures, look: Look, *, screen: bool) -> str:
    printer = Printer(figures.language, figures.units, country=figures.country)
    view = region_view(figures, printer, look, screen=screen)
    return render("region.html", region_frame(figures, printer), view, printer, look)
