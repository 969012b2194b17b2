"""A long empty stretch in a log: what lies below is told by its own rows, and costs no time."""

from __future__ import annotations

import datetime as dt
from functools import partial
from pathlib import Path

import pytest

from divert.core.reading import Reading
from divert.ingest import read_folder
from divert.ingest.turned import read
from divert.ingest.turned.closed_up import closed_up
from divert.sandbox import frames
from divert.site.read import read_site

SITE = """[site]
name = "Alder Yard"
units = "us"
started = 2025-01-01
[[material]]
name = "scraps"
like = "food-scraps"
before = "landfill"
"""
GAP = 400
ABOVE = (
    "Date,Source,Material,Weight (lb)",
    "2025-03-04,Cafe,scraps,40",
    "2025-03-05,Cafe,scraps,2 totse",
)
BELOW = (
    "2025-03-06,Cafe,scraps,30", "x", "2025-03-07,,scraps,20", ",,,", "2025-03-08,Cafe,scraps,?",
    "Total,,,90",
)  # fmt: skip


def reading(folder: Path) -> Reading:
    folder.mkdir(exist_ok=True)
    (folder / "site.toml").write_text(SITE, encoding="utf-8")
    lines = (*ABOVE, *[",,,"] * GAP, *BELOW)
    (folder / "log.csv").write_text("\n".join(lines) + "\n", encoding="utf-8")
    return read_folder(read_site(folder), dt.date(2025, 6, 1))


def test_rows_below_a_long_gap_are_told_by_their_own_number(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("DIVERT_CACHE", "off")
    as_it_is = reading(tmp_path)
    closed: list[bool] = []

    def soon(job: object) -> object:
        found = closed_up(job, least=50)  # type: ignore[arg-type]
        closed.append(found is not None)
        return found

    monkeypatch.setattr(read, "closed_up", partial(soon))
    shut = reading(tmp_path)
    assert closed == [True]
    for name in ("entries", "set_aside", "skipped"):
        assert getattr(shut, name).equals(getattr(as_it_is, name)), name
    assert shut.findings == as_it_is.findings and shut.sheets == as_it_is.sheets
    # By hand: two rows and a heading above, then the gap; the first below is line 404.
    assert as_it_is.entries["row"].tolist() == [2, 404, 406]
    gap = shut.skipped[shut.skipped["rows"] > 1]
    assert gap[["row", "rows"]].to_numpy().tolist() == [[4, GAP]]


def test_empty_rows_travel_as_their_number() -> None:
    rows = [["a"], *([""] * 3 for _ in range(5_000)), ["", "b"]]
    sent = list(frames.row_frames(iter(rows)))
    assert sum(len(body) for _, body in sent) < 1_000
    back = [row for _, body in sent for row in frames.rows_in(body)]
    assert back == [["a"], *[[]] * 5_000, [None, "b"]]
    with pytest.raises(ValueError):
        frames.rows_in(b'[{"e":99999999999},["a"]]')
