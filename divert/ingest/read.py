"""Read a site folder: every sheet's rows as entries, set-aside rows and skipped rows."""

from __future__ import annotations

import datetime as dt
import gc
from collections.abc import Callable, Collection, Iterable, Iterator
from contextlib import contextmanager
from typing import TYPE_CHECKING

from divert.ingest.grid import Opened
from divert.ingest.opening import open_folder
from divert.ingest.reader import Reader
from divert.site.model import Site

if TYPE_CHECKING:  # it brings pandas, which is imported while the first file is being opened
    from divert.core.reading import Reading


def read_folder(
    site: Site,
    as_of: dt.date,
    progress: Callable[[int], None] | None = None,
    reader: Reader | None = None,
    read_before: Collection[str] = (),
) -> Reading:
    """Return everything read from a site's folder, as of a day.

    ``progress`` is called with the number of rows read so far; ``reader`` is one that was started
    already; ``read_before`` names the files read the last time: of two that say the same, they
    count. Raises CannotRun where the folder itself cannot be listed; everything else is a finding.
    """
    with _uncollected():
        opened = open_folder(site, progress, reader, read_before)
        return read_opened(opened, site, as_of, read_before)


@contextmanager
def _uncollected() -> Iterator[None]:
    """Pause the search for reference cycles: a million cells make it slow and hold none."""
    collecting = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if collecting:
            gc.enable()


def read_opened(
    opened: Iterable[Opened], site: Site, as_of: dt.date, read_before: Collection[str] = ()
) -> Reading:
    """Return everything read from files already opened (see read_folder)."""
    files = iter(opened)
    first = next(files, None)
    from divert.ingest.known import know
    from divert.ingest.take import Taken, finish, take_file

    known, taken = know(site), Taken()
    if first is not None:
        take_file(first, known, as_of, taken)
    for one in files:
        take_file(one, known, as_of, taken)
    return finish(taken, known, as_of, read_before)
