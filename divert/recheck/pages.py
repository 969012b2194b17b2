"""What the pages of a PDF say otherwise than its record remembers, and of which figure."""

from __future__ import annotations

import difflib
import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from divert.core.words import N_, Text

_LONGEST = 100  # of a quotation
_WORD = re.compile(r"\d[\d.,]*|\w+|\S")


@dataclass(frozen=True, slots=True)
class Change:
    """Words of one page (from 1) that read otherwise: the span in the record's text, both wordings."""

    page: int
    start: int
    end: int
    was: str
    now: str


@dataclass(frozen=True, slots=True)
class Matched:
    """Recorded pages (from 0) with the pages they are now; pages that are gone, pages put in."""

    pairs: tuple[tuple[int, int], ...]
    missing: tuple[int, ...]
    added: tuple[int, ...]


def matched(recorded: Sequence[str], pages: Sequence[str]) -> Matched:
    """Return which page is which; where as many are there as were made, each is what it was."""
    if len(recorded) == len(pages):
        return Matched(tuple((n, n) for n in range(len(pages))), (), ())
    same = difflib.SequenceMatcher(
        None, [_squeezed(p) for p in recorded], [_squeezed(p) for p in pages], autojunk=False
    )
    pairs: list[tuple[int, int]] = []
    for _, a, b, c, d in same.get_opcodes():
        pairs += zip(range(a, b), range(c, d), strict=False)
    was, now = {a for a, _ in pairs}, {b for _, b in pairs}
    return Matched(
        tuple(pairs),
        tuple(n for n in range(len(recorded)) if n not in was),
        tuple(n for n in range(len(pages)) if n not in now),
    )


def changes(recorded: Sequence[str], pages: Sequence[str], which: Matched) -> list[Change]:
    """Return where the pages read otherwise than recorded, white space apart."""
    out = []
    for was, now in which.pairs:
        if _squeezed(recorded[was]) != _squeezed(pages[now]):
            out += _of_page(was + 1, recorded[was], pages[now])
    return out


def not_there(
    printed: Sequence[Mapping[str, Any]], which: Matched
) -> tuple[dict[int, Text], list[Text]]:
    """Return what is said of figures whose page is gone, and of pages gone or put in."""
    gone = [n + 1 for n in which.missing]
    told = {
        n: Text(N_("page {page}, on which it stood, is missing"), {"page": one["page"]})
        for n, one in enumerate(printed)
        if one.get("page") in gone
    }
    rest = [Text(N_("Page {page} of the report is missing."), {"page": n}) for n in gone]
    rest += [
        Text(N_("Page {page} of this file was not in the report."), {"page": n + 1})
        for n in which.added
    ]
    return told, rest


def _squeezed(text: str) -> str:
    return re.sub(r"\s+", "", text)


def _of_page(page: int, was: str, now: str) -> list[Change]:
    before, after = list(_WORD.finditer(was)), list(_WORD.finditer(now))
    match = difflib.SequenceMatcher(
        None, [w[0] for w in before], [w[0] for w in after], autojunk=False
    )
    out = []
    for tag, a, b, c, d in match.get_opcodes():
        if tag == "equal":
            continue
        start = before[a].start() if a < len(before) else len(was)
        end = before[b - 1].end() if b > a else start
        out.append(
            Change(
                page, start, end, was[start:end],
                now[after[c].start() : after[d - 1].end()] if d > c else "",
            )
        )  # fmt: skip
    return out or [Change(page, 0, 0, "", "")]


def by_figure(
    printed: Sequence[Mapping[str, Any]], found: Sequence[Change]
) -> tuple[dict[int, Text], list[Text]]:
    """Return what the pages say otherwise of each printed figure, by its place in the list.

    The second are the changes that touch no figure.
    """
    told: dict[int, Text] = {}
    rest = []
    for change in found:
        values = {"page": change.page, "was": _short(change.was), "now": _short(change.now) or "—"}
        hit = [n for n, one in enumerate(printed) if _touches(one, change)]
        for n in hit:
            told.setdefault(
                n, Text(N_("page {page} reads {now} where the record has {was}"), values)
            )
        if not hit:
            rest.append(Text(N_("Page {page} reads “{now}” where the record has “{was}”."), values))
    return told, rest


def _short(text: str) -> str:
    """Return the beginning of a long quotation."""
    return text if len(text) <= _LONGEST else f"{text[:_LONGEST].rstrip()} …"


def _touches(printed: Mapping[str, Any], change: Change) -> bool:
    at = printed.get("at")
    if printed.get("page") != change.page or not isinstance(at, list) or len(at) != 2:
        return False
    return bool(at[0] < max(change.end, change.start + 1) and change.start < at[1])


def drawn_otherwise(recorded: Sequence[str], drawings: Sequence[str], which: Matched) -> list[int]:
    """Return the recorded pages (from 1) that draw something else now."""
    if len(recorded) != len(which.pairs) + len(which.missing):
        return [was + 1 for was, _ in which.pairs]
    return [was + 1 for was, now in which.pairs if recorded[was] != drawings[now]]
