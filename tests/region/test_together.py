"""Many yards as a user meets them: a folder or a list, yards that fail, copies, what is printed."""

from __future__ import annotations

import csv
import io
import json
import shutil
from pathlib import Path

import pytest
from made_yards import AS_OF, GROUPS, write_region, write_yard

from divert import together
from divert.cli.commands import main
from divert.core.findings import CannotRun
from divert.core.shipped import sample_folder
from divert.region.listing import read_region
from divert.site.identity import FILE as ID_FILE


@pytest.fixture
def region(tmp_path: Path) -> Path:
    return write_region(tmp_path / "region", 3, 40)


def run(capsys: pytest.CaptureFixture[str], *arguments: object) -> tuple[int, str, str]:
    with pytest.raises(SystemExit) as leaving:
        main([*map(str, arguments), "--as-of", AS_OF.isoformat()])
    out, err = capsys.readouterr()
    return int(leaving.value.code or 0), out, err


def test_a_folder_and_a_list_come_to_the_same(region: Path) -> None:
    by_folder, by_list = (together(w, "2025", AS_OF) for w in (region, region / "yards.toml"))
    assert by_folder.mass == by_list.mass and by_folder.emissions == by_list.emissions
    assert [y.folder for y in by_folder.yards] == ["yard-0000", "yard-0001", "yard-0002"]
    assert (by_list.region, by_list.units) == ("Saltgrass Shore yards", "metric")
    assert {g.name: g.yards for g in by_list.by_group} == dict.fromkeys(GROUPS, 1)
    assert by_folder.whole and not by_folder.failed


def test_yards_that_fail_are_named_and_the_others_counted(
    region: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    before = together(region, "2025", AS_OF).mass.diverted.central
    (region / "yard-0001" / "site.toml").write_text('[site]\nname = "x"\nunits = "furlongs"\n')
    (region / "empty").mkdir()
    (region / "empty" / "site.toml").write_text((region / "yard-0000" / "site.toml").read_text())
    (region / "yard-0002" / "torn.xlsx").write_bytes(b"PK\x03\x04 torn")
    status, out, _ = run(capsys, "together", region, "--period", "2025", "--json")
    said = json.loads(out)
    assert status == 1
    assert [f["folder"] for f in said["failed"]] == ["empty", "yard-0001"]
    assert "no spreadsheets" in said["failed"][0]["sentence"]
    assert "furlongs" in said["failed"][1]["sentence"]
    assert {s["folder"]: s["files_unread"] for s in said["sites"]} == {
        "yard-0000": 0,
        "yard-0002": 1,
    }
    kept = sum(s["diverted"]["central"] for s in said["sites"])
    assert said["mass"]["diverted"]["central"] == pytest.approx(kept)
    assert kept < before


def test_a_copied_folder_is_counted_once_and_a_yard_in_a_yard_not_at_all(region: Path) -> None:
    once = together(region, "2025", AS_OF)
    shutil.copytree(region / "yard-0001", region / "yard-0001 backup")
    write_yard(region / "yard-0002" / "annex", 9, 5)
    found = together(region, "2025", AS_OF)
    assert [(f.folder, f.sentence.values["yard"]) for f in found.failed] == [
        ("yard-0001 backup", "yard-0001"),
        ("yard-0002/annex", "yard-0002"),
    ]
    assert found.yards[0] == once.yards[0] and found.yards[1].received == once.yards[1].received
    # A folder begun as a copy is a yard of its own once its sheets differ and the old id is gone.
    copy = region / "yard-0001 backup"
    (copy / ID_FILE).unlink()
    with (copy / "log.csv").open("a") as log:
        log.write("2025-06-01,Quillmarsh School,kitchen scraps,1,,7\n")
    assert len(together(region, "2025", AS_OF).yards) == 4


def test_copies_are_known_before_any_was_read(tmp_path: Path) -> None:
    write_yard(tmp_path / "a", 1, 10)
    shutil.copytree(tmp_path / "a", tmp_path / "b")
    found = together(tmp_path, "2025", AS_OF)
    assert [y.folder for y in found.yards] == ["a"] and [f.folder for f in found.failed] == ["b"]


def test_the_table_has_a_row_for_each_yard_and_the_total(
    region: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (region / "yard-0001" / "log.csv").unlink()
    status, out, _ = run(capsys, "together", region / "yards.toml", "--period", "2025", "--csv")
    rows = list(csv.DictReader(io.StringIO(out)))
    assert status == 1 and [r["folder"] for r in rows] == [
        "yard-0000",
        "yard-0002",
        "yard-0001",
        "",
    ]
    assert rows[2]["failed"] and rows[2]["group"] == GROUPS[1]
    total = rows[-1]
    parts = [float(r["diverted_kg"]) for r in rows[:2]]
    assert float(total["diverted_kg"]) == pytest.approx(sum(parts)) and total["failed"] == "1"
    assert float(total["low_kg"]) > sum(float(r["low_kg"]) for r in rows[:2])


def test_the_screen_says_it_in_the_yards_language(
    region: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    with (region / "yards.toml").open("a") as listed:
        listed.write('[[yard]]\nfolder = "gone"\n')
    text = (
        (region / "yards.toml")
        .read_text()
        .replace('units = "metric"', 'units = "us"\nlanguage = "fr"')
    )
    (region / "yards.toml").write_text(text)
    status, out, _ = run(capsys, "together", region / "yards.toml", "--period", "2025")
    assert status == 1
    assert "Saltgrass Shore yards" in out and "gone" in out and "Reçu" in out


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ('[[yard]]\nfolder = "a"\ngrup = "x"\n', ["line 3", 'did you mean "group"']),
        ("[[yard]]\n", ["folder is missing"]),
        ('[[yard]]\nfolder = "a"\n[[yard]]\nfolder = "./a"\n', ["line 4", "once"]),
        ('[yards]\nfolder = "a"\n', ["line 1", "yards"]),
        ('[yard]\nfolder = "a"\n', ["line 1", "[[yard]]"]),
        ('[region]\nunits = "stone"\n', ["line 2", '"us", "metric"']),
        ("[region]\n", ["no yard"]),
        ("[region\n", ["line 1", "TOML"]),
    ],
)
def test_a_mistake_in_a_list_is_one_clear_message(
    tmp_path: Path, text: str, said: list[str]
) -> None:
    path = tmp_path / "yards.toml"
    path.write_text(text)
    with pytest.raises(CannotRun) as problem:
        read_region(path)
    for part in said:
        assert part.lower() in str(problem.value).lower()


def test_what_is_neither_a_folder_nor_a_list_is_said(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run(capsys, "together", tmp_path / "none", "--period", "2025")[0] == 2
    status, _, err = run(capsys, "together", tmp_path, "--period", "2025")
    assert status == 2 and "site.toml" in err and err.count("\n") == 1


def test_readme_s_list_is_a_list_of_three_yards(tmp_path: Path) -> None:
    readme = (Path(__file__).parents[2] / "README.md").read_text(encoding="utf-8")
    listed = next(b.split("```")[0] for b in readme.split("```toml\n")[1:] if "[[yard]]" in b)
    (tmp_path / "yards.toml").write_text(listed, encoding="utf-8")
    yards = read_region(tmp_path / "yards.toml").yards
    assert [y.shown for y in yards] == ["kestrel-bend", "alder-corner", "long-meadow"]
    shutil.copytree(sample_folder(), tmp_path / "kestrel-bend")
    found = together(tmp_path / "yards.toml", "2025", AS_OF)
    assert [y.name for y in found.yards] == ["Kestrel Bend Community Farm"]
    assert [f.folder for f in found.failed] == ["alder-corner", "long-meadow"]
