"""A name from a sheet becomes a file name only as a slug that leads nowhere."""

from __future__ import annotations

import re
from pathlib import PurePosixPath, PureWindowsPath

import pytest
from hypothesis import given
from hypothesis import strategies as st

from divert.core.safe_files import slug, slugs_apart

# Names that Windows keeps for devices, with or without an extension: Microsoft, "Naming Files,
# Paths, and Namespaces".
DEVICES = ["CON", "PRN", "AUX", "NUL", *(f"{d}{n}" for d in ("COM", "LPT") for n in range(1, 10))]


@pytest.mark.parametrize(
    ("name", "wanted"),
    [
        ("Two Oaks Credit Union", "two-oaks-credit-union"),
        ("Café Öl & Søn", "cafe-ol-s-n"),
        ("  --a--  ", "a"),
        ("../../etc/passwd", "etc-passwd"),
        ("C:\\Windows\\x", "c-windows-x"),
        ("a/b", "a-b"),
        ("x\0.pdf", "x-pdf"),
        ("½ Pail Club", "1-2-pail-club"),
    ],
)
def test_slugs_by_hand(name: str, wanted: str) -> None:
    assert slug(name) == wanted


@pytest.mark.parametrize("name", DEVICES)
def test_no_slug_is_a_device(name: str) -> None:
    assert slug(name).upper() not in DEVICES
    assert slug(f"{name}.").upper() not in DEVICES


@given(st.text())
def test_any_name_gives_a_slug_that_leads_nowhere(name: str) -> None:
    made = slug(name)
    assert re.fullmatch(r"[a-z0-9]+(-[a-z0-9]+)*", made)
    assert len(made) <= 70
    for path in (PurePosixPath("out", made), PureWindowsPath("out", made)):
        assert path.parent.name == "out"


@given(st.lists(st.text(alphabet="aA- .é/", max_size=4), max_size=12))
def test_names_that_reduce_alike_stay_apart(names: list[str]) -> None:
    made = slugs_apart(names)
    assert set(made) == set(names)
    assert len(set(made.values())) == len(set(names))
    assert all(re.fullmatch(r"[a-z0-9]+(-[a-z0-9]+)*", one) for one in made.values())


def test_two_sponsors_that_reduce_alike() -> None:
    made = slugs_apart(["Two Oaks", "two oaks!", "Quillmarsh School"])
    assert made["Two Oaks"] == "two-oaks"
    assert re.fullmatch(r"two-oaks-[0-9a-f]{8}", made["two oaks!"])
    assert made["Quillmarsh School"] == "quillmarsh-school"


def test_a_long_names_slug_is_cut_and_still_apart() -> None:
    names = ["n" * 200 + "a", "n" * 200 + "b"]
    made = slugs_apart(names)
    assert len(set(made.values())) == 2
    assert max(map(len, made.values())) <= 70
