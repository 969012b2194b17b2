"""How often a test tries its luck: a bounded part in the suite, all of it with DIVERT_LONG=1."""

from __future__ import annotations

import os
from typing import TypeVar

T = TypeVar("T")


def rounds(few: T, all_: T) -> T:
    """Return how many rounds (or which) to try: ``few`` in the suite, ``all_`` where there is time."""
    return all_ if os.environ.get("DIVERT_LONG") else few
