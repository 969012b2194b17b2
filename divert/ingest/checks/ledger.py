"""What is checked over the whole ledger, once every file is read."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Sequence
from dataclasses import replace

import numpy as np
import pandas as pd

from divert.core.checked import checked
from divert.core.findings import Finding
from divert.core.ledger import sheets_of
from divert.core.reading import SheetTaken
from divert.ingest.checks.asked import other_money
from divert.ingest.checks.habits import far_outside
from divert.ingest.checks.repeats import repeats, weight_and_volume
from divert.ingest.checks.weeks import weeks_missed
from divert.ingest.checks.weighed_loads import weighed_only
from divert.site.model import Site


def queries(entries: pd.DataFrame, skipped: pd.DataFrame, site: Site) -> list[Finding]:
    """Return what looks wrong among the entries: repeats, one load twice, broken habits."""
    if entries.empty:
        return []
    checks: list[tuple[str, Callable[[pd.DataFrame], list[Finding]]]] = [
        ("row repeated exactly", repeats),
        ("weight row and volume row of one load", lambda rows: weight_and_volume(rows, site)),
        ("count far outside habit", far_outside),
        ("weekly habit broken", lambda rows: weeks_missed(rows, skipped, site)),
        ("money in another currency", lambda rows: other_money(rows, site)),
        ("weighed, not received", weighed_only),
    ]
    return [finding for code, check in checks for finding in checked(code, check, entries)]


def recount(
    sheets: Sequence[SheetTaken],
    entries: pd.DataFrame,
    set_aside: pd.DataFrame,
    skipped: pd.DataFrame,
) -> list[SheetTaken]:
    """Return the sheets with what stands outside their tables, and corrections, counted in.

    The counts of a sheet's tables then add up to what the frames hold of that sheet.
    """
    held = {
        "used": _per_sheet(entries),
        "set_aside": _per_sheet(set_aside),
        "skipped": _rows_per_sheet(skipped),
    }
    said = {what: Counter[tuple[str, str]]() for what in held}
    for sheet in sheets:
        for what in held:
            said[what][sheet.file, sheet.sheet] += getattr(sheet, what)
    out: list[SheetTaken] = []
    done: set[tuple[str, str]] = set()
    for sheet in sheets:
        key = (sheet.file, sheet.sheet)
        if key not in done:
            done.add(key)
            more = {what: getattr(sheet, what) + held[what][key] - said[what][key] for what in held}
            sheet = replace(sheet, **more, seen=sum(more.values()))
        out.append(sheet)
    return out


def _rows_per_sheet(skipped: pd.DataFrame) -> Counter[tuple[str, str]]:
    out: Counter[tuple[str, str]] = Counter()
    for file, sheet, rows in zip(skipped["file"], skipped["sheet"], skipped["rows"], strict=True):
        out[file, sheet] += int(rows)
    return out


def _per_sheet(frame: pd.DataFrame) -> Counter[tuple[str, str]]:
    if frame.empty:
        return Counter()
    if isinstance(frame["file"].dtype, pd.CategoricalDtype):
        number, sheets = sheets_of(frame)
        return Counter(dict(zip(sheets, np.bincount(number).tolist(), strict=True)))
    pairs: Iterable[tuple[str, str]] = zip(frame["file"], frame["sheet"], strict=True)
    return Counter(pairs)
