"""Each check and stage made to fail: a finding that names the sheet, exit 1, never the end of the run."""

from __future__ import annotations

import datetime as dt
import importlib
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pandas as pd
import pytest
from click.testing import CliRunner

from divert.cli.commands import main_group
from divert.convert import Workings
from divert.core.checked import CODE
from divert.inventory.open_site import open_site

AS_OF = dt.date(2025, 7, 1)
TOML = (
    '[site]\nname = "Alder Yard"\nunits = "us"\nstarted = 2024-01-01\n'
    '[[source]]\nname = "North kitchen"\n[[source]]\nname = "South cafe"\n'
)
HEAD = "Date,Source,Material,Weight (lb)\n"
GOOD = HEAD + "2025-03-01,North kitchen,food scraps,10\n2025-03-02,North kitchen,food scraps,11\n"
BAD = HEAD + "2025-03-03,South cafe,food scraps,5\n2025-03-04,South cafe,food scraps,6\n"

# Where each check is called, under its name there.
CHECKS = {
    "divert.ingest.checks.ledger": (
        "repeats", "weight_and_volume", "far_outside", "weeks_missed", "other_money",
        "weighed_only",
    ),
    "divert.ingest.take": (
        "without_doubtful", "without_copies", "corrections", "asked", "products_received",
    ),
    "divert.convert.workings": (
        "fill_queries", "worth_asking", "name_queries", "fate_queries", "law_queries",
        "condition_queries", "state_queries", "tare_queries",
    ),
}  # fmt: skip
# Without these there is no entry or no mass: the sheet that makes them fail is left out whole.
STAGES = {
    "divert.ingest.take": ("read_table", "taken_as"),
    "divert.ingest.plan.sheets": ("propose",),
    "divert.convert.workings": (
        "with_volume", "with_net", "with_meaning", "with_mass", "enormous", "refusals", "charges",
    ),
}  # fmt: skip


@pytest.fixture
def yard(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.delenv("DIVERT_DEBUG")
    monkeypatch.setenv("DIVERT_CACHE", "off")
    (tmp_path / "site.toml").write_text(TOML)
    (tmp_path / "good.csv").write_text(GOOD)
    (tmp_path / "bad.csv").write_text(BAD)
    return tmp_path


def _speaks_of(value: object, file: str) -> bool:
    if isinstance(value, pd.DataFrame):
        return "file" in value and len(value) > 0 and file in set(value["file"].astype(str))
    name = getattr(getattr(value, "sheet", value), "file", None)
    return name == file


def fail(monkeypatch: pytest.MonkeyPatch, where: str, name: str, when: Callable[..., bool]) -> None:
    """Make a function raise whenever what it is given is so."""
    module = importlib.import_module(where)
    usual = getattr(module, name)

    def failing(*given: Any, **more: Any) -> Any:
        if when(*given):
            raise IndexError("list index out of range")
        return usual(*given, **more)

    monkeypatch.setattr(module, name, failing)


def on_bad(first: object, *_: object) -> bool:
    return _speaks_of(first, "bad.csv")


def names_of(workings: Workings) -> list[tuple[str | None, str]]:
    return [(f.where.file, f.code) for f in workings.findings if f.blocks]


def pounds(workings: Workings) -> float:
    return float(workings.ledger["mass_kg"].sum() / 0.45359237)


@pytest.mark.parametrize(
    ("where", "name"), [(w, n) for w, names in CHECKS.items() for n in names], ids=str
)
def test_a_check_that_fails_on_a_sheet_names_it_and_leaves_its_rows(
    yard: Path, monkeypatch: pytest.MonkeyPatch, where: str, name: str
) -> None:
    given = (lambda *_: True) if name == "asked" else on_bad
    fail(monkeypatch, where, name, given)
    workings = open_site(yard, as_of=AS_OF)
    named = {file for file, code in names_of(workings) if code == CODE}
    assert named == ({"bad.csv", "good.csv"} if name == "asked" else {"bad.csv"})
    assert pounds(workings) == pytest.approx(10 + 11 + 5 + 6)


@pytest.mark.parametrize(
    ("where", "name"), [(w, n) for w, names in STAGES.items() for n in names], ids=str
)
def test_a_stage_that_fails_on_a_sheet_leaves_it_out_by_name(
    yard: Path, monkeypatch: pytest.MonkeyPatch, where: str, name: str
) -> None:
    fail(monkeypatch, where, name, on_bad)
    workings = open_site(yard, as_of=AS_OF)
    assert names_of(workings) == [("bad.csv", "file unreadable")]
    assert pounds(workings) == pytest.approx(10 + 11)
    rows = workings.rows(workings.findings)
    assert rows.seen == rows.used + rows.set_aside + rows.skipped


def test_a_check_that_fails_only_on_all_sheets_together_names_each(
    yard: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    fail(monkeypatch, "divert.ingest.checks.ledger", "repeats", lambda rows: len(rows) == 4)
    workings = open_site(yard, as_of=AS_OF)
    assert {file for file, code in names_of(workings) if code == CODE} == {"bad.csv", "good.csv"}


def test_a_last_reading_that_cannot_be_compared_is_said_and_nothing_is_remembered(
    yard: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    fail(monkeypatch, "divert.inventory.remember", "files_now", lambda *_: True)
    workings = open_site(yard, as_of=AS_OF, remember=True)
    assert {code for _, code in names_of(workings)} == {CODE}
    assert pounds(workings) == pytest.approx(10 + 11 + 5 + 6)


@pytest.mark.parametrize("name", ["repeats", "weeks_missed"])
def test_the_commands_say_it_with_status_1_and_issue_nothing(
    yard: Path, monkeypatch: pytest.MonkeyPatch, name: str
) -> None:
    fail(monkeypatch, "divert.ingest.checks.ledger", name, on_bad)
    read = CliRunner().invoke(main_group, ["read", str(yard), "--as-of", "2025-07-01"])
    assert read.exit_code == 1 and "bad.csv" in read.output + read.stderr
    line = ["report", str(yard), "--for", "board", "--period", "2025-03", "--as", "html", "--issue",
            "--as-of", "2025-07-01"]  # fmt: skip
    issued = CliRunner().invoke(main_group, line)
    assert issued.exit_code != 0 and not (yard / "register.jsonl").exists()


def test_a_stage_that_fails_on_every_sheet_ends_in_one_sentence(
    yard: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    from divert.cli.commands import main

    fail(monkeypatch, "divert.convert.workings", "charges", lambda *_: True)
    with pytest.raises(SystemExit) as ended:
        main(["figures", str(yard), "--period", "2025-03", "--as-of", "2025-07-01"])
    said = capsys.readouterr().err
    assert ended.value.code == 2 and "did not foresee" in said and "Traceback" not in said
