"""Write .ci/lowest.txt anew: every package that pyproject.toml names at the lowest version it allows.

``python .ci/lowest.py`` needs uv (``pip install uv``), which finds the newest of all other packages
that go with these. Run it after a bound in pyproject.toml has moved; a test holds the two together.
"""

from __future__ import annotations

import subprocess
from pathlib import Path

HERE = Path(__file__).parent
HEAD = "# The lowest versions that pyproject.toml allows, by lowest.py: the checks pass with them too.\n"


def main() -> None:
    """Resolve the lowest versions for the lowest Python, and write them down."""
    made = subprocess.run(
        ["uv", "pip", "compile", "--quiet", "--resolution", "lowest-direct", "--python-version", "3.11",
         "--extra", "dev", "--extra", "many", "--no-header", "--no-annotate",
         str(HERE.parent / "pyproject.toml")],
        check=True, capture_output=True, text=True,
    )  # fmt: skip
    (HERE / "lowest.txt").write_text(HEAD + made.stdout, encoding="utf-8")


if __name__ == "__main__":
    main()
