"""Data flows one way: a stage knows those before it, never those after, and there are no circles."""

from __future__ import annotations

import ast
from functools import lru_cache
from graphlib import CycleError, TopologicalSorter
from pathlib import Path

import pytest

import divert

PACKAGE = Path(divert.__file__).parent

# Each stage with what it must not know.
AFTER = {
    "ingest": {"convert", "tally", "report", "register", "recheck", "trace", "screen", "steps"},
    "site_file": {"ingest", "convert", "tally", "report", "register", "recheck", "trace", "screen"},
    "factors": {"ingest", "convert", "tally", "report", "register", "recheck", "trace", "screen"},
    "convert": {"tally", "report", "register", "recheck", "trace", "screen", "steps"},
    "tally": {"report", "register", "recheck", "trace", "screen", "steps"},
    "figures": {"ingest", "convert", "tally", "report", "register", "recheck", "trace", "screen"},
    "report": {"recheck", "trace", "screen", "steps"},
    "register": {"recheck", "trace", "screen", "steps"},
    "held": {"ingest", "convert", "tally", "report", "register", "recheck", "trace", "screen"},
}


@lru_cache
def imports() -> dict[str, frozenset[str]]:
    """Return each module of the package with the modules of the package it imports anywhere."""
    files = {_name(path): path for path in PACKAGE.rglob("*.py")}
    found = {}
    for module, path in files.items():
        named: set[str] = set()
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Import):
                named |= {alias.name for alias in node.names}
            elif isinstance(node, ast.ImportFrom) and node.module and not node.level:
                parts = {f"{node.module}.{alias.name}" for alias in node.names}
                # `from divert.x import y` is an import of y where y is a module, else of divert.x.
                named |= {part if part in files else node.module for part in parts}
        found[module] = frozenset(named & set(files)) - {module}
    return found


def _name(path: Path) -> str:
    parts = path.relative_to(PACKAGE.parent).with_suffix("").parts
    return ".".join(parts[:-1] if parts[-1] == "__init__" else parts)


def _stage(module: str) -> str:
    return module.split(".")[1] if "." in module else ""


@pytest.mark.parametrize("stage", sorted(AFTER))
def test_a_stage_knows_none_of_those_after_it(stage: str) -> None:
    wrong = [
        f"{module} imports {other}"
        for module, others in imports().items()
        if _stage(module) == stage
        for other in others
        if _stage(other) in AFTER[stage]
    ]
    assert wrong == []


def test_the_stages_looked_for_are_there() -> None:
    stages = {_stage(module) for module in imports()}
    assert set(AFTER) <= stages
    assert "divert.convert.workings" in imports()["divert.steps"] | imports()["divert.convert"]


def test_nothing_imports_the_command_line() -> None:
    known = {module for module, others in imports().items() if "divert.cli" in others}
    assert known <= {"divert.__main__"}


def test_no_circle() -> None:
    """A package's own face only hands names on, so its arrows to its parts are not counted."""
    faces = {module for module in imports() if (PACKAGE.parent / module.replace(".", "/")).is_dir()}
    graph = {module: others - faces for module, others in imports().items() if module not in faces}
    try:
        TopologicalSorter(graph).prepare()
    except CycleError as circle:
        pytest.fail(" -> ".join(circle.args[1]))


def test_units_are_understood_in_one_place() -> None:
    with_pint = {
        path.relative_to(PACKAGE).as_posix()
        for path in PACKAGE.rglob("*.py")
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8")))
        if (isinstance(node, ast.Import) and any(a.name == "pint" for a in node.names))
        or (isinstance(node, ast.ImportFrom) and node.module == "pint")
    }
    assert with_pint == {"units.py"}
