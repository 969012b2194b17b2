"""What README offers to other programs runs as it is printed there."""

from __future__ import annotations

import re
import shutil
import subprocess
import sys
from pathlib import Path

import divert
from divert.core.shipped import sample_folder

README = Path(__file__).parents[2] / "README.md"


def test_readme_s_lines_run_on_the_sample_site(tmp_path: Path) -> None:
    code = re.search(r"```python\n(.*?)```", README.read_text(encoding="utf-8"), re.S)
    assert code is not None
    shutil.copytree(sample_folder(), tmp_path / "our-yard")
    ran = subprocess.run(
        [sys.executable, "-c", code[1]], cwd=tmp_path, capture_output=True, text=True, check=True
    )
    mass, unit = ran.stdout.split()
    # Its grant statement prints 3.6 short tons for the quarter, 3,266 kg at 907.18474 kg each (NIST).
    assert unit == "kg"
    assert abs(float(mass) - 3.6 * 907.18474) < 0.05 * 907.18474


def test_every_name_offered_is_there() -> None:
    assert all(callable(getattr(divert, name)) for name in divert.__all__ if name != "__version__")
