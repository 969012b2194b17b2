import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1] / "evidence"))

import pytest

from divert.trace import walk


def once(work):
    """Return a function that works out once what it makes of the very same things."""
    known = {}

    def made(*of):
        key = tuple(map(id, of))
        if key not in known:
            known[key] = (
                of,
                work(*of),
            )  # what it is made of is held beside it: no other takes its place
        return known[key][1]

    return made


@pytest.fixture(autouse=True, scope="module")
def what_all_walks_begin_with_is_worked_out_once():
    """Figures, lines and factors of a period are the same for each figure that is walked."""
    with pytest.MonkeyPatch.context() as patch:
        for name in ("figures_for", "to_json", "lines_of", "numbers", "derive"):
            patch.setattr(walk, name, once(getattr(walk, name)))
        yield
