"""Only the sheets that a change touches are read again, and the result is that of a whole reading."""

from __future__ import annotations

from pathlib import Path

import pandas as pd
import pytest
from two_givers import DAY, TWO_GIVERS, write_log

from divert.ingest.cells_held import CellsHeld
from divert.ingest.sheets_held import SheetsHeld
from divert.page.again import read_again
from divert.site.change import AddTo, Edit, NewEntry, SetKey, plan, write

HEAD = ("Date", "From", "What", "Weight (kg)", "Notes")
SHEETS = {
    "Jan": [("2025-01-06", "Alder Street", "scraps", 10, ""), ("2025-01-07", "Mill Lane", "scraps", 4, "")],
    "Feb": [("2025-02-03", "Aldr Street", "scraps", 8, ""), ("2025-02-04", "Mill Lane", "leafs", 3, "")],
    "Mar": [("2025-03-03", "Mill Lane", "scraps", 5, "not weighed twice?"), ("2025-03-04", "Old Quay", "scraps", 6, "")],
}  # fmt: skip
# What is changed, and the sheets that are read again for it.
CHANGES: dict[str, tuple[Edit, set[str]]] = {
    "another spelling": (AddTo("source", "Alder Street", "also", ("Aldr Street",)), {"Feb"}),
    "a spelling that stands nowhere": (AddTo("source", "Mill Lane", "also", ("Zephyr",)), set()),
    "a new source": (NewEntry("source", {"name": "Old Quay"}), {"Mar"}),
    "what one sheet holds": (SetKey("sheet", {"file": "log.xlsx", "sheet": "Feb"}, "holds", "removed"), {"Feb"}),
    "the word of one column": (SetKey("sheet", {"file": "log.xlsx", "sheet": "Jan"}, "columns.source", "E"), {"Jan"}),
    "a setting that all are read by": (SetKey("site", "", "dates", "day first"), {"Jan", "Feb", "Mar"}),
    "the site's name, which stands nowhere": (SetKey("site", "", "name", "Otter Yard"), set()),
    "the site's name, which stands in a note": (SetKey("site", "", "name", "weighed twice"), {"Mar"}),
    "where it went": (SetKey("material", "scraps", "before", "composted"), set()),
}  # fmt: skip


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    (tmp_path / "site.toml").write_text(TWO_GIVERS, encoding="utf-8")
    write_log(tmp_path, {name: [HEAD, *rows] for name, rows in SHEETS.items()})
    return tmp_path


@pytest.fixture
def proposed(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """Return the names of the sheets that are gone through, as they are."""
    import divert.ingest.plan.sheets as sheets

    gone_through: list[str] = []
    real = sheets.propose

    def noted(sheet, *rest):  # type: ignore[no-untyped-def]
        if sheet.file in (
            "log.xlsx",
            "late.csv",
        ):  # and no specimen that a reading proves itself on
            gone_through.append(sheet.name)
        return real(sheet, *rest)

    monkeypatch.setattr(sheets, "propose", noted)
    monkeypatch.setenv("DIVERT_CACHE", "off")
    return gone_through


@pytest.mark.parametrize("what", CHANGES)
def test_a_change_reads_what_it_touches_and_gives_what_a_whole_reading_gives(
    folder: Path, proposed: list[str], what: str
) -> None:
    edit, touched = CHANGES[what]
    cells = CellsHeld(sheets=SheetsHeld())
    _, before = read_again(folder, DAY, cells, None)
    assert set(proposed) == {"Jan", "Feb", "Mar"}
    proposed.clear()
    write(folder, plan(folder, [edit]))
    _, quick = read_again(folder, DAY, cells, before)
    assert set(proposed) == touched
    _, whole = read_again(folder, DAY, CellsHeld(), None)
    pd.testing.assert_frame_equal(quick.ledger, whole.ledger)
    pd.testing.assert_frame_equal(quick.set_aside, whole.set_aside)
    assert quick.findings == whole.findings
    assert quick.reading.sheets == whole.reading.sheets


def test_a_saved_file_is_read_and_the_others_are_not(folder: Path, proposed: list[str]) -> None:
    cells = CellsHeld(sheets=SheetsHeld())
    read_again(folder, DAY, cells, None)
    proposed.clear()
    late = "Date,From,What,Weight (kg)\n2025-04-01,Mill Lane,scraps,7\n"
    (folder / "late.csv").write_text(late, encoding="utf-8")
    _, quick = read_again(folder, DAY, cells, None)
    assert proposed == [""]  # a text file's one sheet has no name
    # the 5 kg wait: a note stands beside them
    assert quick.ledger["mass_kg"].sum() == pytest.approx(10 + 4 + 8 + 3 + 6 + 7)
