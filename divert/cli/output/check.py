"""What `divert check` prints: what is wrong with the register, and what came back."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import Any

from divert.core.words import N_, Text
from divert.register.check import Checked


def check_lines(found: Checked, back: Sequence[str] | None, folder: Path) -> Iterator[Text]:
    """Yield what came back (None where nothing was to be mended), what is wrong, what is noted."""
    if back:
        yield Text(
            N_("Back in the register: {numbers}. The register as it was is kept in "
               "issued/.registers/."), {"numbers": ", ".join(back)},
        )  # fmt: skip
    elif back is not None:
        yield Text(N_("Nothing that was kept was lacking in the register."))
    for text in (*found.wrong, *found.notes):
        yield Text("- {text}", {"text": text})
    if found.wrong and found.mendable:
        yield Text(
            N_("`divert check {folder} --mend` makes the register whole from what is kept; no byte "
               "is deleted."), {"folder": str(folder)},
        )  # fmt: skip
    elif found.wrong:
        yield Text(N_("What is kept here cannot put this right: restore it from a backup."))
    else:
        yield Text(N_("All is there and whole. Reports issued: {count}."), {"count": found.issued})


def check_json(found: Checked, back: Sequence[str] | None) -> dict[str, Any]:
    """Return the same as one JSON object."""
    return {
        "issued": found.issued,
        "wrong": [str(text) for text in found.wrong],
        "notes": [str(text) for text in found.notes],
        "mendable": found.mendable,
        "back": None if back is None else list(back),
    }
