"""Spreadsheets to ledger entries."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from divert.ingest.read import read_folder as read_folder

__all__ = ["read_folder"]


def __getattr__(name: str) -> Any:  # pandas is slow to import: only who reads pays for it
    if name == "read_folder":
        from divert.ingest.read import read_folder

        return read_folder
    raise AttributeError(name)
