"""What the site's total would become under an answer, worked out without writing it."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np
import pandas as pd

from divert.convert.unknown import name_books
from divert.figures.emissions import fates
from divert.figures.masses import balance
from divert.figures.stretches import DAY, inside
from divert.ingest.site_read_by import same_to_ingest
from divert.site.change import Edit
from divert.site.change.apply import edited
from divert.site.read import read_site

if TYPE_CHECKING:
    from divert.convert import Workings
    from divert.figures.contract import Mass
    from divert.site.model import Site

_NAMED = ("material", "source", "container")


def mass_of(workings: Workings) -> Mass | None:
    """Return the balance of everything a site ever received; None where there is no entry."""
    dates = workings.ledger["date"]
    if not len(dates):
        return None
    first, last = dates.min().date(), dates.max().date()
    cells = workings.cells([first, last + DAY])
    return balance(fates(cells, workings.site, inside(cells, first, last)))


def mass_under(workings: Workings, edits: Iterable[Edit]) -> Mass | None:
    """Return the balance that edits of site.toml would lead to; None where only a reading can tell.

    Raises CannotRun where the edits make a mistake.
    """
    from divert.convert import work_out

    site = read_site(workings.site.folder, edited(workings.site.toml, edits))
    entries = workings.reading.entries
    if not same_to_ingest(_without_names(workings.site), _without_names(site)):
        return None
    entries = _renamed(entries, workings, site)
    reading = replace(workings.reading, entries=entries)
    return mass_of(work_out(site, reading, workings.factors))


def _without_names(site: Site) -> Site:
    return replace(site, materials=(), sources=(), containers=())


def _renamed(entries: pd.DataFrame, workings: Workings, site: Site) -> pd.DataFrame:
    """Return the entries with names that are known now written as those they stand for."""
    before = name_books(workings.site, workings.factors)
    now = name_books(site, workings.factors)
    out = entries
    for field in _NAMED:
        names = entries[field].cat.categories
        meant = [
            (now[field].find(str(n)) or n) if before[field].find(str(n)) is None else n
            for n in names
        ]
        if meant != list(names):
            codes = entries[field].cat.codes.to_numpy()
            values = np.array([*meant, None], dtype=object)[codes]
            out = out.assign(**{field: pd.Categorical(values)})
    return out
