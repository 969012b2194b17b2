"""Tests hold what matters of a sentence, so that a better wording breaks none of them (tests/told.py).

Only ``tests/words`` holds sentences whole: there the saying itself is tested.
"""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from functools import cache
from pathlib import Path

from babel.messages.pofile import read_po

import divert
from divert.core.findings import CODES

TESTS = Path(__file__).parents[1]
# Words of a literal that is a whole message: fewer are a name, a heading, a kind of finding.
MOST_WORDS = 6
_PLACE = re.compile(r"\{\w+\}")


@cache
def messages() -> tuple[tuple[str, re.Pattern[str]], ...]:
    """Return how each message of four words or more begins, and its pattern with open places."""
    locale = Path(divert.__file__).parent / "core" / "locale"
    found = set()
    for path in locale.rglob("*.po"):
        with path.open("rb") as file:
            for message in read_po(file):
                ids = message.id if isinstance(message.id, list | tuple) else [message.id]
                found |= {_flat(one) for one in ids if len(_PLACE.sub("", one).split()) >= 4}
    return tuple(
        (_PLACE.split(one)[0], re.compile(".+".join(map(re.escape, _PLACE.split(one)))))
        for one in sorted(found)
    )


def _flat(text: str) -> str:
    return " ".join(text.split())


def whole_messages(code: str) -> Iterator[tuple[int, str]]:
    """Yield the line and text of every literal that is a message from end to end; not docstrings."""
    for node in ast.walk(ast.parse(code)):
        for child in ast.iter_child_nodes(node):
            if isinstance(node, ast.Expr) or not isinstance(child, ast.Constant):
                continue
            text = _flat(child.value) if isinstance(child.value, str) else ""
            if len(text.split()) <= MOST_WORDS or text in CODES:
                continue
            if any(text.startswith(head) and all_.fullmatch(text) for head, all_ in messages()):
                yield child.lineno, text


def test_a_sentence_held_whole_is_seen() -> None:
    said = "The last delivery on record is of March 2025."
    assert [text for _, text in whole_messages(f"assert x == {said!r}")] == [said]
    assert list(whole_messages("assert tells(x, 'last delivery|March 2025')")) == []


def test_no_test_holds_a_sentence_whole() -> None:
    held = {
        f"{path.relative_to(TESTS)}:{line}": text
        for path in sorted(TESTS.rglob("test_*.py"))
        if path.parent.name not in ("words", "house")
        for line, text in whole_messages(path.read_text(encoding="utf-8"))
    }
    assert held == {}
