import functools
import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1] / "evidence"))

import pytest

from divert.trace import walk


@pytest.fixture(autouse=True, scope="module")
def what_all_walks_begin_with_is_worked_out_once():
    """The figures and lines of a period are the same for each figure that is walked."""
    with pytest.MonkeyPatch.context() as patch:
        for name in ("figures_for", "lines_of"):
            patch.setattr(walk, name, functools.cache(getattr(walk, name)))
        yield
