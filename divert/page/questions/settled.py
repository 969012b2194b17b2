"""An answer in site.toml: what it is about, why, by whom and when."""

from __future__ import annotations

from divert.page.questions.question import Signed
from divert.site.change import NewEntry
from divert.site.change.edits import Value


def settled_by(about: str, reason: str, signed: Signed) -> NewEntry:
    """Return the answer that settles a question for good."""
    values: dict[str, Value] = {"about": about, "reason": reason}
    if signed.by:
        values["by"] = signed.by
    values["on"] = signed.on
    return NewEntry("answer", values)
