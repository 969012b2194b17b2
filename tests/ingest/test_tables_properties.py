"""Whatever stands on a sheet, reading ends in entries and findings, and every row is accounted for."""

from __future__ import annotations

import datetime as dt
from pathlib import Path

from hypothesis import given, settings
from hypothesis import strategies as st
from rounds import rounds

from divert.core.findings import CODES, NOTES, REFUSED
from divert.core.reading import InputFile, Reading
from divert.ingest.grid import Cell, Grid, Opened
from divert.ingest.read import read_opened

from .corpus.book import AS_OF, site

HEADS = [
    "Date", "Source", "Material", "Weight (lb)", "Qty", "Totes", "How full", "Unit", "Container", "Notes", "Total",
    "Gross", "Tare", "Net kg", "Contamination %", "School", "Food scraps", "Volume (yd3)", "Hours", "Cost ($)", "Jan", "Type",
    "Day", "Month", "Year", "Status", "Before", "Product", None,
]  # fmt: skip
cells: st.SearchStrategy[Cell] = st.one_of(
    st.none(),
    st.sampled_from(HEADS),
    st.sampled_from(["hotel", "school", "food scraps", "leaves", "3 totes", "½ pail", "40 lb", "closed", "-", '"', "n/a", "total",
                     "3/4", "2025-03-04", "03/04/2025", "Mar 3", "March", "2024", "kg", "-40", "1 tote + 2 pails", "rejected"]),
    st.integers(-50, 5000),
    st.floats(allow_nan=True, allow_infinity=True),
    st.booleans(),
    st.dates(dt.date(1990, 1, 1), dt.date(2100, 1, 1)),
    st.datetimes(dt.datetime(1990, 1, 1), dt.datetime(2100, 1, 1)),
    st.times(),
    st.timedeltas(dt.timedelta(0), dt.timedelta(days=2)),
    st.text(max_size=12),
)  # fmt: skip
merges = st.lists(
    st.tuples(st.integers(1, 6), st.integers(1, 4), st.integers(1, 6), st.integers(1, 5)),
    max_size=3,
)


def read(rows: list[list[Cell]], name: str = "Log", merged: object = ()) -> Reading:
    """Return the reading of one grid for the corpus's site."""
    spans = tuple((min(a, c), min(b, d), max(a, c), max(b, d)) for a, b, c, d in merged)  # type: ignore[attr-defined]
    grid = Grid("f.xlsx", name, rows, merged=spans)
    return read_opened([Opened(InputFile("f.xlsx", "0", 1), (grid,))], site(Path()), AS_OF)


def hold(reading: Reading) -> None:
    """Check what must hold of every reading."""
    assert set(reading.set_aside["code"]) <= set(REFUSED)
    assert set(reading.skipped["reason"]) <= set(NOTES)
    assert all(f.code in CODES for f in reading.findings)
    assert sum(s.seen for s in reading.sheets) == reading.seen
    for sheet in reading.sheets:
        assert sheet.seen == sheet.used + sheet.set_aside + sheet.skipped
    for finding in reading.findings:
        assert finding.message.say("en")
        assert finding.hint is None or finding.hint.say("en")
        assert finding.about


@settings(max_examples=rounds(40, 120))
@given(
    st.lists(st.lists(cells, max_size=6), max_size=9),
    st.sampled_from(
        ["Log", "Harvest", "Fuel", "Volunteers", "Sales", "Mar 2025", "Hotel", "2024-25", "Lists"]
    ),
    merges,
)
def test_any_cells_are_accounted_for(rows: list[list[Cell]], name: str, merged: object) -> None:
    hold(read(rows, name, merged))


@settings(max_examples=rounds(40, 120))
@given(
    st.permutations(HEADS),
    st.lists(st.lists(cells, min_size=7, max_size=7), min_size=1, max_size=8),
    st.sampled_from(
        ["Log", "Harvest", "Weigh-ins", "Fuel", "Residue", "Workshops", "Sales", "Rejected"]
    ),
)
def test_any_rows_under_ordinary_headings_are_accounted_for(
    heads: list[str | None], rows: list[list[Cell]], name: str
) -> None:
    reading = read([list(heads[:7]), *rows], name)
    hold(reading)
    rows_named = {r + 1 for r in range(len(rows) + 1)}
    told = set(reading.entries["row"]) | set(reading.set_aside["row"]) | set(reading.skipped["row"])
    filled = [
        i + 2
        for i, row in enumerate(rows)
        if any(c is not None and c == c and str(c).strip() for c in row)
    ]
    assert told <= rows_named
    last = max(filled, default=1)
    assert {r for r in filled if r <= last} <= told
