"""What is checked over the whole ledger, once every file is read."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import replace

import pandas as pd

from divert.findings import Finding
from divert.ingest.corrections import corrections
from divert.ingest.entries import Gathered
from divert.ingest.habits import far_outside, weeks_missed
from divert.ingest.repeats import repeats, weight_and_volume
from divert.reading import SheetTaken
from divert.site import Site
from divert.words import N_, Text

__all__ = ["asked", "corrections", "queries", "recount"]

_MEANT = {
    "ton": N_("A bare “ton” is read as site.toml says: {meant}."),
    "gallon": N_("A bare “gal” is read as site.toml says: {meant}."),
}


def asked(out: Gathered, site: Site) -> list[Finding]:
    """Return what only site.toml settled, and entries that name no source: one finding per name."""
    meant = {
        "ton": {
            "short": N_("short ton (2,000 lb)"),
            "long": N_("long ton (2,240 lb)"),
            "tonne": N_("tonne (1,000 kg)"),
        }[site.ton],
        "gallon": {"us": N_("US gallon (3.785 L)"), "imperial": N_("imperial gallon (4.546 L)")}[
            site.gallon
        ],
    }
    findings = []
    for word, (count, where, found) in out.asked.items():
        message = Text(_MEANT[word], {"meant": Text(meant[word])})
        hint = Text(N_("If that is wrong, change “ton” or “gallon” under [site] in site.toml."))
        findings.append(
            Finding("query", "unit settled by site.toml", message, where, hint, found, count, word)
        )
    for count, where, found in out.by_site_dates:
        message = Text(
            N_(
                "Dates such as {found} can be read two ways; I read them {order}, as site.toml says."
            ),
            {"found": found, "order": site.dates or ""},
        )
        hint = Text(N_("If that is wrong for this sheet, write its dates as 2025-03-04."))
        name = f"{where.file}!{where.sheet}!{where.column}"
        findings.append(
            Finding(
                "query", "date order settled by site.toml", message, where, hint, found, count, name
            )
        )
    for file, (count, where) in out.sourceless.items():
        message = Text(
            N_("{rows} entries do not say who they came from; they are kept as “not recorded”."),
            {"rows": count},
        )
        hint = Text(N_("Name the source on the row, in the sheet's title, or in the sheet's name."))
        findings.append(
            Finding("query", "source not recorded", message, where, hint, "", count, file)
        )
    return findings


def queries(entries: pd.DataFrame, skipped: pd.DataFrame, site: Site) -> list[Finding]:
    """Return what looks wrong among the entries: repeats, one load twice, broken habits."""
    if entries.empty:
        return []
    return [
        *repeats(entries),
        *weight_and_volume(entries, site),
        *far_outside(entries),
        *weeks_missed(entries, skipped, site),
    ]


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
        "skipped": _per_sheet(skipped),
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


def _per_sheet(frame: pd.DataFrame) -> Counter[tuple[str, str]]:
    if frame.empty:
        return Counter()
    if isinstance(frame["file"].dtype, pd.CategoricalDtype):
        sizes = frame.groupby(["file", "sheet"], observed=True, dropna=False).size().reset_index()
        rows = zip(sizes["file"], sizes["sheet"], sizes[0], strict=True)
        return Counter({(str(f), s if isinstance(s, str) else ""): int(n) for f, s, n in rows})
    pairs: Iterable[tuple[str, str]] = zip(frame["file"], frame["sheet"], strict=True)
    return Counter(pairs)
