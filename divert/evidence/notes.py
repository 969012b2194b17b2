"""Crews' notes taken out of what leaves the house: behind a quantity, in what a finding quotes."""

from __future__ import annotations

import re
from collections.abc import Iterable

import numpy as np
import numpy.typing as npt
import pandas as pd

_WORD = re.compile(r"\w+")
_DANGLING = " \t\r\n,;:.!?-–—/|(["
CUT = "…"


def without_notes(found: Iterable[str], notes: Iterable[str]) -> npt.NDArray[np.object_]:
    """Return the words of quantity cells without the notes that stood in the same cell."""
    pairs = list(zip(_listed(found), _listed(notes), strict=True))
    known = {pair: without_note(*pair) for pair in set(pairs)}
    return np.array([known[pair] for pair in pairs], dtype=object)


def _listed(texts: Iterable[str]) -> list[str]:
    """Return texts as a list: a column of pandas gives itself up as one far quicker than one by one."""
    return texts.tolist() if isinstance(texts, pd.Series) else list(texts)


def without_note(text: str, note: str) -> str:
    """Return a cell's text without the part of it that was taken for a note.

    ``note`` may hold several, joined by "; ", and spells them as the reader does: lower case, with
    other marks between the words.
    """
    for one in note.split("; ") if note else ():
        words = [m[0].casefold() for m in _WORD.finditer(one)]
        places = _last_places(text, words)
        if places:
            for start, end in reversed(places):
                text = text[:start] + text[end:]
            text = _tidied(text)
    return text


def _last_places(text: str, words: list[str]) -> list[tuple[int, int]]:
    """Return where words stand in a text, in order and as late as can be; none unless all do."""
    places: list[tuple[int, int]] = []
    left = list(words)
    for match in reversed(list(_WORD.finditer(text))):
        if left and match[0].casefold() == left[-1]:
            places.append(match.span())
            left.pop()
    return [] if left else sorted(places)


def _tidied(text: str) -> str:
    """Return text without the marks that stood around what was cut out."""
    text = re.sub(r"[(\[][^\w)\]]*[)\]]", "", text)  # brackets with nothing in them any more
    text = re.sub(r"\s{2,}", " ", text)
    return text.rstrip(_DANGLING).lstrip(" ,;:-–—/|)]")


def unquoted(message: str, *quoted: str) -> str:
    """Return a sentence with what it quotes from cells left out."""
    for text in sorted({q.strip() for q in quoted} - {""}, key=len, reverse=True):
        message = re.sub(re.escape(text), CUT, message, flags=re.IGNORECASE)
    return message
