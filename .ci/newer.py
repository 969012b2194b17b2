"""Print what pip would install that is newer than a file of versions: REPORT.json CONSTRAINTS.txt."""

from __future__ import annotations

import json
import re
import sys
from pathlib import Path


def plain(name: str) -> str:
    """Return a package's name as the index spells it."""
    return re.sub(r"[-_.]+", "-", name).lower()


def main(report: str, constraints: str) -> None:
    """Print "name version" of each package whose version is not the one that is written down."""
    lines = Path(constraints).read_text(encoding="utf-8").splitlines()
    known = dict(line.strip().split("==") for line in lines if "==" in line and line[0] != "#")
    known = {plain(name): version for name, version in known.items()}
    found = [one["metadata"] for one in json.loads(Path(report).read_text())["install"]]
    other = [f"{one['name']} {one['version']}" for one in found
             if known.get(plain(one["name"]), one["version"]) != one["version"]]  # fmt: skip
    print(", ".join(sorted(other)))


if __name__ == "__main__":
    main(*sys.argv[1:])
