"""What every test shares: nothing is read from or written to the user's own folders."""

from __future__ import annotations

import os
from collections.abc import Iterator

import pytest
from hypothesis import settings

# In CI the same examples are tried every time: a red run can be run again and looked at.
settings.register_profile("ci", derandomize=True, deadline=None, print_blob=True)
if os.environ.get("CI"):
    settings.load_profile("ci")


@pytest.fixture(autouse=True, scope="session")
def own_cache_folder(tmp_path_factory: pytest.TempPathFactory) -> Iterator[None]:
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("DIVERT_CACHE", str(tmp_path_factory.mktemp("cache")))
        patch.setenv("DIVERT_DEBUG", "1")  # what fails in a sheet is to be seen
        patch.setenv("DIVERT_HOME", str(tmp_path_factory.mktemp("own")))
        yield
