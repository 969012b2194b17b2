"""Who made a report: what a key proves that was given, that came here first, or that the site knows."""

from __future__ import annotations

from typing import Any

import pytest

from divert.core.signing import fingerprint, known_keys, public_of, signature
from divert.recheck.maker import known_by_the_site, maker_of, remember

SEAL = "5" * 64
KEYS = [bytes([n]) * 32 for n in (1, 2)]
OURS, THEIRS = (fingerprint(public_of(key)) for key in KEYS)


@pytest.fixture(autouse=True)
def own_folder(monkeypatch: pytest.MonkeyPatch, tmp_path_factory: pytest.TempPathFactory) -> None:
    monkeypatch.setenv("DIVERT_HOME", str(tmp_path_factory.mktemp("own")))


def record(key: bytes | None) -> dict[str, Any]:
    plain = {"report": {"site": "Alder Hollow Yard"}, "evidence_sha256": "a" * 64}
    if key is None:
        return plain
    return plain | {"key": public_of(key).hex(), "signature": signature(key, SEAL)}


def made_by(key: bytes | None, wanted: str | None = None, *, seal: str = SEAL) -> Any:
    foot = "" if key is None else f"{fingerprint(public_of(key))} {'a' * 16}"
    return maker_of(record(key), seal, (foot,), wanted)


def checked(key: bytes, *, sure: bool = False) -> None:
    remember(record(key), made_by(key), sure=sure)


def test_a_key_that_was_given_is_the_only_one_that_counts() -> None:
    checked(KEYS[1])
    assert made_by(KEYS[0], OURS).proved and not made_by(KEYS[0], THEIRS).proved
    assert "not with" in str(made_by(KEYS[0], THEIRS).wrong[0])
    assert "should have signed it" in str(made_by(None, OURS).wrong[0])
    assert not made_by(KEYS[0], THEIRS).unlike_first


def test_a_key_that_came_first_is_said_to_have_come_first() -> None:
    first = made_by(KEYS[0])
    assert not first.proved and "for the first time" in str(first.said[0])
    checked(KEYS[0])
    assert made_by(KEYS[0]).proved
    assert "as the first report of this site" in str(made_by(KEYS[0]).said[0])
    for other in (KEYS[1], None):
        told = made_by(other)
        assert told.unlike_first and "the first report of this site" in str(told.wrong[0])
        assert "should have" not in str(told.wrong[0])


def test_what_the_site_issued_is_not_doubted_for_what_came_first() -> None:
    checked(KEYS[1])
    told = known_by_the_site(made_by(KEYS[0]))
    assert told.wrong == () and THEIRS in str(told.said[0])
    broken = known_by_the_site(made_by(KEYS[0], seal="6" * 64))
    assert broken.wrong and "does not fit" in str(broken.wrong[0])


def test_a_key_that_is_known_to_be_the_sites_takes_the_place_of_one_that_came_first() -> None:
    checked(KEYS[1])
    remember(record(KEYS[0]), known_by_the_site(made_by(KEYS[0])), sure=False)
    assert known_keys() == {"Alder Hollow Yard": THEIRS}
    remember(record(KEYS[0]), made_by(KEYS[0], OURS), sure=True)
    assert known_keys() == {"Alder Hollow Yard": OURS}
