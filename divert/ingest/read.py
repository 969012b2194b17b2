"""Read a site folder: every sheet's rows as entries, set-aside rows and skipped rows."""

from __future__ import annotations

import datetime as dt
import gc
from collections.abc import Callable, Collection, Iterable, Iterator
from contextlib import contextmanager
from dataclasses import replace
from itertools import chain
from typing import TYPE_CHECKING

from divert.ingest.cells_held import CellsHeld
from divert.ingest.grid import Grid, Opened
from divert.ingest.kept_reading import place_of
from divert.ingest.opening import open_folder
from divert.ingest.plan.store import kept_text
from divert.ingest.reader import Reader
from divert.site.model import Site

if TYPE_CHECKING:  # it brings pandas, which is imported while the first file is being opened
    from divert.core.reading import Reading
    from divert.ingest.plan.sheet_plan import SheetPlan
    from divert.ingest.sheets_held import SheetsHeld


def read_folder(
    site: Site,
    as_of: dt.date,
    progress: Callable[[int], None] | None = None,
    reader: Reader | None = None,
    read_before: Collection[str] = (),
    cells: CellsHeld | None = None,
    plans: str | None = None,
) -> Reading:
    """Return everything read from a site's folder, as of a day.

    ``progress`` is called with the number of rows read so far; ``reader`` is one that was started
    already; ``read_before`` names the files read the last time: of two that say the same, they
    count; ``cells`` are those of files that this process opened before; ``plans`` the text of another
    reading.toml to follow than the folder's. Raises CannotRun where the
    folder itself cannot be listed, or its reading.toml holds a mistake; everything else is a finding.
    """
    plans = kept_text(site.folder) if plans is None else plans
    place = place_of(site, as_of, read_before, plans)
    if place is not None and (known := place.load()) is not None:
        if cells is not None:
            cells.whole = False
        return known
    with _uncollected():
        opened = open_folder(site, progress, reader, read_before, cells)
        reading, _ = _read(opened, site, as_of, read_before, plans, _sheets(cells))

    def keep() -> None:
        if place is not None and place == place_of(site, as_of, read_before, plans):
            place.keep(reading)  # unless a file was saved meanwhile

    if cells is None:
        keep()
    else:
        cells.whole, cells.keep_reading = True, keep
    return reading


def read_with_plans(site: Site, as_of: dt.date) -> tuple[Reading, tuple[SheetPlan, ...]]:
    """Return everything read from a site's folder, and what each sheet was taken for.

    Plans kept in reading.toml are followed, and no reading that was kept is used: none holds the plans.
    Errors as in :func:`read_folder`.
    """
    with _uncollected():
        return _read(open_folder(site), site, as_of, (), kept_text(site.folder), with_plans=True)


def hold(site: Site, as_of: dt.date, read_before: Collection[str], cells: CellsHeld) -> None:
    """Open and read what a kept reading did without, so that a change is worked out quickly.

    Raises CannotRun.
    """
    with _uncollected():
        opened = open_folder(site, None, None, read_before, cells)
        _read(opened, site, as_of, read_before, kept_text(site.folder), _sheets(cells))
    cells.whole = True


def _sheets(cells: CellsHeld | None) -> SheetsHeld | None:
    if cells is not None and cells.holds_sheets and cells.sheets is None:
        from divert.ingest.sheets_held import (
            SheetsHeld,  # with all that reads: not for a kept reading
        )

        cells.sheets = SheetsHeld()
    return cells.sheets if cells is not None else None


@contextmanager
def _uncollected() -> Iterator[None]:
    """Pause the search for reference cycles: a million cells make it slow and hold none."""
    collecting = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        gc.freeze()  # or all that was made meanwhile would be gone through at once, as new
        if collecting:
            gc.enable()
        gc.unfreeze()  # but not out of sight: it is old from now on


def read_opened(
    opened: Iterable[Opened], site: Site, as_of: dt.date, read_before: Collection[str] = ()
) -> Reading:
    """Return everything read from files already opened, no plan kept (see read_folder)."""
    return _read(opened, site, as_of, read_before, "")[0]


def _read(
    opened: Iterable[Opened],
    site: Site,
    as_of: dt.date,
    read_before: Collection[str],
    text: str,
    held: SheetsHeld | None = None,
    with_plans: bool = False,
) -> tuple[Reading, tuple[SheetPlan, ...]]:
    files = iter(opened)
    first = next(files, None)
    from divert.ingest.known import know
    from divert.ingest.plan.read_file import read_plans
    from divert.ingest.take import Taken, finish, take_file

    known = know(site)
    kept = {(p.file, p.sheet): p for p in read_plans(text, site.folder)}
    taken = Taken(kept=kept, held=held, with_plans=with_plans)
    if held is not None:
        known = held.begin(known, as_of)
    grids: list[Grid] = []
    for one in chain([first] if first is not None else [], files):
        take_file(one, known, as_of, taken)
        if held is not None:  # else a file's cells are let go before the next is read
            grids += one.grids
    if held is not None:
        held.end(grids)
    reading = finish(taken, known, as_of, read_before)
    return replace(reading, plans=text), tuple(taken.plans)
