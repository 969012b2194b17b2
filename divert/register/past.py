"""What a new report says about earlier ones: reported before, restated, withdrawn."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping, Sequence

from divert.convert import Workings
from divert.figures.contract import Figures
from divert.figures.history import History, PreviouslyReported, Restatement, Withdrawn
from divert.register.entries import Entry, Register, read_register
from divert.register.issue import as_issued
from divert.register.restate import Read, restatements

Days = tuple[dt.date, dt.date]


def history_for(
    workings: Workings,
    audience: str,
    name: str,
    figure_sets: Mapping[str, Figures],
    *,
    read: Read | None = None,
    number: str | None = None,
    withdraws: str | None = None,
) -> History:
    """Return what a report of these figures must say about the ones issued before to its reader.

    ``read`` reads the folder as it is today under given settings and plans (default: as the figures' as-of
    day). ``number`` and ``withdraws`` are those of the new report itself. Empty where nothing was
    issued. Raises CannotRun where the register or what it keeps was damaged.
    """
    register = read_register(workings.site.folder)
    if not register.entries:
        return History()
    own = [e for e in register.entries if (e.audience, e.name) == (audience, name)]
    live = [e for e in own if e.number not in register.withdrawals and e.number != withdraws]
    period = figure_sets["period"]
    previously = _previously(workings, live, period) if audience == "grant" else None
    again = read or _reader(period.as_of)
    told: list[Restatement] = []
    if previously is not None:
        entry = register.get(previously.number)
        told += restatements(entry, workings, again, "total")
    for entry in _compared(live, _days(period, audience)):
        told += restatements(entry, workings, again)
    return History(previously, tuple(told), _withdrawn(register, own, period, number, withdraws))


def _reader(as_of: dt.date) -> Read:
    from divert.ingest import read_folder

    return lambda site, plans: read_folder(site, as_of, plans=plans)


def _previously(
    workings: Workings, live: Sequence[Entry], period: Figures
) -> PreviouslyReported | None:
    """Return the last statement that ended before a period: the latest end, the latest issue."""
    before = [e for e in live if e.end < period.period.start]
    if not before:
        return None
    entry = max(before, key=lambda e: (e.end, live.index(e)))
    figures = as_issued(workings.site.folder, entry)["total"]
    return PreviouslyReported(
        entry.number, entry.issued, entry.label, entry.start, entry.end, figures
    )


def _days(period: Figures, audience: str) -> list[Days]:
    """Return the spans whose figures a report prints: its own, and those it compares with."""
    days = [(period.period.start, period.period.end)]
    if audience != "grant":
        days += [
            (c.start, c.end)
            for c in (period.previous, period.same_period_last_year)
            if c is not None
        ]
    return days


def _compared(live: Sequence[Entry], days: Sequence[Days]) -> list[Entry]:
    """Return the entries that overlap any of the spans; of several on one span, the last."""
    last: dict[Days, Entry] = {}
    for entry in live:
        if any(entry.start <= end and start <= entry.end for start, end in days):
            last[entry.start, entry.end] = entry
    return sorted(last.values(), key=lambda e: e.number)


def _withdrawn(
    register: Register, own: Sequence[Entry], period: Figures, number: str | None,
    withdraws: str | None,
) -> tuple[Withdrawn, ...]:  # fmt: skip
    gone = register.withdrawals
    out = [
        Withdrawn(e.number, e.label, e.issued, gone[e.number].on, gone[e.number].replaced_by)
        for e in own
        if e.number in gone
    ]
    if withdraws is not None and withdraws not in gone:
        entry = register.get(withdraws)
        out.append(Withdrawn(entry.number, entry.label, entry.issued, period.as_of, number))
    return tuple(out)
