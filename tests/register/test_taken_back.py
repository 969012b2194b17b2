"""`divert sent --withdraw`: a report is taken back where none replaces it, and it is said why."""

from __future__ import annotations

from pathlib import Path

import pytest
from yard import issue, load, said, site, worked

from divert.cli.commands import main
from divert.core.findings import CannotRun
from divert.publish.taken_back import take_back
from divert.register import read_register


def test_a_report_is_taken_back_by_the_command(tmp_path: Path) -> None:
    workings = worked([load("2025-04-03", 10.0)], site(tmp_path))
    issue(workings, said(workings))
    day = said(workings).as_of
    for number, reason, says in (
        ("2025-0001", "  ", "in a few words why"),
        ("", "wrong month", "by its number"),
    ):
        with pytest.raises(CannotRun, match=says):
            take_back(tmp_path, number, day, reason)
    assert read_register(tmp_path).withdrawals == {}
    take_back(tmp_path, "2025-0001", day, "wrong month")
    taken = read_register(tmp_path).withdrawals["2025-0001"]
    assert (taken.reason, taken.on, taken.replaced_by) == ("wrong month", day, None)


def test_the_command_takes_the_number_and_the_words(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "site.toml").write_text(
        '[site]\nname = "Yard"\nstarted = 2025-01-01\nunits = "metric"\n', encoding="utf-8"
    )
    (tmp_path / "log.csv").write_text("Date,From,What,Weight (kg)\n", encoding="utf-8")
    for words, says in (
        (["--withdraw", "2025-0009", "--because", "wrong month"], "2025-0009"),
        (["--withdraw", "2025-0009"], "in a few words why"),
    ):
        with pytest.raises(SystemExit) as stopped:
            main(["sent", str(tmp_path), "--as-of", "2025-07-10", *words])
        assert stopped.value.code == 2
        assert says in capsys.readouterr().err
