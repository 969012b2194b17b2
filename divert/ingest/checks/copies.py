"""Near copies set aside whole, with the question which of the two counts."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Sequence
from dataclasses import replace

import numpy as np
import pandas as pd

from divert.core.findings import Choice, Finding, Where
from divert.core.ledger import sheets_of
from divert.core.words import N_, Text
from divert.ingest.checks.contents import content_of
from divert.ingest.checks.held_back import AsideRow, HeldBack, nothing_held
from divert.ingest.checks.near_copies import NearCopy, near_copies
from divert.site.answers import compared
from divert.site.model import Answer, Site

CODE = "near copy"
_SHOWN = 5  # rows of each side that differ


def without_copies(
    entries: pd.DataFrame, site: Site, read_before: Collection[str] = ()
) -> HeldBack:
    """Set aside every file or sheet that says again what another says, unless site.toml settles it.

    ``read_before``: files that were read the last time; of two that say the same they count.
    """
    verdicts = _verdicts(site.answers)
    instead = [name for name, answer in verdicts.items() if answer.verdict == "count instead"]
    names = _names(entries)
    apart = [
        n for n in names if (a := verdicts.get(compared(n))) is not None and a.verdict == "count"
    ]
    first = [n.partition("!")[0] for n in names if compared(n) in instead]
    copies = near_copies(entries, [*dict.fromkeys(first), *sorted(read_before)], apart)
    found = copies.found
    if not found:
        return nothing_held(entries, by_order=copies.by_order)
    findings = [_asked(c, entries, verdicts, instead) for c in found]
    rows = np.concatenate([c.rows for c in found])
    abouts = np.concatenate([
        np.full(len(c.rows), f.about, dtype=object) for c, f in zip(found, findings, strict=True)
    ])  # fmt: skip
    kept = np.ones(len(entries), dtype=bool)
    kept[rows] = False
    held = entries.iloc[rows].assign(about=abouts).reset_index(drop=True)
    return HeldBack(
        entries[kept].reset_index(drop=True), held, _rows(held), findings, copies.by_order
    )


def _names(entries: pd.DataFrame) -> list[str]:
    """Return every file, and every sheet as ``file!sheet``."""
    pairs = sheets_of(entries)[1]
    return [
        *dict.fromkeys(file for file, _ in pairs),
        *(f"{file}!{sheet}" for file, sheet in pairs),
    ]


def _verdicts(answers: Iterable[Answer]) -> dict[str, Answer]:
    head = compared(f"{CODE}:")
    named = {compared(a.about): a for a in answers}
    return {
        about.removeprefix(head).strip(): a for about, a in named.items() if about.startswith(head)
    }


def _rows(held: pd.DataFrame) -> list[AsideRow]:
    columns = [
        held[n].astype(object).fillna("") for n in ("file", "sheet", "row", "column", "found")
    ]
    return [
        (str(f), str(s), int(r), str(c), str(t), CODE)
        for f, s, r, c, t in zip(*columns, strict=True)
    ]


def _asked(
    copy: NearCopy,
    entries: pd.DataFrame,
    verdicts: dict[str, Answer],
    instead: Sequence[str],
) -> Finding:
    name = copy.file if copy.sheet is None else f"{copy.file}!{copy.sheet}"
    other = copy.of_file if copy.of_sheet is None else f"{copy.of_file}!{copy.of_sheet}"
    message = Text(
        N_("“{name}” says again what “{other}” says ({shared} of its {rows} entries), so it is set "
           "aside whole and not counted."),
        {"name": name, "other": other, "shared": copy.shared, "rows": len(copy.rows)},
    )  # fmt: skip
    hint = Text(N_("Take one of the two out of the folder, or say which of them counts."))
    days = pd.DatetimeIndex(entries["date"].iloc[copy.rows]).dropna()
    finding = Finding(
        "refused", CODE, message, Where(copy.file, copy.sheet), hint, rows=len(copy.rows),
        name=name, blocks=True, shown=_differences(copy, entries), choices=_choices(name, other),
        days=(days.min().date(), days.max().date()) if len(days) else None,
    )  # fmt: skip
    settled = verdicts.get(compared(other))
    if settled is not None and compared(other) in instead:
        return replace(finding, answer=settled.reason)
    return finding


def _differences(copy: NearCopy, entries: pd.DataFrame) -> tuple[Text, ...]:
    if not len(copy.differs) and not len(copy.lacks):
        return (Text(N_("Both say the same.")),)
    lines = []
    for rows, message, more in (
        (copy.differs, N_("only in “{file}”: {row}"), N_("only in “{file}”, more rows: {count}")),
        (copy.lacks, N_("only in “{file}”: {row}"), N_("only in “{file}”, more rows: {count}")),
    ):
        for row in rows[:_SHOWN].tolist():
            values = {"file": str(entries["file"].iat[row]), "row": content_of(entries, row)}
            lines.append(Text(message, values))
        if len(rows) > _SHOWN:
            file = str(entries["file"].iat[int(rows[0])])
            lines.append(Text(more, {"file": file, "count": len(rows) - _SHOWN}))
    return tuple(lines)


def _choices(name: str, other: str) -> tuple[Choice, ...]:
    about = f"{CODE}: {name}"
    labels = {
        "leave out": N_("Leave “{name}” out: it is a copy"),
        "count instead": N_("Count “{name}”, and leave “{other}” out"),
        "count": N_("Count both: they are two logs"),
    }
    return tuple(
        Choice(Text(label, {"name": name, "other": other}), "answer",
               {"about": about, "verdict": verdict})
        for verdict, label in labels.items()
    )  # fmt: skip
