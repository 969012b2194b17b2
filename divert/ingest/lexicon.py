"""The word lists under ``words/``, loaded once."""

from __future__ import annotations

import re
import tomllib
import unicodedata
from collections.abc import Iterable
from functools import lru_cache
from pathlib import Path
from typing import Any

FOLDER = Path(__file__).parent / "words"


@lru_cache
def words(name: str) -> dict[str, Any]:
    """Return one word list by its file's name without the ending."""
    with (FOLDER / f"{name}.toml").open("rb") as file:
        return tomllib.load(file)


@lru_cache(maxsize=65536)
def bare(text: str) -> str:
    """Return a text without case, accents or doubled spaces; punctuation stays."""
    if text.isascii():
        return " ".join(text.casefold().split())
    decomposed = unicodedata.normalize("NFKD", text.casefold().replace("’", "'"))
    letters = "".join(c for c in decomposed if not unicodedata.combining(c))
    return " ".join(letters.split())


LETTERS = re.compile(r"[^\W\d_]+")


def beginnings(choices: Iterable[str]) -> frozenset[str]:
    """Return the letters that phrases begin with, up to a space, a digit or a sign."""
    return frozenset(found[0] for c in choices if (found := LETTERS.match(bare(c))))


def phrases(choices: Iterable[str]) -> str:
    """Return a regular expression for the longest of several phrases, however its words are spaced."""
    ordered = sorted({bare(c) for c in choices}, key=lambda c: (-len(c), c))
    return "|".join(r"\s+".join(map(re.escape, c.split())) for c in ordered)
