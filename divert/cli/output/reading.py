"""What `divert read` says: counts, how each sheet was understood, problems grouped by cause."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import asdict
from typing import Any

from divert.cli.output.columns import columns_line
from divert.cli.output.left_out import left_out_json, skipped_lines
from divert.convert import Workings
from divert.convert.by_sheet import sheets_with_refusals
from divert.core.findings import Choice, Finding, Level
from divert.core.reading import SheetTaken
from divert.core.words import N_, Text

_HEADS: dict[Level, str] = {
    "refused": N_("Set aside, not counted:"),
    "query": N_("Counted, but worth a look:"),
    "note": N_("For your information:"),
}


def reading_lines(workings: Workings, *, everything: bool = False) -> Iterator[Text]:
    """Yield what was understood, what was set aside and what looks wrong, as sentences.

    Problems are grouped by cause, with an example of each sentence; ``everything`` lists them all.
    """
    rows = workings.rows(workings.findings)
    yield Text(
        N_("Entries seen: {seen}; {used} used, {aside} set aside, {skipped} skipped "
           "(blank lines, headings, totals, notes)."),
        {"seen": rows.seen, "used": rows.used, "aside": rows.set_aside, "skipped": rows.skipped},
    )  # fmt: skip
    before: SheetTaken | None = None
    for sheet in _sheets(workings):
        yield from _sheet(sheet, before, workings.site.language)
        before = sheet
    for level in ("refused", "query", "note"):
        found = [f for f in workings.findings if f.level == level and f.answer is None]
        if found:
            yield Text("")
            yield Text(_HEADS[level])
            yield from _by_cause(found, everything)
    if everything:
        yield from skipped_lines(workings)
    answered = sum(1 for f in workings.findings if f.answer is not None)
    if answered:
        yield Text("")
        yield Text(N_("Questions settled by answers in site.toml: {count}."), {"count": answered})
    if not everything and workings.findings:
        yield Text("")
        yield Text(N_("To see every one of them, add --every; for a program, add --json."))


def _sheets(workings: Workings) -> tuple[SheetTaken, ...]:
    by_conversion = workings.set_aside.iloc[len(workings.reading.set_aside) :]
    return sheets_with_refusals(workings.reading.sheets, by_conversion)


def _sheet(sheet: SheetTaken, before: SheetTaken | None, language: str) -> Iterator[Text]:
    yield Text("")
    yield Text(
        N_("{place}: taken as {holds}; {used} used, {aside} set aside, {skipped} skipped."),
        {"place": _place(sheet), "holds": Text(sheet.holds), "used": sheet.used,
         "aside": sheet.set_aside, "skipped": sheet.skipped},
    )  # fmt: skip
    if sheet.how is not None:
        yield Text(N_("   read as {how}"), {"how": sheet.how})
    if not sheet.columns:
        return
    if before is not None and (before.file, before.columns) == (sheet.file, sheet.columns):
        yield Text(N_("   the same columns as the sheet before it"))
        return
    yield Text("   {columns}", {"columns": columns_line(sheet.columns, language)})


def _place(sheet: SheetTaken) -> Text | str:
    if not sheet.sheet:
        return sheet.file
    return Text(N_("{file}, sheet “{sheet}”"), {"file": sheet.file, "sheet": sheet.sheet})


def _by_cause(findings: Sequence[Finding], everything: bool) -> Iterator[Text]:
    causes: dict[str, list[Finding]] = {}
    for finding in findings:
        causes.setdefault(finding.code, []).append(finding)
    for code, group in sorted(causes.items(), key=lambda item: -_count(item[1])):
        yield Text(N_("  {code}: {count}"), {"code": Text(code), "count": _count(group)})
        if everything:
            for finding in group:
                yield from _one(finding)
            continue
        for alike in _said_alike(group):
            yield from _one(alike[0])
            shown = alike[0].rows if alike[0].level == "refused" else 1
            others = _count(alike) - shown
            if others > 0:
                yield Text(N_("    and others like it: {count}"), {"count": others})
        if _settled_together(group):
            yield Text(N_('    To settle all of these at once: [[answer]] about = "{about}"'),
                       {"about": code})  # fmt: skip


def _said_alike(group: Sequence[Finding]) -> Iterator[Sequence[Finding]]:
    """Part findings by their sentence, whatever names and numbers stand in it."""
    sentences: dict[str, list[Finding]] = {}
    for finding in group:
        sentences.setdefault(finding.message.message, []).append(finding)
    yield from sentences.values()


def _count(group: Sequence[Finding]) -> int:
    # Lost entries are counted one by one; a question is one, however many entries it is about.
    return sum(f.rows for f in group) if group[0].level == "refused" else len(group)


def _one(finding: Finding) -> Iterator[Text]:
    place = str(finding.where)
    found = " ".join(finding.found.split())
    said: dict[str, object] = {
        "place": place,
        "found": f"{found[:60]}{'…' if len(found) > 60 else ''}",
        "message": finding.message,
        "hint": finding.hint or Text(""),
    }
    if place and found:
        yield Text(N_("    {place} “{found}”: {message} {hint}"), said)
    elif place:
        yield Text(N_("    {place}: {message} {hint}"), said)
    else:
        yield Text("    {message} {hint}", said)
    for line in finding.shown:
        yield Text("      {line}", {"line": line})
    if finding.level == "note" or finding.answer is not None:
        return
    yield Text(N_('    To settle it: [[answer]] about = "{about}"'), {"about": finding.about})
    for choice in finding.choices:
        yield from _choice(choice)


def _choice(choice: Choice) -> Iterator[Text]:
    """Yield what one way to settle a question writes, where it is more than a reason."""
    keys = {key: value for key, value in choice.keys.items() if key != "about"}
    if choice.table == "answer" and not keys:
        return
    lines = ", ".join(f'{key} = "{value}"' for key, value in keys.items())
    yield Text(
        N_("      {label}: {lines}"),
        {"label": choice.label, "lines": f"[[{choice.table}]] {lines}"},
    )


def _settled_together(group: Sequence[Finding]) -> bool:
    """Return whether one answer may settle a whole cause: several questions, none that blocks."""
    return len(group) > 1 and group[0].level != "note" and not any(f.blocks for f in group)


def reading_json(workings: Workings) -> dict[str, Any]:
    """Return what `divert read --json` prints: rows, sheets, findings and what did not count."""
    from divert.figures.as_json import finding_json  # all figures' own: not for the screen's lines

    return {
        "site": workings.site.name,
        "rows": asdict(workings.rows(workings.findings)),
        "sheets": [
            {
                "file": s.file, "sheet": s.sheet, "holds": s.holds, "heading_row": s.heading_row,
                "hidden": s.hidden, "seen": s.seen, "used": s.used, "set_aside": s.set_aside,
                "skipped": s.skipped,
                "why": [
                    {"column": c.column, "role": c.role, "weight": c.weight, "reason": str(c.reason)}
                    for c in s.why
                ], "read_as": None if s.how is None else str(s.how),
                "columns": [
                    {"column": letter, "heading": heading, "taken_as": taken}
                    for letter, heading, taken in s.columns
                ],
            }
            for s in _sheets(workings)
        ],
        "inputs": [
            {"file": i.file, "sha256": i.sha256, "size": i.size} for i in workings.reading.inputs
        ],
        "findings": [finding_json(f) for f in workings.findings],
        **left_out_json(workings),
    }  # fmt: skip
