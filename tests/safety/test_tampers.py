"""A part of the table of tampered reports; ``python tests/safety/table.py tampers`` does it all."""

from __future__ import annotations

import json
import sys
from pathlib import Path

import pytest

sys.path[:0] = [str(Path(__file__).parents[1] / room) for room in ("recheck", "evidence")]

from fault_tampers import tampered, tampers  # noqa: E402
from rounds import rounds  # noqa: E402

from divert.recheck import child, opening  # noqa: E402


@pytest.fixture(autouse=True)
def quick(monkeypatch: pytest.MonkeyPatch, tmp_path_factory: pytest.TempPathFactory) -> None:
    """Take PDFs apart in this process, on a machine that remembers no key."""
    monkeypatch.setenv("DIVERT_HOME", str(tmp_path_factory.mktemp("own")))
    monkeypatch.setattr(
        opening, "_apart", lambda pdf, _: json.loads(json.dumps(child.apart(pdf), default=child._plain))
    )  # fmt: skip


def test_no_tampered_report_holds(tmp_path: Path) -> None:
    (tmp_path / "site").mkdir()
    told = tampered(tmp_path, every=rounds(12, 7))
    assert len(tampers()) > 70 and len(told) > 5
    assert [one.name for one in told if one.alone or one.key or one.site] == []
