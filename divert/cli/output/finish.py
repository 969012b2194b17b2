"""How a command ends: what was set aside, and what is missing, where nobody has answered for it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from divert.convert import Workings
from divert.core.findings import Finding
from divert.core.words import N_, Text

# Questions about files: the rows that they speak of are not there to be set aside.
_NO_ROWS = frozenset({"file gone", "file renamed", "says less than before", "file unreadable"})


def open_rows(workings: Workings) -> int:
    """Return how many entries were set aside without an answer that it is right so."""
    answered = sum(
        f.rows for f in workings.findings
        if f.level == "refused" and f.answer is not None
        and f.code not in _NO_ROWS
    )  # fmt: skip
    return max(0, len(workings.set_aside) - answered)


def finish_lines(aside: int, missing: Sequence[Finding]) -> Iterator[Text]:
    """Yield what a command says at its end where something does not count."""
    for finding in missing:
        # What a file held that cannot be read now says more than why it cannot.
        told = finding.shown[0] if finding.code == "file unreadable" and finding.shown else None
        yield Text(
            N_('{message} To settle it: [[answer]] about = "{about}"'),
            {"message": told or finding.message, "about": finding.about},
        )
    if aside:
        yield Text(
            N_("Entries set aside: {count}; divert read FOLDER says which and why."),
            {"count": aside},
        )
