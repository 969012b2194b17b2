"""The version of a library is what importlib.metadata says, told without it."""

from __future__ import annotations

import subprocess
import sys
from importlib.metadata import PackageNotFoundError, version
from pathlib import Path

import pytest

from divert.core.installed import installed


@pytest.mark.parametrize("name", ["pandas", "numpy", "python-calamine", "WeasyPrint"])
def test_it_is_the_version_that_pip_knows(name: str) -> None:
    assert installed(name) == version(name)


def test_a_library_that_is_not_there_is_told() -> None:
    with pytest.raises(PackageNotFoundError):
        installed("no-library-of-this-name")


def test_the_first_place_counts_and_what_an_update_left_is_named_too(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    for folder in ("one/Made_Up-1.5.dist-info", "two/made_up-2.0.dist-info", "three/made_up_more-9.dist-info"):  # fmt: skip
        (tmp_path / folder).mkdir(parents=True)
    monkeypatch.setattr(sys, "path", [str(tmp_path / p) for p in ("gone", "three", "one", "two")])
    installed.cache_clear()
    first = installed("made-up")
    (tmp_path / "one" / "made_up-1.4.dist-info").mkdir()
    installed.cache_clear()
    second = installed("made-up")
    installed.cache_clear()
    assert (first, second) == ("1.5", "1.4 1.5")


def _printed(code: str) -> str:
    run = [sys.executable, "-c", code]
    done = subprocess.run(run, capture_output=True, text=True, check=True, timeout=60)
    return done.stdout.strip()


def test_a_short_command_brings_no_mail_parser() -> None:
    code = (
        "import sys, divert.inventory.open_site as o; from divert.ingest.kept_reading import _program\n"
        "_program(); print('email.message' in sys.modules)"
    )
    assert _printed(code) == "False"


def test_the_child_that_opens_sheets_brings_nothing_that_looks_into_source_code() -> None:
    code = (
        "import sys, divert.sandbox.child\n"
        "print([m for m in ('inspect', 'ast', 'numpy', 'pandas', 'logging') if m in sys.modules])"
    )
    assert _printed(code) == "[]"
