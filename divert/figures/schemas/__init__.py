"""Open descriptions of what the tool writes: JSON Schema of the figures, Table Schema of the ledger."""

from __future__ import annotations

import json
from importlib.resources import files
from typing import Any

FIGURES = "figures.schema.json"
LEDGER = "ledger.schema.json"


def schema(name: str) -> dict[str, Any]:
    """Return a shipped schema: :data:`FIGURES` or :data:`LEDGER`."""
    found: dict[str, Any] = json.loads((files(__package__) / name).read_text(encoding="utf-8"))
    return found
