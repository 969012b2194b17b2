"""What no single table of site.toml can get wrong: shares together, suppliers, spellings."""

from __future__ import annotations

import datetime as dt
from collections.abc import Sequence
from itertools import pairwise
from typing import Protocol

from divert.core.findings import CannotRun
from divert.core.names import plain
from divert.core.words import N_, Text
from divert.site.model import Grant, Sponsor
from divert.site.table import Table

_DAY = dt.timedelta(days=1)


class _Named(Protocol):
    @property
    def name(self) -> str: ...
    @property
    def also(self) -> tuple[str, ...]: ...


def spelled_apart(things: Sequence[_Named], tables: Sequence[Table]) -> None:
    """Raise where one spelling belongs to two names: nobody could tell which is meant."""
    owner: dict[str, tuple[str, Table]] = {}
    for thing, table in zip(things, tables, strict=True):
        for spelling in (thing.name, *thing.also):
            name, first = owner.setdefault(plain(spelling), (thing.name, table))
            if name != thing.name:
                key = "name" if plain(spelling) == plain(thing.name) else "also"
                what = Text(
                    N_('"{spelling}" is also a spelling of "{other}" (line {line}). '
                       "Leave it with one of them."),
                    {"spelling": spelling, "other": name, "line": str(first.line())},
                )  # fmt: skip
                raise table.says(key, what)


def once(tables: Sequence[Table]) -> None:
    """Raise where a name that cannot have versions is written twice."""
    seen: dict[str, Table] = {}
    for table in tables:
        first = seen.setdefault(plain(table.text("name")), table)
        if first is not table:
            what = Text(
                N_("this name is already written on line {line}. Give each its own name."),
                {"line": str(first.line())},
            )
            raise table.says("name", what)


def _spans(sponsors: Sequence[Sponsor]) -> list[tuple[dt.date, dt.date, int]]:
    """Return (first day, last day, position) of every version of every sponsor."""
    by_name: dict[str, list[int]] = {}
    for position, sponsor in enumerate(sponsors):
        by_name.setdefault(sponsor.name, []).append(position)
    spans: list[tuple[dt.date, dt.date, int]] = []
    for positions in by_name.values():
        positions.sort(key=lambda p: sponsors[p].since or dt.date.min)
        starts = [sponsors[p].since or dt.date.min for p in positions]
        ends = [start - _DAY for start in starts[1:]] + [dt.date.max]
        spans += zip(starts, ends, positions, strict=True)
    return spans


def shares_at_most_one(
    sponsors: Sequence[Sponsor], grants: Sequence[Grant], tables: Sequence[Table]
) -> None:
    """Raise for the first day on which what sponsors and grants fund comes to more than the whole.

    ``tables`` are the sponsors' and then the grants', to point at.
    """
    parts = [
        (start, end, sponsors[p].funds or 0.0, p)
        for start, end, p in _spans(sponsors)
        if sponsors[p].funds
    ]
    parts += [
        (grant.start or dt.date.min, grant.end or dt.date.max, grant.share, len(sponsors) + p)
        for p, grant in enumerate(grants)
        if grant.share
    ]
    for day in sorted({start for start, *_ in parts}):
        there = [part for part in parts if part[0] <= day <= part[1]]
        total = sum(part[2] for part in there)
        if total > 1 + 1e-9:
            raise _above_one(day, total, there, tables)


def _above_one(
    day: dt.date,
    total: float,
    there: Sequence[tuple[dt.date, dt.date, float, int]],
    tables: Sequence[Table],
) -> CannotRun:
    shares = ", ".join(f'"{tables[p].text("name")}" {share:g}' for _, _, share, p in there)
    table = tables[max(there, key=lambda part: tables[part[3]].line())[3]]
    key = "funds" if table.name == "sponsor" else "share"
    values = {"total": f"{total:g}", "shares": shares, "day": day}
    if day == dt.date.min:
        message = N_("the funded shares come to {total}: {shares}. Together they may be at most 1.")
    else:
        message = N_(
            "from {day} the funded shares come to {total}: {shares}. "
            "Together they may be at most 1."
        )
    return table.says(key, Text(message, values))


def one_supplier_each(sponsors: Sequence[Sponsor], tables: Sequence[Table]) -> None:
    """Raise where two sponsors both supply one source on the same day."""
    claims: dict[str, list[tuple[dt.date, dt.date, int]]] = {}
    for start, end, position in _spans(sponsors):
        for source in sponsors[position].supplies:
            claims.setdefault(source, []).append((start, end, position))
    for source, spans in claims.items():
        for (_, end, earlier), (start, _, later) in pairwise(sorted(spans)):
            if start <= end:
                first, second = sorted((tables[earlier], tables[later]), key=Table.line)
                raise second.says(
                    "supplies",
                    Text(
                        N_('the source "{source}" is already supplied by "{other}" (line {line}); '
                           "a source has one supplier at a time. Leave it with one, or write "
                           "the change again with from = the day."),
                        {"source": source, "other": first.text("name"),
                         "line": str(first.line("supplies"))},
                    ),
                )  # fmt: skip
