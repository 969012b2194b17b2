"""What the pages of a PDF say otherwise than its record remembers, and of which figure."""

from __future__ import annotations

import difflib
import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from divert.words import N_, Text

_WORD = re.compile(r"\d[\d.,]*|\w+|\S")


@dataclass(frozen=True, slots=True)
class Change:
    """Words of one page (from 1) that read otherwise: the span in the record's text, both wordings."""

    page: int
    start: int
    end: int
    was: str
    now: str


def changes(recorded: Sequence[str], pages: Sequence[str]) -> list[Change]:
    """Return where the pages read otherwise than recorded, white space apart."""
    out = []
    for number in range(max(len(recorded), len(pages))):
        was = recorded[number] if number < len(recorded) else ""
        now = pages[number] if number < len(pages) else ""
        if _squeezed(was) != _squeezed(now):
            out += _of_page(number + 1, was, now)
    return out


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
        values = {"page": change.page, "was": change.was, "now": change.now or "—"}
        hit = [n for n, one in enumerate(printed) if _touches(one, change)]
        for n in hit:
            told.setdefault(
                n, Text(N_("page {page} reads {now} where the record has {was}"), values)
            )
        if not hit:
            rest.append(Text(N_("Page {page} reads “{now}” where the record has “{was}”."), values))
    return told, rest


def _touches(printed: Mapping[str, Any], change: Change) -> bool:
    at = printed.get("at")
    if printed.get("page") != change.page or not isinstance(at, list) or len(at) != 2:
        return False
    return bool(at[0] < max(change.end, change.start + 1) and change.start < at[1])


def drawn_otherwise(recorded: Sequence[str], drawings: Sequence[str]) -> list[int]:
    """Return the pages (from 1) that draw something else than recorded."""
    if len(recorded) != len(drawings):
        return list(range(1, max(len(recorded), len(drawings)) + 1))
    return [n for n, (a, b) in enumerate(zip(recorded, drawings, strict=True), start=1) if a != b]
