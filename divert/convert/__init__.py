"""Ledger entries to masses, balance and emissions, with ranges."""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from divert.convert.workings import Workings as Workings
    from divert.convert.workings import work_out as work_out

__all__ = ["Workings", "work_out"]


def __getattr__(name: str) -> Any:
    # Loaded when asked for: a site's sheets are being opened while pandas is imported.
    if name in __all__:
        return getattr(import_module("divert.convert.workings"), name)
    raise AttributeError(name)
