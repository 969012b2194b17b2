"""What differs from the last reading is shown row by row, also where the old cells are gone."""

from __future__ import annotations

from pathlib import Path

import pytest

from divert.cli.commands import main

from .yard import ROWS, book, text, yard

DAY = ("--as-of", "2025-07-01")


def changes(folder: Path, capsys: pytest.CaptureFixture[str]) -> tuple[int, str]:
    capsys.readouterr()
    with pytest.raises(SystemExit) as left:
        main(["read", str(folder), "--changes", *DAY])
    return int(left.value.code or 0), capsys.readouterr().out


@pytest.mark.parametrize("kept", [True, False])
def test_a_changed_row_is_shown_as_it_was_and_as_it_is(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch, kept: bool
) -> None:
    monkeypatch.setenv("DIVERT_CACHE", str(tmp_path / "cache") if kept else "off")
    folder = yard(tmp_path / "yard")
    book(folder / "log.xlsx", ROWS[:6])
    text(folder / "late.csv", ROWS[6:])
    assert changes(folder, capsys)[0] == 0
    assert "Nothing differs" in changes(folder, capsys)[1]
    text(folder / "late.csv", [(*ROWS[6][:3], 10), *ROWS[7:]])
    status, told = changes(folder, capsys)
    lines = [line.strip() for line in told.splitlines() if line.startswith("  ")]
    assert status == 1
    if kept:
        assert lines == [
            "− 2025-04-14, Alder Street, kitchen scraps, 106 lb",
            "+ 2025-04-14, Alder Street, kitchen scraps, 10 lb",
        ]
    else:
        assert lines[0] == "− April 14, 2025, intake, 106 lb" and len(lines) == 2
