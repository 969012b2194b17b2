"""What every test shares: nothing is read from or written to the user's own cache folder."""

from __future__ import annotations

from collections.abc import Iterator

import pytest


@pytest.fixture(autouse=True, scope="session")
def own_cache_folder(tmp_path_factory: pytest.TempPathFactory) -> Iterator[None]:
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("DIVERT_CACHE", str(tmp_path_factory.mktemp("cache")))
        yield
