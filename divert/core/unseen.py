"""Characters nobody sees, which can turn a line round, hide in a name or break a file's form."""

from __future__ import annotations

import unicodedata

_JOINERS = "\u200c\u200d"  # some languages cannot be spelt without them
_UNSEEN = ("Cc", "Cf", "Cs")  # controls, marks of direction and the like, halves of a character


def is_unseen(letter: str) -> bool:
    """Return whether a character is a control, an invisible mark or no character at all."""
    if letter in _JOINERS:
        return False
    code = ord(letter)
    return (
        unicodedata.category(letter) in _UNSEEN
        or code & 0xFFFE == 0xFFFE
        or 0xFDD0 <= code <= 0xFDEF  # the code points that Unicode says are never characters
    )


def without_unseen(text: str) -> str:
    """Return a text on one line without the characters that nobody sees."""
    if text.isprintable():
        return text
    return "".join(letter for letter in text if not is_unseen(letter))
