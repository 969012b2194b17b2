"""The version moves with what figures rest on, so that "because the calculation changed" is true."""

from __future__ import annotations

import ast
import hashlib
import tomllib
from collections.abc import Iterator
from pathlib import Path

import divert

PACKAGE = Path(divert.__file__).parent
HERE = Path(__file__).parent
# Everything between a cell and a figure; what only prints, asks or keeps is left out.
RESTS_ON = (
    "core/units.py",
    "core/period.py",
    "sandbox",
    "ingest",
    "site",
    "factors",
    "convert",
    "figures",
)
ONLY_PRINTS = ("figures/numbers", "figures/schemas", "site/begin", "site/change")


def test_a_version_says_the_same_figures_from_the_same_sheets() -> None:
    """Where this fails: if a figure can move, raise the version and say in CHANGES.md what moves; then
    write the fingerprint it asks for into rests_on.toml. If none can, write the fingerprint alone."""
    with (HERE / "rests_on.toml").open("rb") as file:
        noted = tomllib.load(file)
    assert noted == {"version": divert.__version__, "fingerprint": _fingerprint()}


def test_the_changes_begin_with_this_version() -> None:
    lines = (PACKAGE / "CHANGES.md").read_text(encoding="utf-8").splitlines()
    first = next(line for line in lines if line.startswith("## "))
    assert first.split()[1] == divert.__version__


def _fingerprint() -> str:
    """Return one number of all that figures rest on; comments and docstrings do not count."""
    whole = hashlib.sha256()
    for path in sorted(_files(), key=lambda p: p.as_posix()):
        whole.update(path.relative_to(PACKAGE).as_posix().encode())
        whole.update(_code(path) if path.suffix == ".py" else path.read_bytes())
    return whole.hexdigest()[:16]


def _files() -> Iterator[Path]:
    for place in RESTS_ON:
        path = PACKAGE / place
        found = [path] if path.is_file() else path.rglob("*")
        for each in found:
            name = each.relative_to(PACKAGE).as_posix()
            if each.suffix in {".py", ".toml", ".csv"} and not name.startswith(ONLY_PRINTS):
                yield each


def _code(path: Path) -> bytes:
    text = path.read_text(encoding="utf-8")
    left_out: set[int] = set()
    for node in ast.walk(ast.parse(text)):
        body = getattr(node, "body", None)
        if isinstance(body, list) and body and isinstance(body[0], ast.Expr):
            said = body[0].value
            if isinstance(said, ast.Constant) and isinstance(said.value, str):
                left_out |= set(range(said.lineno, (said.end_lineno or said.lineno) + 1))
    kept = (
        line.strip()
        for number, line in enumerate(text.splitlines(), start=1)
        if number not in left_out and line.strip() and not line.lstrip().startswith("#")
    )
    return "\n".join(kept).encode()
