"""The lowest versions that are tested are the lowest that pyproject.toml allows."""

from __future__ import annotations

import re
import tomllib
from pathlib import Path

ROOT = Path(__file__).parents[2]


def plain(name: str) -> str:
    return re.sub(r"[-_.]+", "-", name).lower()


def test_every_bound_is_tested_at_its_lowest() -> None:
    """Where this fails, a bound has moved: run ``python .ci/lowest.py``."""
    with (ROOT / "pyproject.toml").open("rb") as file:
        project = tomllib.load(file)["project"]
    extras = (project["optional-dependencies"][name] for name in ("dev", "many"))
    asked = [*project["dependencies"], *(one for extra in extras for one in extra)]
    bounds = {plain(m[1]): m[2] for one in asked if (m := re.match(r"([\w.-]+)>=([\d.]+)", one))}
    assert len(bounds) > 30
    lines = (ROOT / ".ci" / "lowest.txt").read_text(encoding="utf-8").splitlines()
    lowest = {plain(n): v for n, _, v in (line.partition("==") for line in lines if "==" in line)}
    wrong = {
        name: (bound, lowest.get(name))
        for name, bound in bounds.items()
        if not f"{lowest.get(name)}.".startswith(f"{bound}.")
    }
    assert wrong == {}
