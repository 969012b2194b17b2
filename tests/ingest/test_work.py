"""A sheet that would take too much work is set aside and said, and costs no other sheet anything."""

from __future__ import annotations

from pathlib import Path

import pytest

from divert.core.reading import Reading
from divert.ingest import work
from divert.ingest.read import read_folder

from .corpus.book import AS_OF, LB, site

LOG = "Date,Source,Material,lb\n2026-03-03,hotel,food scraps,40\n2026-03-10,school,food scraps,44\n"


def _reading(folder: Path, wide: int) -> Reading:
    (folder / "log.csv").write_text(LOG, encoding="utf-8")
    columns = range(wide)
    lines = [",".join(["Date", *(f"Stop {n} (lb)" for n in columns)])]
    lines += [",".join([f"2026-03-0{day}", *(str(day + n) for n in columns)]) for day in (1, 2)]
    (folder / "wide.csv").write_text("\n".join(lines) + "\n", encoding="utf-8")
    return read_folder(site(folder), AS_OF)


def _pounds(reading: Reading, file: str) -> list[int]:
    own = reading.entries[reading.entries["file"] == file]
    return [round(kg / LB) for kg in own["mass_kg"]]


def test_too_wide_a_sheet_is_set_aside_and_the_others_are_read(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("DIVERT_CACHE", "off")
    # By hand: a column of three different cells takes 400 + 3 x 42 = 526 to plan, 300 of them 157,800 and
    # 30 of them 15,780; the log's four take about 2,000.
    monkeypatch.setattr(work, "MOST", 100_000)
    reading = _reading(tmp_path, 300)
    (refused,) = (f for f in reading.findings if f.code == "file unreadable")
    assert (refused.where.file, refused.level, refused.blocks) == ("wide.csv", "refused", True)
    assert refused.hint is not None
    assert _pounds(reading, "log.csv") == [40, 44]
    assert set(reading.entries["file"]) == {"log.csv"}
    assert not any(f.code == "file unreadable" for f in _reading(tmp_path, 30).findings)


def test_work_is_counted_for_each_sheet_by_itself(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(work, "MOST", 100)
    work.spend(1_000)  # nobody counts
    for _ in range(2):
        with work.bounded():
            work.spend(60)
            work.spend(40)
    with work.bounded(), pytest.raises(work.TooMuch):
        work.spend(60)
        work.spend(41)
