"""Reading a folder again, and doing again only what a change touches."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

from divert.factors import load_factors
from divert.ingest.cells_held import CellsHeld
from divert.ingest.site_read_by import same_but_for_name, same_to_ingest
from divert.inventory.open_site import open_site
from divert.site.answers import settle
from divert.site.read import read_site

if TYPE_CHECKING:
    from divert.convert import Workings
    from divert.site.model import Site


def read_again(
    folder: Path, today: dt.date, cells: CellsHeld, before: Workings | None
) -> tuple[Site, Workings]:
    """Return a folder's site and workings.

    ``before``: what was read of the very same sheets under earlier settings; where the change of
    settings says nothing to how cells are read, they are not read again. Raises CannotRun.
    """
    site = read_site(folder)
    if before is not None and _only_converted(before, site, cells):
        return site, converted_again(before, site, today)
    workings = open_site(folder, as_of=today, remember=True, cells=cells, site=site)
    return workings.site, workings


def _only_converted(before: Workings, site: Site, cells: CellsHeld) -> bool:
    """Return whether the new settings leave every entry as it was read."""
    if before.site.answers != site.answers and any(
        f.code == "near copy" for f in before.reading.findings
    ):
        return False  # what answers a copy is found while it is read
    if before.site.name == site.name:
        return same_to_ingest(before.site, site)
    sheets = cells.sheets if cells.whole else None
    return (
        sheets is not None
        and same_but_for_name(before.site, site)
        and not sheets.may_say(before.site.name, site.name)
    )


def converted_again(before: Workings, site: Site, today: dt.date) -> Workings:
    """Return what the entries of an earlier reading come to under other settings."""
    from divert.convert import work_out
    from divert.convert.site_converted_by import same_to_convert
    from divert.convert.workings import asked_again
    from divert.inventory.remember import noticed

    asked = [
        f if f.code == "near copy" else replace(f, answer=None) for f in before.reading.findings
    ]
    reading = replace(before.reading, findings=settle(asked, site.answers))
    if same_to_convert(before.site, site):  # only what is asked differs, or what reports say
        return noticed(asked_again(before, reading, site), today, remember=True)
    return noticed(work_out(site, reading, load_factors(site.folder)), today, remember=True)
