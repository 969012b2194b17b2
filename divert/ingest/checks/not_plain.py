"""What a sheet holds is never assumed: entries taken for intake on no evidence are asked about.

A sheet is intake on evidence: its own name, known sources on its rows, a column of materials. Where
its name speaks of feedings, tests, things taken out or product, or where nothing speaks at all, it
is set aside whole with one question that shows its first rows.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache
from pathlib import PurePosixPath

import numpy as np
import pandas as pd

from divert.core.findings import Choice, Finding, Where
from divert.core.ledger import sheets_of
from divert.core.reading import SheetTaken
from divert.core.words import N_, Text
from divert.ingest.cells.date import month_words
from divert.ingest.checks.contents import content_of
from divert.ingest.checks.held_back import AsideRow, HeldBack, nothing_held
from divert.ingest.known import Known
from divert.ingest.lexicon import words
from divert.ingest.tables.heading_words import norm
from divert.ingest.tables.kind_words import kind_said
from divert.ingest.tables.overrides import rule_for
from divert.site.answers import compared
from divert.site.model import Site

CODE = "what it holds is not plain"
_FIRST = 3  # rows shown
_NO_NAME = re.compile(r"(?i)(?:sheet|feuil(?:le)?|tabelle|hoja|table|tab|data|donnees)?\s*\d*")
_MEANT = {
    "feedings": N_("feedings of beds"),
    "tests": N_("test weighings"),
    "removed": N_("things taken out"),
    "harvest": N_("finished product"),
    "process": N_("temperatures and the like"),
    "intake": N_("loads that came in"),
    "nothing": N_("nothing to count"),
}


@dataclass(frozen=True, slots=True)
class _Doubt:
    """Why a sheet may hold something else: the word met, "" for nothing, and what it may mean."""

    word: str
    means: str


def without_doubtful(entries: pd.DataFrame, sheets: Sequence[SheetTaken], known: Known) -> HeldBack:
    """Set aside the intake of every sheet that does not plainly hold any, unless it is settled."""
    found = list(_doubts(entries, sheets, known))
    if not found:
        return nothing_held(entries)
    held: list[pd.DataFrame] = []
    aside: list[AsideRow] = []
    findings: list[Finding] = []
    keep = np.ones(len(entries), dtype=bool)
    for (file, sheet), rows, doubt in found:
        finding = _asked(entries, rows, Where(file, sheet or None), doubt)
        findings.append(finding)
        keep[rows] = False
        mine = entries.iloc[rows]
        held.append(mine.assign(about=finding.about))
        columns = [mine[n].astype(object).fillna("") for n in ("row", "column", "found")]
        aside += [
            (file, sheet, int(r), str(c), str(t), CODE) for r, c, t in zip(*columns, strict=True)
        ]
    return HeldBack(
        entries[keep].reset_index(drop=True), pd.concat(held, ignore_index=True), aside, findings
    )


def _doubts(
    entries: pd.DataFrame, sheets: Sequence[SheetTaken], known: Known
) -> Iterator[tuple[tuple[str, str], np.ndarray, _Doubt]]:
    taken: dict[tuple[str, str], list[SheetTaken]] = {}
    for one in sheets:
        if one.holds == "intake" and one.used:
            taken.setdefault((one.file, one.sheet), []).append(one)
    if not taken or entries.empty:
        return
    rows_of = _intake_of(entries)
    counted = _counted(known.site)
    names = entries[["source", "material"]]
    for key, tables in taken.items():
        rule = rule_for(known.site, *key)
        if (rule is not None and rule.holds) or compared(_name(*key)) in counted:
            continue
        rows = rows_of.get(key)
        if rows is not None and (doubt := _doubt(key, tables, names.iloc[rows], known)):
            yield key, rows, doubt


def _intake_of(entries: pd.DataFrame) -> dict[tuple[str, str], np.ndarray]:
    """Return the places of the intake of each file and sheet."""
    intake = np.flatnonzero((entries["kind"] == "intake").to_numpy())
    codes, found = sheets_of(entries[["file", "sheet"]].iloc[intake])
    return {key: intake[codes == code] for code, key in enumerate(found)}


def _counted(site: Site) -> set[str]:
    """Return the sheets that an answer says are loads that came in."""
    head = compared(f"{CODE}:")
    return {
        compared(a.about).removeprefix(head).strip()
        for a in site.answers
        if a.verdict == "count" and compared(a.about).startswith(head)
    }


def _doubt(
    key: tuple[str, str], tables: Sequence[SheetTaken], rows: pd.DataFrame, known: Known
) -> _Doubt | None:
    file, sheet = key
    name = sheet or PurePosixPath(file).stem
    plain = known.materials.without(known.sources.without(name))
    doubt = _met("doubt", plain)
    if kind_said(name, known) == "intake" and (doubt is None or " " not in doubt.word):
        return None  # "Bed 1 intake"; but "Scale checks" are no loads over a scale
    if doubt is not None:
        return _Doubt(name, doubt.means)
    sources = _counts(rows["source"])
    named = sum(n for source, n in sources.items() if known.sources.find(source) is not None)
    if named > 0.5 * len(rows):
        return None
    taken = [
        (heading, as_field.split(" (")[0]) for t in tables for _, heading, as_field in t.columns
    ]
    for heading, _ in taken:
        if doubt := _met("doubt_headings", heading, whole=True):
            return _Doubt(heading, doubt.means)
    fields = {field.split(":")[0] for _, field in taken}
    materials = _counts(rows["material"])
    fed = sum(n for one, n in materials.items() if known.materials.find(one)) > 0.5 * len(rows)
    only_one = len({m.name for m in known.site.materials}) == 1  # it is taken where none is told
    if (fed and not only_one) or fields & {"source", "material", "container"} or len(sources):
        return None
    if _told(name, file, known):
        return None
    return _Doubt("", "")


def _counts(column: pd.Series[str]) -> dict[str, int]:
    """Return the names in a column of codes, and how many rows have each."""
    names = column.cat.categories
    counts = np.bincount(column.cat.codes.to_numpy() + np.int64(1), minlength=len(names) + 1)
    return {str(name): n for name, n in zip(names, counts[1:].tolist(), strict=True) if n}


def _told(name: str, file: str, known: Known) -> bool:
    """Return whether a name says a month, a year or a source, or a file's that it is a log."""
    tokens = norm(re.sub(r"\d+", " ", name)).split()
    if not tokens or _NO_NAME.fullmatch(name) or all(t in _months() for t in tokens):
        stem = PurePosixPath(file).stem.replace("_", " ")
        return kind_said(stem, known) == "intake" or known.names(stem)
    return known.names(name)


def _met(section: str, text: str, whole: bool = False) -> _Doubt | None:
    """Return the first phrase of a list that a text holds, or that it is, where ``whole``."""
    said = norm(re.sub(r"\d+", " ", text))
    padded = f" {said} "
    for means, phrase in _phrases(section):  # the longest first
        if said == phrase if whole else f" {phrase} " in padded:
            return _Doubt(phrase, means)
    return None


@lru_cache
def _phrases(section: str) -> tuple[tuple[str, str], ...]:
    lists = words("kinds")[section]
    flat = [(means, norm(phrase)) for means, phrases in lists.items() for phrase in phrases]
    return tuple(sorted(flat, key=lambda pair: -len(pair[1])))


@lru_cache
def _months() -> frozenset[str]:
    return frozenset(map(norm, month_words()))


def _name(file: str, sheet: str) -> str:
    return f"{file}!{sheet}" if sheet else file


def _asked(entries: pd.DataFrame, rows: np.ndarray, where: Where, doubt: _Doubt) -> Finding:
    name = _name(where.file or "", where.sheet or "")
    message = Text(N_("Nothing says that “{name}” holds loads that came in, so none of its rows is "
                      "counted: {rows}."), {"name": name, "rows": len(rows)})  # fmt: skip
    if doubt.word:
        message = Text(
            N_("“{word}” does not speak of loads that came in, but of {meant}, so none of the rows "
               "of “{name}” is counted: {rows}."),
            {"word": doubt.word, "meant": Text(_MEANT[doubt.means]), "name": name,
             "rows": len(rows)},
        )  # fmt: skip
    hint = Text(N_("Say what it holds under [[sheet]] in site.toml."))
    days = entries["date"].to_numpy()[rows].astype("datetime64[D]")
    days = days[~np.isnat(days)]
    offered = [doubt.means, "intake", "nothing"] if doubt.means else ["intake", "nothing"]
    return Finding(
        "refused", CODE, message, where, hint, rows=len(rows), name=name, blocks=True,
        days=(days.min().item(), days.max().item()) if len(days) else None,
        shown=tuple(Text("{row}", {"row": content_of(entries, int(r))}) for r in rows[:_FIRST]),
        choices=tuple(_choice(where, holds) for holds in offered),
    )  # fmt: skip


def _choice(where: Where, holds: str) -> Choice:
    keys = {"file": where.file or ""} | ({"sheet": where.sheet} if where.sheet else {})
    label = Text(N_("It holds {meant}"), {"meant": Text(_MEANT[holds])})
    return Choice(label, "sheet", {**keys, "holds": holds})
