"""What matters of a sentence, held without holding its words: a better wording breaks no test."""

from __future__ import annotations


def tells(said: object, told: str) -> bool:
    """Return whether a sentence has all parts of ``told`` in their order, parted by "|".

    A part after "!" may not stand anywhere in it: what only another sentence would say.
    """
    text = " ".join(str(said).split())
    at = 0
    for part in told.split("|"):
        if part.startswith("!"):
            if part[1:] in text:
                return False
            continue
        at = text.find(part, at)
        if at < 0:
            return False
        at += len(part)
    return True
