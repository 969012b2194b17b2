"""A function holds one idea: what is longer than sixty lines is looked at for its second one."""

from __future__ import annotations

import ast
from pathlib import Path

import divert

PACKAGE = Path(divert.__file__).parent
MOST_LINES = 60  # of a function, its signature and docstring included


def too_long(text: str) -> list[tuple[str, int]]:
    return [
        (node.name, length)
        for node in ast.walk(ast.parse(text))
        if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef)
        and (length := (node.end_lineno or node.lineno) - node.lineno + 1) > MOST_LINES
    ]


def test_the_measure_sees_a_long_function_and_one_inside_a_class() -> None:
    # "def" and 60 lines under it are 61; inside a class they are no shorter.
    body = "def told():\n" + "    x = 1\n" * 60
    assert too_long(body) == [("told", 61)]
    assert too_long("class A:\n" + "".join(f"    {line}\n" for line in body.splitlines())) == [
        ("told", 61)
    ]
    assert too_long("def told():\n" + "    x = 1\n" * 59) == []


def test_no_function_is_longer_than_sixty_lines() -> None:
    found = {
        path.relative_to(PACKAGE).as_posix(): long
        for path in PACKAGE.rglob("*.py")
        if (long := too_long(path.read_text(encoding="utf-8")))
    }
    assert found == {}
