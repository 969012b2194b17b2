"""Issuing says its number; a second report of a period replaces the first or stands beside it."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from divert.cli.commands import main
from divert.report.paper.pdf import NoPango, weasyprint

from .yard import LB, ROWS, book, yard

DAY = ("--as-of", "2025-07-01")
WHOLE = sum(range(100, 112))  # lb


def run(*arguments: object) -> int:
    with pytest.raises(SystemExit) as left:
        main([str(a) for a in arguments])
    return int(left.value.code or 0)


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    try:
        weasyprint()
    except NoPango:
        pytest.skip("no Pango: nothing can be issued here")
    folder = yard(tmp_path_factory.mktemp("sent") / "yard")
    book(folder / "log.xlsx")
    return folder


def issue(folder: Path, *more: str) -> int:
    command = ("report", folder, "--for", "grant", "--period", "2025-Q2", "--as", "html")
    return run(*command, "--issue", *DAY, *more)


def sent(folder: Path, capsys: pytest.CaptureFixture[str]) -> list[dict[str, object]]:
    capsys.readouterr()
    assert run("sent", folder, "--json", *DAY) == 0
    found: list[dict[str, object]] = json.loads(capsys.readouterr().out)
    return found


def test_the_journey(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """One yard from the first issue on: each step stands on the one before."""
    assert issue(folder) == 0
    said = capsys.readouterr().err
    assert "2025-0001" in said and "register.jsonl" in said
    (one,) = sent(folder, capsys)
    assert one["number"] == "2025-0001" and one["moved"] == []
    assert one["then_kg"] == pytest.approx(WHOLE * LB) == one["now_kg"]

    assert issue(folder) == 0  # says the same: the same number, and nothing is asked
    assert len(sent(folder, capsys)) == 1

    book(folder / "log.xlsx", [*ROWS, (ROWS[11][0], "Alder Street", "kitchen scraps", 500)])
    (moved,) = sent(folder, capsys)
    assert moved["then_kg"] == pytest.approx(WHOLE * LB)
    assert moved["now_kg"] == pytest.approx((WHOLE + 500) * LB)
    parts = next(m for m in moved["moved"] if m["figure"] == "mass.diverted.central")["parts"]  # type: ignore[attr-defined]
    assert [p["reason"] for p in parts] == ["rows added"]

    assert issue(folder) == 2  # says otherwise: which of the two stands?
    asked = capsys.readouterr().err
    assert "--withdraws 2025-0001" in asked and "--adds" in asked
    assert issue(folder, "--adds") == 0
    assert [s["number"] for s in sent(folder, capsys)] == ["2025-0001", "2025-0002"]

    capsys.readouterr()
    figures = ("figures", folder, "--period", "2025-Q2", "--grant", "Soil and Streams Fund")
    assert run(*figures, "--json", *DAY) == 0
    now = json.loads(capsys.readouterr().out)
    assert now["mass"]["diverted"]["central"] == pytest.approx((WHOLE + 500) * LB)
    issued = [(g["number"], round(g["diverted"] / LB)) for g in now["grant"]["as_issued"]]
    assert issued == [("2025-0001", WHOLE), ("2025-0002", WHOLE + 500)]
    assert run(*figures, *DAY) == 0 and "2025-0002" in capsys.readouterr().out

    book(folder / "log.xlsx", [(ROWS[11][0], "Alder Street", "kitchen scraps", 700), *ROWS])
    assert issue(folder, "--withdraws", "2025-0002") == 0
    assert [s["replaced_by"] for s in sent(folder, capsys)] == [None, "2025-0003", None]
    assert run("sent", folder, *DAY) == 0
    assert "2025-0003 took its place" in capsys.readouterr().out


def test_as_issued_goes_by_days_and_not_by_labels(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Once the year begins in July, 2025-Q2 is October to December 2024: nothing was issued then."""
    site = folder / "site.toml"
    site.write_text(site.read_text().replace("units =", 'year_starts = "July"\nunits ='))
    capsys.readouterr()
    assert run("figures", folder, "--period", "2025-Q2", "--as-issued") == 2
    assert "2025-Q2 (2025-04-01/2025-06-30)" in capsys.readouterr().err
    assert run("figures", folder, "--period", "2025-Q4", "--as-issued") == 0
    told = capsys.readouterr().out
    assert "2025-Q2" in told and "April 1, 2025" in told and "June 30, 2025" in told
