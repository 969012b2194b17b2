"""Cells of a folder's files, held by a process that reads the folder again and again."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING

from divert.ingest.grid import Opened

if TYPE_CHECKING:  # it brings pandas, which is imported while the first file is being opened
    from divert.ingest.sheets_held import SheetsHeld


@dataclass
class CellsHeld:
    """What was opened before, by name and fingerprint, and how far the opening is now.

    A file whose bytes are the same is not opened again. ``opening`` is the file being opened,
    ``opened`` and ``waiting`` count files: those done, and all of them. ``whole`` tells whether the
    cells of every file are here: not where a kept reading was used, which needs none of them.
    ``keep_reading`` keeps the last reading for the next process, when nobody waits for anything.
    ``sheets``: what each sheet was read as, so that one that a change does not touch stays so; held
    where ``holds_sheets``, from the first sheet that is read.
    """

    opening: str = ""
    opened: int = 0
    waiting: int = 0
    whole: bool = False
    keep_reading: Callable[[], None] | None = None
    sheets: SheetsHeld | None = None
    holds_sheets: bool = False
    _files: dict[str, Opened] = field(default_factory=dict)

    def begin(self, files: list[str]) -> None:
        """Start over with these files; what is held of others is let go."""
        self.opened, self.waiting, self.opening = 0, len(files), ""
        meant = set(files)
        self._files = {name: one for name, one in self._files.items() if name in meant}

    def get(self, file: str, sha256: str) -> Opened | None:
        """Return a file's cells if they are those of these very bytes."""
        held = self._files.get(file)
        return held if held is not None and held.input.sha256 == sha256 else None

    def keep(self, opened: Opened) -> None:
        """Hold a file's cells."""
        self._files[opened.input.file] = opened
        self.opened += 1

    def alone(self) -> CellsHeld:
        """Return the same cells for a reading under other settings, beside the one that goes on."""
        return replace(self, sheets=None, holds_sheets=False, keep_reading=None)

    def of(self, file: str) -> Opened | None:
        """Return what is held of a file by its name."""
        return self._files.get(file)
