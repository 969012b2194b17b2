"""The sheets of words: what was set aside, what was asked, and how all of it is worked out."""

from __future__ import annotations

import datetime as dt
from collections import Counter
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

import pandas as pd

from divert.convert import Workings
from divert.core.findings import Finding, Level
from divert.core.words import N_, Text
from divert.evidence.inputs import input_prints
from divert.evidence.notes import unquoted, without_note
from divert.evidence.sharing import Sharing
from divert.workbook.cells import (
    FINDINGS,
    METHOD,
    MOST_ROWS,
    SET_ASIDE,
    Styles,
    put_row,
    put_text,
)

_COUNT_ONLY = Text(
    N_("Counts only: the entries themselves may be anyone's, and stay with the site.")
)


_LEVELS: dict[Level, str] = {"refused": N_("refused"), "query": N_("query"), "note": N_("note")}


def write_set_aside(
    sheet: Any, workings: Workings, rules: Sharing, look: Styles, language: str
) -> None:
    """Write the entries that could not be used: counts by cause, then each one where it may leave."""
    put_text(sheet, 0, 0, SET_ASIDE, look.title)
    put_text(sheet, 1, 0, Text(N_("Entries that could not be used. They count for nothing.")).say(
        language))  # fmt: skip
    aside = workings.set_aside
    row = _counts(sheet, 3, Counter(aside["code"]), look, language)
    skipped = workings.reading.skipped
    said = Text(N_("Lines that are no entries (totals, headings, notes, blanks) and were skipped:"))
    put_text(sheet, row + 1, 0, said.say(language))
    lines: Counter[str] = Counter()
    for reason, rows in zip(skipped["reason"], skipped["rows"], strict=True):
        lines[reason] += int(rows)
    row = _counts(sheet, row + 2, lines, look, language)
    if rules.own is not None:
        put_text(sheet, row + 1, 0, _COUNT_ONLY.say(language))
        return
    headings = [N_("File"), N_("Sheet"), N_("Row"), N_("Column"), N_("Words as found"), N_("Cause")]
    _headings(sheet, row + 1, headings, look, language)
    places = _Places(rules, workings)
    fitting = _fitting(sheet, len(aside), row + 2, look, language)
    for number, one in enumerate(aside[:fitting].to_dict("records"), start=row + 2):
        found = rules.text(str(one["found"])) if rules.notes else ""
        put_row(sheet, number, (
            places.file(one["file"]), places.sheet(one["sheet"]), _number(one["row"]),
            _word(one["column"]), found, Text(str(one["code"])).say(language),
        ), {str: look.text})  # fmt: skip
    for place, width in enumerate((26, 18, 8, 8, 40, 34)):
        sheet.set_column(place, place, width)


def write_findings(
    sheet: Any, findings: Iterable[Finding], workings: Workings, rules: Sharing, look: Styles,
    language: str,
) -> None:  # fmt: skip
    """Write what the tool says about the data: each finding, or for a sponsor the counts."""
    put_text(sheet, 0, 0, FINDINGS, look.title)
    put_text(sheet, 1, 0, Text(N_("What the tool says about the data, and what was answered.")).say(
        language))  # fmt: skip
    told = list(findings)
    row = _counts(sheet, 3, Counter(f.code for f in told), look, language)
    if rules.own is not None:
        put_text(sheet, row + 1, 0, _COUNT_ONLY.say(language))
        return
    headings = [N_("Level"), N_("Code"), N_("File"), N_("Sheet"), N_("Row"), N_("Column"),
                N_("Words as found"), N_("Message"), N_("Hint"), N_("Entries"),
                N_("Answer")]  # fmt: skip
    _headings(sheet, row + 1, headings, look, language)
    places = _Places(rules, workings)
    fitting = _fitting(sheet, len(told), row + 2, look, language)
    notes = {} if rules.notes else _notes_by_place(workings)
    for number, one in enumerate(told[:fitting], start=row + 2):
        found, message, hint = _words(one, rules, notes, language)
        answer = answer_without_initials(one.answer or "", workings, rules)
        put_row(sheet, number, (
            Text(_LEVELS[one.level]).say(language), Text(one.code).say(language),
            places.file(one.where.file), places.sheet(one.where.sheet), one.where.row,
            one.where.column, rules.text(found), rules.text(message), rules.text(hint), one.rows,
            rules.text(answer),
        ), {str: look.text})  # fmt: skip
    for place, width in enumerate((10, 28, 24, 14, 7, 7, 22, 70, 50, 8, 40)):
        sheet.set_column(place, place, width)


Place = tuple[str, str, int | None]


def _words(
    finding: Finding, rules: Sharing, notes: Mapping[Place, str], language: str
) -> tuple[str, str, str]:
    """Return a finding's cell, message and hint as they may leave.

    What a cell held that could not be read may be a crew's note, and so may be the end of one that
    could; the place says where to look.
    """
    message = finding.message.say(language)
    hint = finding.hint.say(language) if finding.hint else ""
    if rules.notes:
        return finding.found, message, hint
    if finding.level != "query":
        return "", unquoted(message, finding.found), unquoted(hint, finding.found)
    at = finding.where
    note = notes.get((at.file or "", at.sheet or "", at.row), "")
    found = without_note(finding.found, note)
    if found != finding.found:
        message, hint = (t.replace(finding.found, found) for t in (message, hint))
    quoted = note.split("; ")
    return found, unquoted(message, *quoted), unquoted(hint, *quoted)


def _notes_by_place(workings: Workings) -> dict[Place, str]:
    """Return the notes of rows by file, sheet and row."""
    noted = workings.reading.entries
    noted = noted[noted["note"].fillna("") != ""]
    columns = (noted[c].astype(object).fillna("") for c in ("file", "sheet", "row", "note"))
    return {(str(f), str(s), int(r)): str(n) for f, s, r, n in zip(*columns, strict=True)}


def answer_without_initials(answer: str, workings: Workings, rules: Sharing) -> str:
    """Return the reason an answer gives, without who gave it unless notes are shared."""
    if rules.notes or not answer:
        return answer
    for one in workings.site.answers:
        if one.by and answer == f"{one.reason} ({one.by})":
            return one.reason
    return answer


class _Places:
    """Names of files and sheets as they may leave."""

    def __init__(self, rules: Sharing, workings: Workings) -> None:
        self._rules = rules
        self._files: dict[str, str] = {}
        self._sheets: dict[str, str] = {}

    def file(self, name: object) -> str:
        return self._told(name, self._rules.file, self._files)

    def sheet(self, name: object) -> str:
        return self._told(name, self._rules.sheet, self._sheets)

    def _told(self, name: object, numbered: Callable[[int], str], known: dict[str, str]) -> str:
        text = _word(name)
        if not self._rules.alias or not text:
            return text
        return known.setdefault(text, numbered(len(known) + 1))


def _word(value: object) -> str:
    return "" if value is None or pd.isna(value) else str(value)  # type: ignore[call-overload]


def _number(value: object) -> int | None:
    return None if value is None or pd.isna(value) else int(value)  # type: ignore[call-overload]


def _counts(sheet: Any, row: int, counts: Counter[str], look: Styles, language: str) -> int:
    for code, count in sorted(counts.items(), key=lambda item: (-item[1], item[0])):
        put_row(sheet, row, (Text(str(code)).say(language), count), {str: look.text})
        row += 1
    return row


def _fitting(sheet: Any, count: int, row: int, look: Styles, language: str) -> int:
    """Return how many lines from a row on a sheet holds; where not all do, say so in its last row."""
    room = MOST_ROWS - row
    if count <= room:
        return count
    more = Text(N_("and {count} more, counted above"), {"count": count - room + 1})
    put_text(sheet, MOST_ROWS - 1, 0, more.say(language), look.text)
    return room - 1


def _headings(sheet: Any, row: int, headings: Sequence[str], look: Styles, language: str) -> None:
    for place, heading in enumerate(headings):
        put_text(sheet, row, place, Text(heading).say(language), look.heading)


_HOW = (
    N_("Summary: every figure is a formula over the named columns of the Ledger sheet (ledger_...), "
       "between its two dates, and over cells of the Factors sheet. Low and high are the ends of "
       "the 90 % interval of 10,000 draws and stand as values."),
    N_("Ledger: a load's mass is its net weight; else its volume times a density. The basis says "
       "which: weighed, measured density (at least three of the site's own weigh-ins), stated "
       "density (site.toml) or published density."),
    N_("Removed and residue that came with no load are charged to loads: removed to its source's "
       "intake of the month (to everyone's where it has no source), residue to what was received less "
       "removed in the 12 months that end with its own, by source, material and fate. Each share is "
       "a formula over the Ledger sheet, in the table [shares] of the Factors sheet; the shares of "
       "one line add up to 1."),
    N_("Diverted is what would have gone to a landfill or an incinerator, less removed and residue. "
       "Received = diverted + not claimed + removed + residue."),
    N_("Landfill methane avoided counts loads bound for the landfill, over 100 years, by first-order "
       "decay (IPCC 2006 Guidelines, Volume 5, Chapter 3). Process is methane and nitrous oxide of "
       "composting (Volume 5, Chapter 4). Fuel is the volume burned times its published kg CO2."),
    N_("Left out: biogenic carbon dioxide, stored carbon, fertilizer or peat replaced, energy "
       "recovery."),
)  # fmt: skip
_SUMS_ONLY = N_("Loads of other sources stand as sums by month and material; what is not needed to "
                "add them up stays with the site.")  # fmt: skip
_STANDING = N_(
    "{count} of {all} shares stand as values, where “Shared out over” is empty on the Ledger sheet: "
    "{why}. A changed cell of the Ledger still shows: masses, sums and balance follow from it."
)
_MERGED = N_("they were worked out from loads that this workbook holds only as sums, or not at all")
_TOO_LARGE = N_("with so many lines a spreadsheet program could not work them out in good time")
_ALIASES = N_("Sources are numbered, not named, as the site asked.")


@dataclass(frozen=True, slots=True)
class SharesSaid:
    """How many shares of removed and residue there are, and how many of them stand as values."""

    all: int
    standing: int
    too_large: bool


def write_method(
    sheet: Any, workings: Workings, rules: Sharing, shares: SharesSaid, as_of: dt.date, tool: str,
    cautions: Sequence[Text], look: Styles, language: str,
) -> int:  # fmt: skip
    """Write how the workbook is made, its cautions, and the fingerprints of what it rests on.

    Returns the next free row.
    """
    put_text(sheet, 0, 0, METHOD, look.title)
    sheet.set_column(0, 0, 110)
    sheet.set_column(1, 1, 70)
    told = [Text(message) for message in _HOW]
    if shares.standing:
        why = Text(_TOO_LARGE if shares.too_large else _MERGED)
        told.append(Text(_STANDING, {"count": shares.standing, "all": shares.all, "why": why}))
    if rules.own is not None:
        told.append(Text(_SUMS_ONLY))
    if rules.alias:
        told.append(Text(_ALIASES))
    row = 2
    for text in (*told, *cautions):
        put_text(sheet, row, 0, text.say(language), look.wrapped)
        row += 1
    row += 1
    facts = [
        (N_("Made by divert, version"), tool),
        (N_("Speaks from"), as_of.isoformat()),
        (N_("Factor set, SHA-256"), workings.factors.fingerprint),
    ]
    for label, value in facts:
        put_row(sheet, row, (Text(label).say(language), value), {str: look.text})
        row += 1
    put_text(sheet, row, 0, Text(N_("Files read, SHA-256")).say(language), look.heading)
    for name, sha256 in input_prints(workings, rules):
        row += 1
        put_row(sheet, row, (name, sha256), {str: look.text})
    return row + 2
