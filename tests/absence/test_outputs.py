"""Nothing of the user's is written over, whichever option names it; what is ours may be."""

from __future__ import annotations

from pathlib import Path

import pytest

from divert.cli.commands import main
from divert.core.ours import carries_mark

from .yard import book, text, yard

DAY = ("--as-of", "2025-07-01")


def run(*arguments: object) -> int:
    with pytest.raises(SystemExit) as left:
        main([str(a) for a in arguments])
    return int(left.value.code or 0)


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    folder = yard(tmp_path / "yard")
    book(folder / "log.xlsx")
    return folder


def test_a_ledger_is_never_written_over_the_crews_own_log(folder: Path) -> None:
    own = text(folder / "crew.csv")
    before = own.read_bytes()
    assert run("read", folder, "--ledger", own, *DAY) == 2
    assert own.read_bytes() == before


def test_a_ledger_may_be_written_again(folder: Path) -> None:
    for _ in range(2):
        assert run("read", folder, "--ledger", folder / "rows.csv", *DAY) == 0
    assert carries_mark(folder / "rows.csv")


@pytest.mark.parametrize(
    ("audience", "name"),
    [
        ("board", "board.xlsx"), ("board", "board.html"), ("grant", "grant.csv"),
        ("grant", "grant.html"), ("sponsor", "sponsor-two-oaks-credit-union.xlsx"),
    ],
)  # fmt: skip
@pytest.mark.parametrize("where", ["out", "reports"])
def test_no_report_is_written_over_a_file_of_that_name(
    folder: Path, audience: str, name: str, where: str
) -> None:
    place = folder if where == "out" else folder / "reports" / "2025"
    own = text(place / name) if name.endswith(".csv") else book(place / name)
    before = own.read_bytes()
    out = ("--out", folder) if where == "out" else ()
    command = ("report", folder, "--for", audience, "--period", "2025", "--as", "html,xlsx", *DAY)
    assert run(*command, *out) == 2
    assert own.read_bytes() == before
    assert [p.name for p in place.iterdir() if p.stem == own.stem] == [
        name
    ]  # and nothing beside it


def test_reports_are_made_again_over_themselves(folder: Path) -> None:
    for _ in range(2):
        for audience in ("grant", "board", "sponsor"):
            command = ("report", folder, "--for", audience, "--period", "2025")
            assert run(*command, "--as", "html,xlsx", *DAY) == 0
    made = sorted((folder / "reports" / "2025").iterdir())
    assert len(made) == 7 and all(carries_mark(path) for path in made)


def test_what_is_no_report_carries_no_mark(folder: Path) -> None:
    for name in ("a.pdf", "a.html", "a.eml", "a.txt", "a.csv", "a.xlsx"):
        (folder / name).write_text("X-Divert of something else\n\ndivert-mark")
        assert not carries_mark(folder / name)
    assert not carries_mark(folder / "log.xlsx")
