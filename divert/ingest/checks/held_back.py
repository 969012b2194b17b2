"""Entries set aside only because a question about their file or sheet is open."""

from __future__ import annotations

from dataclasses import dataclass

import pandas as pd

from divert.core.findings import Finding

AsideRow = tuple[str, str, int, str, str, str]


@dataclass(frozen=True, slots=True, eq=False)
class HeldBack:
    """What is left to count, what is held back (with a column ``about``), and the questions.

    ``by_order``: whether that may hang on which files were read before.
    """

    entries: pd.DataFrame
    held: pd.DataFrame
    set_aside: list[AsideRow]
    findings: list[Finding]
    by_order: bool = False


def nothing_held(entries: pd.DataFrame, *, by_order: bool = False) -> HeldBack:
    """Return the entries with nothing held back."""
    return HeldBack(entries, entries.iloc[:0].assign(about=""), [], [], by_order)


def together(first: HeldBack, then: HeldBack) -> HeldBack:
    """Return what two checks hold back, the second of which saw what the first had left."""
    held = [one.held for one in (first, then) if len(one.held)]
    return HeldBack(
        then.entries,
        pd.concat(held, ignore_index=True) if held else then.held,
        [*first.set_aside, *then.set_aside],
        [*first.findings, *then.findings],
        first.by_order or then.by_order,
    )
