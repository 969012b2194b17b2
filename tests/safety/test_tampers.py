"""A part of the table of tampered reports; ``python tests/safety/table.py tampers`` does it all."""

from __future__ import annotations

import json
import sys
from pathlib import Path

import pytest

sys.path[:0] = [str(Path(__file__).parents[1] / room) for room in ("recheck", "evidence")]

from fault_tampers import rebuilt, tampered, tampers  # noqa: E402
from recheck import tampering as t  # noqa: E402
from rounds import rounds  # noqa: E402

from divert.core.signing import fingerprint  # noqa: E402
from divert.evidence.attachments import RECORD, attached  # noqa: E402
from divert.recheck import child, opening, recheck  # noqa: E402
from divert.recheck.telling import recheck_lines  # noqa: E402


@pytest.fixture(autouse=True)
def quick(monkeypatch: pytest.MonkeyPatch, tmp_path_factory: pytest.TempPathFactory) -> None:
    """Take PDFs apart in this process, on a machine that remembers no key."""
    monkeypatch.setenv("DIVERT_HOME", str(tmp_path_factory.mktemp("own")))
    monkeypatch.setattr(
        opening, "_apart", lambda pdf, _: json.loads(json.dumps(child.apart(pdf), default=child._plain))
    )  # fmt: skip


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder whose site has issued one report; issuing it takes longer than all else here."""
    folder = tmp_path_factory.mktemp("tampers")
    (folder / "site").mkdir()
    return folder


def test_no_tampered_report_holds(folder: Path) -> None:
    told = tampered(folder, every=rounds(12, 7))
    assert len(tampers()) > 70 and len(told) > 5
    assert [one.name for one in told if one.alone or one.key or one.site] == []


def test_a_report_rebuilt_from_sevenfold_weights_is_no_more_than_consistent_with_itself(
    folder: Path,
) -> None:
    sent = t.issued(folder / "site")
    key = fingerprint(bytes.fromhex(json.loads(attached(sent.read_bytes())[RECORD])["key"]))
    for signed in (False, True)[-rounds(1, 2) :]:  # by nobody; by the forger's own key
        forged = rebuilt(folder, signed=signed)
        alone = recheck(forged)
        assert alone.holds and alone.proved is None
        first = str(next(iter(recheck_lines(alone))))
        assert first.startswith("Consistent with itself; this does not prove who made it.")
        assert not recheck(forged, key=key).holds
        assert not recheck(forged, folder / "site").holds
    # The forgery came here first: it says so of the genuine one, and neither site nor key is led astray.
    assert recheck(forged).holds
    second = recheck(sent)
    assert not second.holds and second.maker.unlike_first
    assert "the first report of this site that was checked here" in str(second.maker.wrong[0])
    assert recheck(sent, folder / "site").proved == "site"
    assert recheck(sent).proved == "key"  # whose key it is was told by the site
    assert not recheck(forged).holds
    assert recheck(sent, folder / "site", key=key).proved == "site"
