"""What every test shares: nothing is read from or written to the user's own folders."""

from __future__ import annotations

import os
from collections.abc import Iterator
from pathlib import Path

import pytest
from hypothesis import settings

# In CI the same examples are tried every time: a red run can be run again and looked at.
settings.register_profile("ci", derandomize=True, deadline=None, print_blob=True)
if os.environ.get("CI"):
    settings.load_profile("ci")


# Rooms whose files hold one long journey each. They go first: at the end, the files that are left are
# small, and no worker waits for another's.
LONG_ROOMS = ("safety", "absence", "page", "register", "evidence")


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    tests = Path(__file__).parent
    items.sort(key=lambda item: item.path.relative_to(tests).parts[0] not in LONG_ROOMS)


@pytest.fixture(autouse=True, scope="session")
def own_cache_folder(tmp_path_factory: pytest.TempPathFactory) -> Iterator[None]:
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("DIVERT_CACHE", str(tmp_path_factory.mktemp("cache")))
        patch.setenv("DIVERT_DEBUG", "1")  # what fails in a sheet is to be seen
        patch.setenv("DIVERT_HOME", str(tmp_path_factory.mktemp("own")))
        yield
