"""Each command as a user meets it: what it prints, where, and the exit status."""

from __future__ import annotations

import csv
import json
import subprocess
import sys
from pathlib import Path

import pytest
from openpyxl import Workbook
from told import tells

import divert
from divert.cli.commands import main
from divert.core.ledger import COLUMNS

TOML = """[site]
name = "Alder Hollow Yard"
units = "metric"
started = 2025-01-01
[landfill]
gas_captured = 0.5
[[container]]
name = "tote"
volume = "100 l"
tare = "2 kg"
usual_fill = 0.9
[[material]]
name = "kitchen scraps"
like = "food-scraps"
before = "landfill"
[[source]]
name = "North kitchen"
[[source]]
name = "South kitchen"
[[sponsor]]
name = "North School"
supplies = ["North kitchen"]
"""


def run(capsys: pytest.CaptureFixture[str], *arguments: object) -> tuple[int, str, str]:
    status = 0
    try:
        main([str(a) for a in arguments])
    except SystemExit as leaving:
        status = int(leaving.code or 0)
    out, err = capsys.readouterr()
    return status, out, err


@pytest.fixture
def site(tmp_path: Path) -> Path:
    folder = tmp_path / "yard"
    folder.mkdir()
    (folder / "site.toml").write_text(TOML)
    book = Workbook()
    sheet = book.active
    sheet.title = "Intake 2025"
    sheet.append(["Date", "Source", "Material", "Container", "Qty", "Weight (kg)"])
    sheet.append(["2025-02-03", "North kitchen", "kitchen scraps", None, None, 40])
    sheet.append(["2025-02-10", "South kitchen", "kitchen scraps", "tote", 2, None])
    sheet.append(["2025-03-03", "North kitchen", "kitchen scraps", None, None, 60])
    book.save(folder / "log.xlsx")
    return folder


def test_figures_json_holds_the_hand_worked_masses(
    site: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    status, out, _ = run(
        capsys, "figures", site, "--period", "2025-Q1", "--as-of", "2025-05-01", "--json"
    )
    found = json.loads(out)
    # 40 + 60 weighed, and 2 totes x 0.1 m³ x 0.9 x 425 kg/m³ = 76.5
    assert found["mass"]["received"]["central"] == pytest.approx(176.5, rel=1e-9)
    assert found["mass"]["diverted"]["central"] == pytest.approx(176.5, rel=1e-9)
    assert found["basis"]["weighed"] == pytest.approx(100 / 176.5, rel=1e-9)
    rows = found["rows"]
    assert rows["used"] == 3
    assert rows["seen"] == rows["used"] + rows["set_aside"] + rows["skipped"]
    assert status == 0


def test_figures_json_has_every_key_of_the_contract(
    site: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    _, out, _ = run(
        capsys, "figures", site, "--period", "2025", "--as-of", "2025-05-01", "--json",
        "--sponsor", "north school",
    )  # fmt: skip
    found = json.loads(out)
    wanted = [
        "site", "period", "as_of", "sponsor", "rows", "mass", "not_claimed", "moved", "rejected",
        "basis", "by_material", "by_source", "by_month", "emissions", "emissions_within",
        "methane_by_year", "sensitivity", "screening", "harvest", "yield", "beds",
        "diversion_rate", "activities", "money", "supplied", "supported", "previous",
        "same_period_last_year", "cumulative", "targets", "weeks", "densities", "findings",
        "factors",
    ]  # fmt: skip
    assert set(wanted) <= set(found)
    assert found["period"]["to_date"] is True
    assert found["sponsor"] == "North School"
    assert found["supplied"]["received"]["central"] == pytest.approx(100)
    assert found["supported"] is None
    assert found["by_material"][0]["material"] == "kitchen scraps"
    assert {p["source"] for p in found["by_source"]} == {"North kitchen", "South kitchen"}


def test_ledger_file_has_exactly_the_published_columns(
    site: Path, capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    path = tmp_path / "out.csv"
    status, out, _ = run(capsys, "read", site, "--as-of", "2025-05-01", "--ledger", path)
    assert status == 0
    with path.open(newline="") as file:
        rows = list(csv.DictReader(file))
    assert tuple(rows[0]) == COLUMNS
    assert [float(r["mass_kg"]) for r in rows] == pytest.approx([40, 76.5, 60])
    assert [r["basis"] for r in rows] == ["weighed", "published density", "weighed"]
    assert [(r["file"], r["sheet"], r["row"]) for r in rows] == [
        ("log.xlsx", "Intake 2025", str(n)) for n in (2, 3, 4)
    ]
    assert "3 used" in out


def test_rows_set_aside_give_status_1_and_say_so(
    site: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (site / "more.csv").write_text(
        "Date,Source,Material,Weight (kg)\n2025-02-04,North kitchen,kitchen scraps,abc\n"
        "2025-02-05,North kitchen,kitchen scraps,5\n"
    )
    status, out, err = run(capsys, "read", site, "--as-of", "2025-05-01")
    assert status == 1
    assert "1 set aside" in out
    assert "more.csv" in out
    assert err == ""
    status, _, err = run(capsys, "read", site, "--json", "--as-of", "2025-05-01")
    assert (status, err) == (1, err) and tells(err, "set aside: 1|divert read FOLDER")


def test_what_conversion_refuses_of_a_text_file_has_no_sheet(
    site: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (site / "more.csv").write_text(
        "Date,Source,Material,Volume (L),Weight (kg)\n2025-02-04,North kitchen,sea glass,10,\n"
    )
    status, out, _ = run(capsys, "read", site, "--json", "--as-of", "2025-05-01")
    assert status == 1
    aside = json.loads(out)["set_aside"]
    assert [(a["file"], a["sheet"], a["row"], a["code"]) for a in aside] == [
        ("more.csv", "", 2, "unknown material")
    ]


def test_mistakes_are_one_line_and_status_2(
    tmp_path: Path, site: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    empty = tmp_path / "empty"
    empty.mkdir()
    bare = tmp_path / "bare"
    bare.mkdir()
    (bare / "site.toml").write_text(TOML)
    cases = [
        ("read", empty), ("read", tmp_path / "nowhere"), ("read", bare),
        ("figures", site, "--period", "2025-Q9"),
        ("figures", site, "--period", "2031"),
        ("figures", site, "--period", "2025", "--sponsor", "Nobody"),
        ("report", site, "--for", "sponsor", "--period", "2025", "--as", "docx"),
    ]  # fmt: skip
    for case in cases:
        status, out, err = run(capsys, *case)
        assert (status, out) == (2, ""), case
        assert len(err.strip().splitlines()) == 1, (case, err)
        assert "Traceback" not in err


def test_help_imports_nothing_heavy() -> None:
    script = (
        "import sys\nfrom divert.cli.commands import main\n"
        "try: main(['--help'])\nexcept SystemExit: pass\n"
        "print([m for m in ('pandas','numpy','pint','weasyprint','matplotlib','babel') "
        "if m in sys.modules])"
    )
    done = subprocess.run(
        [sys.executable, "-c", script], capture_output=True, text=True, check=True
    )
    assert done.stdout.strip().splitlines()[-1] == "[]"


@pytest.mark.parametrize(("audience", "option"), [
    ("board", "--sponsor"), ("grant", "--sponsor"), ("board", "--grant"), ("sponsor", "--grant"),
])  # fmt: skip
def test_a_name_for_another_kind_of_report_is_refused(
    audience: str, option: str, site: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    status, out, err = run(
        capsys, "report", site, "--for", audience, "--period", "2025-Q1", option, "North School"
    )
    assert (status, out, err.count("\n")) == (2, "", 1)
    assert option in err and f"--for {audience}" in err


def test_a_folder_that_is_not_there_is_said_so(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    for command in (("sources",), ("recheck", "report.pdf", "--site")):
        status, out, err = run(capsys, *command, tmp_path / "none")
        assert (status, out, err.count("\n")) == (2, "", 1)
        assert "There is no folder" in err


@pytest.mark.parametrize(("typed", "words"), [
    (("reed", "yard"), "No such command 'reed'."),
    (("read",), "Missing argument 'FOLDER'."),
    (("read", "yard", "--foo"), "No such option"),
    (("report", "yard", "--period", "2025"), "Choose from: sponsor, grant, board."),
    (("report", "yard", "--for", "boss", "--period", "2025"), "'boss'"),
    (("read", "yard", "--as-of", "2025-02-30"), '"2025-02-30" is not a day'),
])  # fmt: skip
def test_a_slip_in_what_was_typed_is_one_line(
    typed: tuple[str, ...], words: str, capsys: pytest.CaptureFixture[str]
) -> None:
    status, out, err = run(capsys, *typed)
    assert (status, out, err.count("\n")) == (2, "", 1)
    assert words in err and "--help` says what there is" in err


def test_the_sites_language_is_spoken_where_a_command_cannot_go_on(
    site: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    toml = site / "site.toml"
    toml.write_text(TOML.replace("[landfill]", 'language = "fr"\n[landfill]'))
    for more in ((), ("--as-issued",)):
        status, out, err = run(
            capsys, "figures", site, "--period", "2025-Q7", "--as-of", "2025-05-01", *more
        )
        assert (status, out, err.count("\n")) == (2, "", 1)
        assert err.startswith("La période")
    status, out, _ = run(capsys, "figures", site, "--period", "2025-Q1", "--as-of", "2025-05-01")
    assert status == 0 and "pesé" in out and "weighed" not in out


def test_help_and_version_are_no_slips(capsys: pytest.CaptureFixture[str]) -> None:
    for typed in (("--help",), ("report", "--help"), ("--version",)):
        status, out, err = run(capsys, *typed)
        assert (status, err) == (0, "") and out
    status, out, err = run(capsys)
    assert (status, out) == (2, "") and "recheck" in err  # the commands there are


def test_a_run_that_is_stopped_says_so(
    site: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    def stopped(*_: object, **__: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr("divert.inventory.open_site.open_site", stopped)
    status, out, err = run(capsys, "read", site)
    assert (status, out, err.strip()) == (2, "", "Stopped.")


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="a device that is always full")
def test_a_full_disk_behind_the_output_is_one_line(site: Path) -> None:
    with Path("/dev/full").open("w") as full:
        ran = subprocess.run(
            [sys.executable, "-m", "divert", "read", str(site), "--json"],
            stdout=full, stderr=subprocess.PIPE, text=True, timeout=60, check=False,
        )  # fmt: skip
    assert (ran.returncode, ran.stderr.count("\n")) == (2, 1)
    assert "No space left" in ran.stderr and "foresee" not in ran.stderr


def test_sources_prints_value_document_and_standing(capsys: pytest.CaptureFixture[str]) -> None:
    status, out, _ = run(capsys, "sources")
    assert status == 0
    assert "composting.n2o" in out
    assert "IPCC" in out
    assert "memory" in out
    status, out, _ = run(capsys, "sources", "--json")
    assert {"key", "document", "table", "year", "standing"} <= set(json.loads(out)["sources"][0])


def test_the_version_is_told_without_an_installation(capsys: pytest.CaptureFixture[str]) -> None:
    status, out, _ = run(capsys, "--version")
    assert status == 0
    assert out.strip().endswith(f"version {divert.__version__}")
