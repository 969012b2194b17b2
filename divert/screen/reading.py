"""What `divert read` says: counts, how each sheet was understood, problems grouped by cause."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any

from divert.convert import Workings
from divert.findings import Finding, Level
from divert.reading import SheetTaken
from divert.words import N_, Text

_HEADS: dict[Level, str] = {
    "refused": N_("Set aside, not counted:"),
    "query": N_("Counted, but worth a look:"),
    "note": N_("For your information:"),
}


def reading_lines(workings: Workings, *, everything: bool = False) -> Iterator[Text]:
    """Yield what was understood, what was set aside and what looks wrong, as sentences.

    Problems are grouped by cause with one example each; ``everything`` lists them all.
    """
    used, aside = len(workings.ledger), len(workings.set_aside)
    skipped = len(workings.reading.skipped)
    yield Text(
        N_("{seen} entries seen: {used} used, {aside} set aside, {skipped} skipped "
           "(blank lines, headings, totals, notes)."),
        {"seen": used + aside + skipped, "used": used, "aside": aside, "skipped": skipped},
    )  # fmt: skip
    for sheet in workings.reading.sheets:
        yield from _sheet(sheet)
    for level in ("refused", "query", "note"):
        found = [f for f in workings.findings if f.level == level and f.answer is None]
        if found:
            yield Text("")
            yield Text(_HEADS[level])
            yield from _by_cause(found, everything)
    answered = sum(1 for f in workings.findings if f.answer is not None)
    if answered:
        yield Text("")
        yield Text(
            N_("{count} questions are settled by answers in site.toml."), {"count": answered}
        )
    if not everything and workings.findings:
        yield Text("")
        yield Text(N_("To see every one of them, add --every; for a program, add --json."))


def _sheet(sheet: SheetTaken) -> Iterator[Text]:
    yield Text("")
    yield Text(
        N_("{file}, sheet “{sheet}”: taken as {holds}; {used} used, {aside} set aside, "
           "{skipped} skipped."),
        {"file": sheet.file, "sheet": sheet.sheet, "holds": Text(sheet.holds), "used": sheet.used,
         "aside": sheet.set_aside, "skipped": sheet.skipped},
    )  # fmt: skip
    if sheet.columns:
        yield Text(
            "   {columns}",
            {
                "columns": "; ".join(
                    f"{letter} “{head}” = {what}" for letter, head, what in sheet.columns
                )
            },
        )


def _by_cause(findings: Sequence[Finding], everything: bool) -> Iterator[Text]:
    causes: dict[str, list[Finding]] = {}
    for finding in findings:
        causes.setdefault(finding.code, []).append(finding)
    for code, group in sorted(causes.items(), key=lambda item: -_rows(item[1])):
        yield Text("  {code}: {count}", {"code": Text(code), "count": _rows(group)})
        for finding in group if everything else group[:1]:
            yield _one(finding)


def _rows(group: Sequence[Finding]) -> int:
    return sum(f.rows for f in group)


def _one(finding: Finding) -> Text:
    place = str(finding.where)
    values: dict[str, object] = {
        "place": f"{place}: " if place else "",
        "message": finding.message,
        "hint": finding.hint or Text(""),
    }
    return Text("    {place}{message} {hint}", values)


def reading_json(workings: Workings) -> dict[str, Any]:
    """Return what `divert read --json` prints: rows, sheets and findings."""
    from divert.figures import finding_json

    used, aside = len(workings.ledger), len(workings.set_aside)
    skipped = len(workings.reading.skipped)
    return {
        "site": workings.site.name,
        "rows": {
            "seen": used + aside + skipped, "used": used, "set_aside": aside, "skipped": skipped,
            "queries": sum(
                f.level == "query" and f.answer is None for f in workings.findings
            ),
        },
        "sheets": [
            {
                "file": s.file, "sheet": s.sheet, "holds": s.holds, "heading_row": s.heading_row,
                "hidden": s.hidden, "seen": s.seen, "used": s.used, "set_aside": s.set_aside,
                "skipped": s.skipped,
                "columns": [
                    {"column": letter, "heading": heading, "taken_as": taken}
                    for letter, heading, taken in s.columns
                ],
            }
            for s in workings.reading.sheets
        ],
        "inputs": [
            {"file": i.file, "sha256": i.sha256, "size": i.size} for i in workings.reading.inputs
        ],
        "findings": [finding_json(f) for f in workings.findings],
    }  # fmt: skip
