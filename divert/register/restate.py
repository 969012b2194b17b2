"""Whether issued figures have moved, and why: one reason after another, in a fixed order."""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

import numpy as np
import pandas as pd

from divert.convert import Workings, work_out
from divert.core.findings import CannotRun
from divert.core.ledger_file import ledger_of
from divert.core.range import Range
from divert.core.reading import Reading, reading_of
from divert.evidence.book import Book, value_of
from divert.evidence.derived import derive
from divert.evidence.factor_rows import numbers
from divert.evidence.figure_recipes import recipe
from divert.evidence.lines import lines_of
from divert.evidence.recipe_days import span
from divert.factors import FactorSet
from divert.figures.figure_path import get
from divert.figures.history import Move, ReasonForMove, Restatement
from divert.figures.numbers.rounding import steps
from divert.figures.numbers.scales import suited
from divert.inventory.issued_folder import LEDGER
from divert.register import kept
from divert.register.differences import Differences, differences
from divert.register.entries import Entry
from divert.register.snapshot import factors_of, settings_of
from divert.site.model import Site

SITE_FIGURES = (
    "mass.received", "mass.diverted", "mass.not_claimed", "mass.removed", "mass.residue",
    "emissions.landfill_avoided", "emissions.process", "emissions.fuel", "emissions.net_avoided",
)  # fmt: skip
SPONSOR_FIGURES = (
    "supplied.received", "supplied.diverted", "supplied.net_avoided", "supported.diverted",
    "supported.net_avoided",
)  # fmt: skip
# Settings that change how a report looks and not what a ledger or a figure says.
_LOOKS = ("folder", "toml", "id", "logo", "colour", "language", "report", "units", "grants")

Read = Callable[[Site, str], Reading]


def restatements(
    entry: Entry, now: Workings, read: Read, set_name: str = "period"
) -> tuple[Restatement, ...]:
    """Return every figure of an issued report's set that prints differently today.

    ``read`` reads the folder as it is today under given settings and plans. The parts of a
    restatement add up to its move. Raises CannotRun where what was kept of the day of issue is gone
    or was changed.
    """
    issued = entry.figures[set_name]
    sponsor = issued.get("sponsor")
    paths = [
        p for p in (*SITE_FIGURES, *SPONSOR_FIGURES) if get(issued, f"{p}.central") is not None
    ]
    values_now = central_values(now, issued, paths, sponsor)
    moved = [p for p in paths if _shows(p, issued, values_now[p], now.site)]
    if not moved:
        return ()
    stages = _stages(entry, now, read)
    rows = _counts(stages, span(issued))
    values = [
        (reason, central_values(workings, issued, moved, sponsor))
        for reason, workings in stages.workings
    ]
    out = []
    for path in moved:
        was = float(get(issued, f"{path}.central"))
        parts, before = [], was
        for reason, made in values:
            parts.append(Move(reason, made[path] - before, rows.get(reason)))
            before = made[path]
        # The last step ends at today's own value, to the last bit.
        parts[-1] = replace(parts[-1], amount=parts[-1].amount + values_now[path] - before)
        out.append(
            Restatement(
                entry.number, entry.issued, _label(entry, set_name), f"{path}.central", was,
                values_now[path], _without_noise(parts, values_now[path] - was),
                _range_then(issued, path),
            )
        )  # fmt: skip
    return tuple(out)


def _label(entry: Entry, set_name: str) -> str:
    return str(entry.figures[set_name]["period"]["label"])


def _shows(path: str, issued: Mapping[str, Any], now: float, site: Site) -> bool:
    """Return whether a figure would be printed otherwise than it was."""
    then = _range_then(issued, path)
    kind = "co2e" if "net_avoided" in path or path.startswith("emissions") else "mass"
    scale = suited(kind, max(abs(then.central), abs(now)), site.units)  # type: ignore[arg-type]
    quantum = scale.quantum_of(then.central, then) * scale.factor
    return steps(then.central, quantum) != steps(now, quantum)


def _range_then(issued: Mapping[str, Any], path: str) -> Range:
    found = get(issued, path)
    return Range(*(float(found[end]) for end in ("central", "low", "high")))


def _without_noise(parts: Sequence[Move], move: float) -> tuple[Move, ...]:
    """Return the parts that are more than float noise; the noise goes to the largest."""
    least = max(abs(move), *(abs(p.amount) for p in parts)) * 1e-9
    real = [p for p in parts if abs(p.amount) > least]
    largest = max(range(len(real)), key=lambda i: abs(real[i].amount))
    rest = sum(p.amount for i, p in enumerate(real) if i != largest)
    real[largest] = replace(real[largest], amount=move - rest)
    return tuple(real)


def central_values(
    workings: Workings, issued: Mapping[str, Any], paths: Iterable[str], sponsor: str | None
) -> dict[str, float]:
    """Return central figures (kg, kg CO2e) of an issued set's span from other workings."""
    wanted = list(paths)
    lines = lines_of(workings, span(issued)[1], sponsor)
    found = numbers(workings, lines)
    derived = derive(lines, found.values, found.classes, found.processes)
    book = Book(
        derived, found.values, found.classes, found.processes, lambda path: recipe(issued, path)
    )
    made = {path: recipe(issued, path) for path in wanted}
    return {path: value_of(one, book) for path, one in made.items() if one is not None}


@dataclass(frozen=True, eq=False)
class _Then:
    """The day of issue: its settings, entries and factors, what taught densities, all worked out."""

    site: Site
    entries: pd.DataFrame
    plans: str
    factors: FactorSet
    taught: pd.DataFrame
    workings: Workings


@dataclass(frozen=True, eq=False)
class _Stages:
    """The workings after each reason in turn, from the day of issue to today."""

    workings: tuple[tuple[ReasonForMove, Workings], ...]
    moved: Differences
    old: pd.DataFrame
    new: pd.DataFrame


_MOST_KEPT = 4  # days of issue


def _stages(entry: Entry, now: Workings, read: Read) -> _Stages:
    """Return the workings between a report's day of issue and today.

    They are kept with today's, by what was kept of that day: many reports are issued in one day, and
    share all of it. Any two ``read`` that are asked beside the same workings read the same.
    """
    day = tuple(
        entry.fingerprints.get(name) for name in (LEDGER, kept.SETTINGS, kept.FACTORS, kept.PLANS)
    )
    held: dict[tuple[str | None, ...], _Stages] = now.kept.setdefault(_Stages, {})
    if day not in held:
        if len(held) >= _MOST_KEPT:
            held.clear()
        held[day] = _stages_of(_then_of(entry, now.site.folder), now, read)
    return held[day]


def _then_of(entry: Entry, folder: Path) -> _Then:
    def file(name: str) -> bytes:
        return kept.kept(folder, entry.number, name, entry.fingerprints[name])

    site = settings_of(file(kept.SETTINGS), folder)
    entries = ledger_of(file(LEDGER))
    known = factors_of(file(kept.FACTORS))
    workings = work_out(site, reading_of(entries), known)
    # A load that was refused taught no density then, and must not now.
    plans = file(kept.PLANS).decode("utf-8-sig") if kept.PLANS in entry.fingerprints else ""
    return _Then(site, entries, plans, known, entries.loc[workings.ledger.index], workings)


def _stages_of(then: _Then, now: Workings, read: Read) -> _Stages:
    site, today, old = now.site, now.reading.entries, then.entries
    same, planned = _said(then.site) == _said(site), then.plans == now.reading.plans
    other = today if same else _read_as(then.site, now.reading.plans, read, today)
    new = other if planned else _read_as(then.site, then.plans, read, other)
    moved = differences(old, new)
    added, changed = new.iloc[moved.added], new.iloc[moved.changed_new]
    unchanged = old.drop(old.index[moved.changed_old])

    def under(settings: Site, entries: pd.DataFrame, taught: pd.DataFrame | None) -> Workings:
        return work_out(settings, reading_of(entries), then.factors, taught)

    stages: tuple[tuple[ReasonForMove, Workings], ...] = (
        ("the calculation changed", then.workings),
        ("rows added", under(then.site, pd.concat([old, added]), then.taught)),
        ("rows changed", under(then.site, pd.concat([unchanged, changed, added]), then.taught)),
        ("rows removed", under(then.site, new, then.taught)),
        ("sheets read otherwise", under(then.site, other, then.taught)),
        ("settings changed", under(site, today, then.taught)),
        ("the site's own densities moved", under(site, today, None)),
        ("factors changed", now),
    )
    return _Stages(stages, moved, old, new)


def _said(site: Site) -> Site:
    blank = Site(site.folder, site.name, "metric", site.started)
    return replace(site, **{name: getattr(blank, name) for name in _LOOKS})


def _read_as(then: Site, plans: str, read: Read, otherwise: pd.DataFrame) -> pd.DataFrame:
    """Return today's entries as the settings and plans of another day would have read them."""
    try:
        return read(then, plans).entries
    except CannotRun:  # what was said then does not fit the files any more
        return otherwise


def _counts(stages: _Stages, days: tuple[dt.date, dt.date]) -> dict[str, int]:
    """Return how many entries dated in a span were added, changed and removed."""
    low, high = (np.datetime64(d, "D") for d in days)
    moved = stages.moved

    def inside(ledger: pd.DataFrame, places: np.ndarray) -> np.ndarray:
        day = ledger["date"].to_numpy()[places].astype("datetime64[D]")
        return np.asarray((day >= low) & (day <= high))

    changed = inside(stages.old, moved.changed_old) | inside(stages.new, moved.changed_new)
    return {
        "rows added": int(inside(stages.new, moved.added).sum()),
        "rows changed": int(changed.sum()),
        "rows removed": int(inside(stages.old, moved.removed).sum()),
    }
