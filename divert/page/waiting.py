"""How much waits for the person in each view."""

from __future__ import annotations

from typing import TYPE_CHECKING

from divert.core.names import plain
from divert.page.house import house
from divert.page.questions.asked import NAMES
from divert.page.questions.names import named

if TYPE_CHECKING:
    from divert.page.desk import Seen

FILE_CODES = ("file unreadable", "exact copy of a file", "near copy", "file gone", "file renamed",
              "says less than before")  # fmt: skip


def waiting(seen: Seen) -> dict[str, int]:
    """Return the counts by view; views with nothing waiting are left out."""
    if seen.workings is None:
        return {"yard": 1} if seen.site is None else {}
    findings = house().weighing.findings(seen)
    open_ones = [f for f in findings if f.level != "note" and f.answer is None]
    names = {(f.code, plain(named(f)) or named(f)) for f in open_ones if f.code in NAMES}
    return {
        "files": sum(f.code in FILE_CODES for f in open_ones),
        "names": len(names),
        "questions": len(house().weighing.questions(seen)),
    }
