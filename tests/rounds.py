"""How often a test tries its luck: a bounded part in the suite, all of it with DIVERT_LONG=1."""

from __future__ import annotations

import os


def rounds(few: int, all_: int) -> int:
    """Return how many rounds to try: ``few`` in the suite, ``all_`` where there is time."""
    return all_ if os.environ.get("DIVERT_LONG") else few
