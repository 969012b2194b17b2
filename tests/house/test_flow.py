"""Data flows one way: a stage knows those before it, never those after, and there are no circles."""

from __future__ import annotations

import ast
import tomllib
from functools import lru_cache
from graphlib import CycleError, TopologicalSorter
from pathlib import Path

import pytest

import divert

PACKAGE = Path(divert.__file__).parent

# The stages from the first to the last; each may know those before it and nobody after it. Stages on
# one line do not know each other. The same layers stand in pyproject.toml for import-linter.
LAYERS = (
    ("core",),
    ("factors",),
    ("site",),
    ("sandbox",),
    ("ingest",),
    ("convert",),
    ("inventory",),
    ("figures",),
    ("evidence",),
    ("report", "workbook"),
    ("register",),
    ("publish",),
    ("trace", "recheck", "region"),
    ("page",),
    ("cli",),
)


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


@pytest.mark.parametrize("place", range(len(LAYERS)))
def test_a_stage_knows_only_those_before_it(place: int) -> None:
    before = {stage for layer in LAYERS[:place] for stage in layer}
    wrong = [
        f"{module} imports {other}"
        for module, others in imports().items()
        if _stage(module) in LAYERS[place]
        for other in others
        if _stage(other) not in before | {_stage(module)}
    ]
    assert wrong == []


def test_every_room_is_a_stage() -> None:
    rooms = {_stage(module) for module in imports()} - {"", "__main__"}
    assert rooms == {stage for layer in LAYERS for stage in layer}


def test_import_linter_states_the_same_layers() -> None:
    with (PACKAGE.parent / "pyproject.toml").open("rb") as file:
        contracts = tomllib.load(file)["tool"]["importlinter"]["contracts"]
    stated = next(one["layers"] for one in contracts if one["type"] == "layers")
    assert stated == [" | ".join(layer) for layer in reversed(LAYERS)]


def test_nothing_imports_the_command_line() -> None:
    known = {
        module
        for module, others in imports().items()
        if _stage(module) != "cli" and any(_stage(other) == "cli" for other in others)
    }
    assert known == {"divert.__main__"}


def test_no_circle() -> None:
    """Also none through a package's own face, which import-linter counts like any other module."""
    try:
        TopologicalSorter(imports()).prepare()
    except CycleError as circle:
        pytest.fail(" -> ".join(circle.args[1]))


def test_no_library_of_units_is_waited_for() -> None:
    """Every unit is known by its definition (core/units); tests compare them with a library's."""
    with_pint = {
        path.relative_to(PACKAGE).as_posix()
        for path in PACKAGE.rglob("*.py")
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8")))
        if (isinstance(node, ast.Import) and any(a.name == "pint" for a in node.names))
        or (isinstance(node, ast.ImportFrom) and node.module == "pint")
    }
    assert with_pint == set()
