"""Characters nobody sees can turn a name round or break a file: they reach no report."""

from __future__ import annotations

import csv
import datetime as dt
import zipfile
from pathlib import Path
from xml.etree import ElementTree

import pytest

from divert.core.findings import CannotRun
from divert.core.unseen import without_unseen
from divert.ingest.entries.things import LONGEST_NAME
from divert.inventory.open_site import open_site, period_of
from divert.publish.write import write_reports
from divert.site.read import read_site

HEAD = 'name = "Alder{} Yard"\nunits = "us"\nstarted = 2025-01-01\n'
DAY = dt.date(2025, 12, 31)
# Marks of direction, an escape, a byte order mark, a soft hyphen, a tag and what is no character
# (Unicode Standard 15.0, sections 23.1 to 23.9 and table 2-3, from memory).
UNSEEN = ["\u202e", "\u2066", "\u200f", "\u200b", "\x1b", "\x7f", "\x9b", "\ufeff", "\u00ad",
          "\U000e0041", "\ufffe", "\ufdd0"]  # fmt: skip


def _site(folder: Path, letter: str = "") -> Path:
    folder.mkdir(exist_ok=True)
    (folder / "site.toml").write_text(
        f'[site]\n{HEAD.format(letter)}[[grant]]\nname = "Fund"\n', encoding="utf-8"
    )
    return folder


@pytest.mark.parametrize("letter", UNSEEN)
def test_site_toml_is_asked_to_do_without(letter: str, tmp_path: Path) -> None:
    if letter in "\x1b\x7f":  # the format itself forbids these; an escape brings them in
        letter = f"\\u{ord(letter):04x}"
    with pytest.raises(CannotRun) as refused:
        read_site(_site(tmp_path / "site", letter))
    said = str(refused.value)
    assert "line 2" in said and "characters nobody sees" in said
    assert "\n" not in said and without_unseen(said) == said


@pytest.mark.parametrize("word", ["Žluťák", "農場", "caf\u00e9 nº 2", "o\u200dk", "🌱"])
def test_letters_of_any_language_stay(word: str, tmp_path: Path) -> None:
    assert read_site(_site(tmp_path / "site", word)).name == f"Alder{word} Yard"


def test_names_in_sheets_lose_them_and_are_no_longer_than_can_be_set(tmp_path: Path) -> None:
    folder = _site(tmp_path / "site")
    rows = [("Date", "Source", "Material", "Weight (lb)")]
    rows += [("2025-03-04", f"Bend {x}Row{x}", f"scraps{x}", "40") for x in UNSEEN]
    rows.append(("2025-03-05", "y" * 5000, "x" * 5000, "40"))
    with (folder / "log.csv").open("w", newline="", encoding="utf-8") as out:
        csv.writer(out).writerows(rows)
    workings = open_site(folder, as_of=DAY)
    assert set(workings.ledger["source"][:-1]) == {"Bend Row"}
    longest = str(workings.ledger["material"].iloc[-1])
    assert longest == "x" * (LONGEST_NAME - 1) + "…"
    period = period_of(workings, "2025", DAY)
    paths = write_reports(workings, "grant", period, DAY, formats=("html", "xlsx"), out=tmp_path)
    (page,) = (path for path in paths if path.suffix == ".html")
    text = page.read_text(encoding="utf-8").replace("\n", "").replace("\u00ad", "")
    assert without_unseen(text) == text
    (book,) = (path for path in paths if path.suffix == ".xlsx")
    with zipfile.ZipFile(book) as package:
        for name in package.namelist():
            ElementTree.fromstring(package.read(name))  # each part is well formed
