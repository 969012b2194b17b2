"""For each reader what is due: the last whole period, whether it was sent, whether it is made."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from divert.core.period import Period, folder_name
from divert.core.safe_files import slugs_apart
from divert.page.periods import last_whole_quarter, last_whole_year

if TYPE_CHECKING:
    from divert.register import Entry
    from divert.site.model import Site


@dataclass(frozen=True, slots=True)
class Due:
    """One report that a reader waits for; ``sent`` is what was issued to them for these days."""

    audience: str
    name: str
    period: Period
    sent: Entry | None = None


def due(site: Site, live: Iterable[Entry], today: dt.date) -> list[Due]:
    """Return what each reader is due, sponsors first, then grants, then the board."""
    entries = list(live)
    quarter, year = last_whole_quarter(site, today), last_whole_year(site, today)
    out = []
    for name in dict.fromkeys(s.name for s in site.sponsors):
        out.append(_with_sent(Due("sponsor", name, quarter), entries))
    for grant in site.grants:
        out.append(_with_sent(Due("grant", grant.name, quarter), entries))
    out.append(_with_sent(Due("board", "", year), entries))
    return out


def _with_sent(one: Due, entries: list[Entry]) -> Due:
    return Due(
        one.audience, one.name, one.period, standing(entries, one.audience, one.name, one.period)
    )


def standing(entries: Iterable[Entry], audience: str, name: str, period: Period) -> Entry | None:
    """Return the last report issued to a reader for just these days, None where there is none."""
    return next(
        (
            e
            for e in reversed(list(entries))
            if (e.audience, e.name) == (audience, name)
            and (e.start, e.end) == (period.start, period.end)
        ),
        None,
    )


def files_of(site: Site, audience: str, name: str, period: Period) -> dict[str, Path]:
    """Return the files of a report by their endings, as far as they are made."""
    folder = site.folder / "reports" / folder_name(period.label)
    stem = "board"
    if audience == "sponsor":
        stem = f"sponsor-{slugs_apart(dict.fromkeys(s.name for s in site.sponsors))[name]}"
    elif audience == "grant":
        names = [g.name for g in site.grants]
        stem = "grant" if len(names) == 1 else f"grant-{slugs_apart(names)[name]}"
    found = {}
    for ending in (".pdf", ".html", ".xlsx", ".eml", ".csv"):
        path = folder / f"{stem}{ending}"
        if path.is_file() and not path.is_symlink():
            found[ending] = path
    return found
