"""The steps every command shares: a folder to workings."""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable
from pathlib import Path

from divert.convert import Workings, work_out
from divert.factors import load_factors
from divert.ingest import read_folder
from divert.period import Period, read_period
from divert.site_file import read_site


def open_site(
    folder: str | Path,
    *,
    as_of: dt.date | None = None,
    progress: Callable[[int], None] | None = None,
) -> Workings:
    """Read a site folder and convert what it holds, as of a day (default: today).

    Raises CannotRun where nothing can be made: no site.toml, an unreadable folder.
    """
    site = read_site(Path(folder))
    factors = load_factors(site.folder)
    reading = read_folder(site, as_of or dt.date.today(), progress)
    return work_out(site, reading, factors)


def period_of(workings: Workings, text: str, as_of: dt.date) -> Period:
    """Read a period in the way a site counts its year. Raises CannotRun."""
    site = workings.site
    return read_period(text, as_of=as_of, started=site.started, year_starts=site.year_starts)
