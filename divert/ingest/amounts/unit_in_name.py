"""Names with the unit of their row behind them: "Food scraps (lb)" down the side of a wide table."""

from __future__ import annotations

import re

from divert.ingest.cells import unit
from divert.ingest.known import Known, Names

_BEHIND = re.compile(r"(.+?)\s*[(\[]\s*(?:(?:in|en)\s+)?([^()\[\]\d]+?)\s*[)\]]")


def unit_behind(name: str, known: Known) -> tuple[str, str]:
    """Return a known name less the unit or container in brackets behind it, and that one ("" for none)."""
    parts = _BEHIND.fullmatch(name)
    if parts is None or known.names(name) or not known.names(parts[1]):
        return name, ""
    box = known.containers.find(parts[2]) is not None
    typed = box or unit.read_typed(parts[2], known.trade.meaning) is not None
    return (parts[1], parts[2]) if typed else (name, "")


def find_less_unit(names: Names, text: str, known: Known) -> str | None:
    """Return the canonical name of a text, whatever unit stands behind it."""
    return names.find(text) or names.find(unit_behind(text, known)[0])
