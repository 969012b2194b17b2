import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1] / "evidence"))

import pytest


@pytest.fixture(autouse=True)
def nothing_remembered(tmp_path_factory: pytest.TempPathFactory, monkeypatch: pytest.MonkeyPatch):
    """Each test begins on a machine that has checked no report yet."""
    monkeypatch.setenv("DIVERT_HOME", str(tmp_path_factory.mktemp("own")))
