"""Names of several words in a heading, taken out before anything in them can pass for something else.

"Bin 97 yard bags" counts no yards, where "Bin 97" is a source and "yard bag" a container.
"""

from __future__ import annotations

import re
from collections.abc import Callable

_LONGEST = 6  # words of a name


def name_within(text: str, find: Callable[[str], object]) -> tuple[str, str] | None:
    """Return the longest name of two words or more that a text holds, and the rest of it.

    ``find`` says what is a name. None where there is none, or nothing beside it.
    """
    words = list(re.finditer(r"[^\s\-–—,:;/|()\[\]]+(?:-[^\s\-–—,:;/|()\[\]]+)*", text))
    for size in range(min(_LONGEST, len(words)), 1, -1):
        for at in range(len(words) - size + 1):
            start, end = words[at].start(), words[at + size - 1].end()
            name = text[start:end]
            rest = " ".join(f"{text[:start]} {text[end:]}".split()).strip(" -–—:,;/|")
            if rest and not re.search(r"[(\[]", name) and find(name):
                return name, rest
    return None
