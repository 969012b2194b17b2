"""Groups of plain numbers are measured as one long one, and say what each would say alone."""

from __future__ import annotations

from pathlib import Path

import pytest

from divert.core.reading import Reading
from divert.ingest.amounts import alike
from divert.ingest.read import read_folder

from .corpus.book import AS_OF, LB, site
from .same_reading import assert_same_reading

TABLE = """Food scraps (lb)
Source,2026-03-02,2026-03-03,2026-03-04,2026-03-05,2026-03-06
hotel,40,,51,0,20 kg
school,44,30,n/a,38,7
"""


def _reading(folder: Path) -> Reading:
    (folder / "log.csv").write_text(TABLE, encoding="utf-8")
    return read_folder(site(folder), AS_OF)


def test_each_group_keeps_its_own_rows_and_columns(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("DIVERT_CACHE", "off")
    lengths: list[int] = []
    one_by_one = alike.measure

    def counted(group: object, layout: object, meant: object) -> object:
        lengths.append(len(group.first.cells.codes))  # type: ignore[attr-defined]
        return one_by_one(group, layout, meant)  # type: ignore[arg-type]

    monkeypatch.setattr(alike, "measure", counted)
    together = _reading(tmp_path)
    # The columns of 2, 3 and 5 March hold nothing but numbers; the other two are read alone.
    assert sorted(lengths) == [2, 2, 6]
    monkeypatch.setattr(alike, "_LONGEST", 1)
    assert_same_reading(together, _reading(tmp_path))
    found = {
        f"{row.column}{row.row}": round(row.mass_kg / LB) for row in together.entries.itertuples()
    }
    # The title is row 1, so that the hotel's is 3; 20 kg are 44 lb, and the 7 under them 15 lb.
    assert found == {"B3": 40, "B4": 44, "C4": 30, "D3": 51, "E4": 38, "F4": 15, "F3": 44}
