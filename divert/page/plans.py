"""Changes of site.toml that were worked out for a view, at hand when they are asked for once more."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from pathlib import Path

from divert.site.change import Change, Edit, plan
from divert.site.change.versions import text_of
from divert.site.document import FILE_NAME

_MOST = 20


@dataclass
class Plans:
    """The last few changes by the folder and text they were worked out on, and what they edit.

    Lines are shown before they are written, so each change is asked for twice over the same text.
    """

    _made: dict[tuple[str, str, str], Change] = field(default_factory=dict)

    def of(self, folder: Path, edits: Iterable[Edit]) -> Change:
        """Return what edits would make of a folder's site.toml as it stands now. Raises CannotRun."""
        listed = list(edits)
        asked = (str(folder), text_of(folder / FILE_NAME), repr(listed))
        found = self._made.pop(asked, None)
        if found is None:
            found = plan(folder, listed)
            if found.was != asked[1]:  # it was saved between the two looks
                return found
        self._made[asked] = found
        while len(self._made) > _MOST:
            self._made.pop(next(iter(self._made)))
        return found
