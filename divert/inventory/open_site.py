"""The steps every command shares: a folder to workings."""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable
from contextlib import nullcontext
from pathlib import Path
from typing import TYPE_CHECKING

from divert.core.findings import CannotRun
from divert.core.period import Period, read_period
from divert.core.words import N_, Text
from divert.factors import load_factors
from divert.ingest import read_folder
from divert.ingest.cells_held import CellsHeld
from divert.ingest.identify import identified
from divert.ingest.reader import Reader
from divert.inventory.issued_folder import last_issued
from divert.inventory.names import NAME, names_kept
from divert.site.read import read_site

if TYPE_CHECKING:  # it brings pandas, which is imported while the first file is being opened
    from divert.convert import Workings
    from divert.site.model import Site


def open_site(
    folder: str | Path,
    *,
    as_of: dt.date | None = None,
    progress: Callable[[int], None] | None = None,
    remember: bool = False,
    cells: CellsHeld | None = None,
    reader: Reader | None = None,
    site: Site | None = None,
) -> Workings:
    """Read a site folder and convert what it holds, as of a day (default: today).

    What the folder held the last time is looked for, and what is missing is asked about;
    ``remember`` keeps what it holds now for the next time. ``cells`` are those of files that this
    process opened before; ``reader`` one that reads folder after folder, and is not ended here;
    ``site`` the folder's site.toml where it was read already.
    Raises CannotRun where nothing can be made: no site.toml, an unreadable folder.
    """
    with nullcontext(reader) if reader else Reader() as reader:
        if cells is None:
            reader.start()  # so that it is ready when site.toml has been read
        site = identified(site or read_site(Path(folder)))
        factors = load_factors(site.folder)
        today = as_of or dt.date.today()
        before = names_kept(site.folder)
        reading = read_folder(site, today, progress, reader, before, cells)
    nothing = not reading.inputs and not reading.findings
    if nothing and not _held_something(site.folder):
        raise CannotRun(
            Text(
                N_(
                    "There are no spreadsheets in {folder}. Put the crew's sheets there "
                    "({endings}), or make a starter workbook with: divert begin {folder}"
                ),
                {"folder": str(folder), "endings": ".xlsx .xlsm .xlsb .xls .ods .csv .tsv"},
            )
        )
    from divert.convert import work_out
    from divert.inventory.remember import noticed

    return noticed(work_out(site, reading, factors), today, remember=remember)


def _held_something(folder: Path) -> bool:
    """Return whether a folder is known to have held sheets: they are missed, and not waved away."""
    return (folder / NAME).is_file() or last_issued(folder) is not None


def period_of(workings: Workings, text: str, as_of: dt.date) -> Period:
    """Read a period in the way a site counts its year.

    A period without an entry is one of nothing: funders ask for a nil return. Raises CannotRun where
    it cannot be read or lies ahead, or where no entry of the whole site can be used.
    """
    site = workings.site
    period = read_period(text, as_of=as_of, started=site.started, year_starts=site.year_starts)
    if workings.ledger.empty:
        raise CannotRun(
            Text(
                N_(
                    "None of the sheets holds an entry that can be used; divert read {folder} says why."
                ),
                {"folder": str(site.folder)},
            )
        )
    return period
