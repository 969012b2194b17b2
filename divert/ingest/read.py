"""Read a site folder: every sheet's rows as entries, set-aside rows and skipped rows."""

from __future__ import annotations

import datetime as dt
import threading
from collections.abc import Callable, Iterable, Sequence


from divert.findings import Finding, Where
from divert.ingest.answers import settled
from divert.ingest.grid import Opened
from divert.ingest.known import Known, know
from divert.ingest.opening import open_folder
from divert.reading import InputFile, Reading, SheetTaken
from divert.site import Site


def read_folder(site: Site, as_of: dt.date, progress: Callable[[int], None] | None = None) -> Reading:
    """Return everything read from a site's folder, as of a day.

    ``progress`` is called with the number of rows read so far. Raises CannotRun where the folder
    itself cannot be listed; everything else is a finding.
    """
    from divert.ingest.take import warm

    threading.Thread(target=warm, daemon=True).start()  # while the child reads the first file
    return read_opened(open_folder(site, progress), site, as_of)


def read_opened(opened: Iterable[Opened], site: Site, as_of: dt.date) -> Reading:
    """Return everything read from files already opened (see read_folder)."""
    from divert.ingest.take import Taken, finish, take_file

    known = know(site)
    taken = Taken()
    for one in opened:
        take_file(one, known, as_of, taken)
    return finish(taken, known, as_of)
