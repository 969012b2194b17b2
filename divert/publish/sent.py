"""What was issued, and what has moved since: every report beside the same figure worked out today."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator, Sequence
from dataclasses import asdict, dataclass
from typing import Any

from divert.convert import Workings
from divert.convert.bands import quantity
from divert.core.reading import Reading
from divert.core.words import N_, Text
from divert.figures.figure_path import get
from divert.figures.history import Restatement
from divert.ingest import read_folder
from divert.register.entries import Entry, Register, read_register
from divert.register.restate import Read, central_values, restatements
from divert.site.model import Site

_READERS = {"sponsor": N_("sponsor"), "grant": N_("grant"), "board": N_("board")}
_MAIN = ("supplied.diverted", "supported.diverted")  # a sponsor's own, the first that there is


@dataclass(frozen=True, slots=True)
class Sent:
    """One issued report: for whom, its days, its main figure then and now (kg), and what moved.

    ``figure`` is the main figure's path, of the grant's whole time for a grant; ``withdrawn`` the
    day it was taken back and ``replaced_by`` the number that took its place, None where it stands.
    """

    number: str
    issued: dt.date
    audience: str
    name: str
    label: str
    start: dt.date
    end: dt.date
    figure: str
    then_kg: float
    now_kg: float
    moved: tuple[Restatement, ...]
    withdrawn: dt.date | None
    replaced_by: str | None


def sent_reports(workings: Workings, as_of: dt.date) -> tuple[Sent, ...]:
    """Return every issued report, the newest last. Raises CannotRun for a damaged register."""
    register = read_register(workings.site.folder)

    def again(site: Site, plans: str) -> Reading:
        return read_folder(site, as_of, plans=plans)

    return tuple(_sent(entry, register, workings, again) for entry in register.entries)


def _sent(entry: Entry, register: Register, workings: Workings, again: Read) -> Sent:
    set_name = "total" if "total" in entry.figures else "period"
    issued = entry.figures[set_name]
    figure = next((p for p in _MAIN if get(issued, f"{p}.central") is not None), "mass.diverted")
    moved = restatements(entry, workings, again, set_name)
    path = f"{figure}.central"
    then = float(get(issued, path))
    now = next((r.now for r in moved if r.figure == path), None)
    if now is None:
        made = central_values(workings, issued, [figure], issued.get("sponsor"))
        now = made.get(figure, then)
    gone = register.withdrawals.get(entry.number)
    return Sent(
        entry.number, entry.issued, entry.audience, entry.name, entry.label, entry.start, entry.end,
        path, then, now, tuple(moved), gone.on if gone else None, gone.replaced_by if gone else None,
    )  # fmt: skip


def sent_json(reports: Sequence[Sent]) -> list[dict[str, Any]]:
    """Return the reports as plain objects: days as text, masses in kg."""

    def plain(value: Any) -> Any:
        if isinstance(value, dict):
            return {k: plain(v) for k, v in value.items()}
        if isinstance(value, list | tuple):
            return [plain(v) for v in value]
        return value.isoformat() if isinstance(value, dt.date) else value

    return [dict(plain(asdict(report))) for report in reports]


def sent_lines(reports: Sequence[Sent], site: Site) -> Iterator[Text]:
    """Yield what was sent and what has moved since, as sentences."""
    if not reports:
        yield Text(N_("Nothing has been issued from this folder yet."))
        return
    for one in reports:
        yield from _lines(one, site)


def _lines(one: Sent, site: Site) -> Iterator[Text]:
    reader = Text(_READERS[one.audience])
    message = (
        N_("{number}, {reader} {name}, {label} ({start} to {end}): issued {day}") if one.name
        else N_("{number}, {reader}, {label} ({start} to {end}): issued {day}")
    )  # fmt: skip
    yield Text(
        message,
        {"number": one.number, "reader": reader, "name": one.name, "label": one.label,
         "start": one.start, "end": one.end, "day": one.issued},
    )  # fmt: skip
    if one.withdrawn is not None and one.replaced_by:
        yield Text(N_("  Withdrawn on {day}; {number} took its place"),
                   {"day": one.withdrawn, "number": one.replaced_by})  # fmt: skip
    elif one.withdrawn is not None:
        yield Text(N_("  Withdrawn on {day}"), {"day": one.withdrawn})
    values: dict[str, object] = {
        "then": quantity(one.then_kg, "kg", site.units), "now": quantity(one.now_kg, "kg", site.units)
    }  # fmt: skip
    main = next((r for r in one.moved if r.figure == one.figure), None)
    if main is None and not one.moved:
        yield Text(N_("  Diverted: {then}; the same today"), values)
        return
    if main is None:
        yield Text(N_("  Diverted: {then}; about the same today, though other figures have moved"),
                   values)  # fmt: skip
        main = one.moved[0]
    else:
        yield Text(N_("  Diverted: {then} then, {now} today"), values)
    for part in main.parts:
        said = Text(part.reason)
        if part.rows:
            yield Text("    {reason} ({rows})", {"reason": said, "rows": part.rows})
        else:
            yield Text("    {reason}", {"reason": said})
