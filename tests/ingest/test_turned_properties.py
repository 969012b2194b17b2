"""A log reads the same however it lies; a line that is written reads back; no sheet of forms makes it raise."""

from __future__ import annotations

import datetime as dt
from collections import Counter
from pathlib import Path

from hypothesis import given, settings
from hypothesis import strategies as st
from rounds import rounds

from divert.core.reading import Reading
from divert.ingest.grid import Cell
from divert.ingest.known import know
from divert.ingest.turned.diary import day_begun
from divert.ingest.turned.line import Line, may_count, read_line
from divert.ingest.turned.weekdays import day_and_rest

from .corpus.book import COFFEE, FLORIST, FOOD, HOTEL, LADLE, LEAVES, SCHOOL, site
from .test_tables_properties import hold, read

KNOWN = know(site(Path()))
SOURCES = {"hotel": HOTEL, "Copper Ladle": LADLE, "school": SCHOOL, "Petal and Stem": FLORIST}
MATERIALS = {"food scraps": FOOD, "coffee grounds": COFFEE, "leaves": LEAVES}
AMOUNTS = ["3 totes", "½ pail", "40 lb", "two pails", "12.5 kg", "2 totes, 3/4 full", "1 tote + 2 pails"]  # fmt: skip
SINGLE = [a for a in AMOUNTS if "+" not in a]  # of two, nobody can tell which a material names
HEADS = ["Date", "Source", "Material", "Amount", "Notes"]
entries = st.tuples(
    st.dates(dt.date(2023, 1, 1), dt.date(2025, 12, 31)),
    st.sampled_from([*SOURCES, "Zed's place", None]),
    st.sampled_from([*MATERIALS, None]),
    st.sampled_from([*AMOUNTS, "closed", "some"]),
    st.sampled_from(["wet", "RT", None]),
)
quick = settings(max_examples=rounds(20, 40))


def _told(reading: Reading) -> tuple[Counter[object], Counter[str], int]:
    columns = [
        "date",
        "source",
        "material",
        "container",
        "count",
        "fill",
        "mass_kg",
        "note",
        "found",
    ]
    used = Counter(tuple(map(str, row)) for row in reading.entries[columns].to_numpy())
    left = sum(r in ("closed", "nothing delivered") for r in reading.skipped["reason"])
    return used, Counter(reading.set_aside["code"]), left


@quick
@given(st.lists(entries, min_size=2, max_size=8))
def test_a_table_reads_the_same_upright_and_on_its_side(rows: list[tuple[Cell, ...]]) -> None:
    """Of three entries or fewer, a blank name is a blank on its side: nobody can tell that it is not."""
    upright: list[list[Cell]] = [list(HEADS), *map(list, rows)]
    turned = [list(column) for column in zip(*upright, strict=True)]
    if len(rows) < 4:
        upright = [
            ["?" if c is None and i in (1, 2) else c for i, c in enumerate(r)] for r in upright
        ]
    on_side = read(turned)
    assert _told(on_side) == _told(read(upright))
    hold(on_side)
    for place in on_side.entries[["row", "column", "found"]].itertuples():
        assert turned[place.row - 1][ord(place.column) - ord("A")] == place.found


@quick
@given(st.lists(entries, min_size=1, max_size=6), st.integers(0, 2), st.booleans())
def test_slips_say_what_their_table_says(
    rows: list[tuple[Cell, ...]], gap: int, titled: bool
) -> None:
    """A form left blank in one place stays blank there: the table has every cell filled, or "?"."""
    slips: list[list[Cell]] = []
    for row in rows:
        slips += [["Drop-off slip"]] * titled
        slips += [[f"{head}:", cell] for head, cell in zip(HEADS, row, strict=True)]
        slips += [[] for _ in range(gap)]
    table = [["?" if c is None and i in (1, 2) else c for i, c in enumerate(r)] for r in rows]
    if not any(r[1] or r[2] for r in rows):
        return  # of nothing and from nobody: no slip of a load
    read_slips = read(slips)
    assert _told(read_slips) == _told(read([list(HEADS), *table]))
    hold(read_slips)


@given(
    st.sampled_from(list(SOURCES)),
    st.sampled_from(list(MATERIALS)),
    st.sampled_from(SINGLE),
    st.sampled_from(["{a} {m} from {s}", "{s}: {a} {m}", "{a} de {m} de {s}", "{s}, {m}, {a}", "{a} of {m} ({s})"]),
)  # fmt: skip
def test_a_line_that_is_written_reads_back(source: str, material: str, amount: str, way: str) -> None:  # fmt: skip
    line = way.format(s=source, m=material, a=amount.replace(", ", " "))
    read_back = read_line(line, KNOWN)
    assert read_back is not None, line
    assert (read_back.source, read_back.material) == (SOURCES[source], MATERIALS[material])
    assert read_back.amount.replace(",", "") == amount.replace(",", "")


@given(st.sampled_from(SINGLE), st.sampled_from(["returned", "not", "to", "needs", "for", "lost", "or 3 totes"]))  # fmt: skip
def test_a_word_that_joins_nothing_leaves_a_line_unread(amount: str, word: str) -> None:
    for line in (f"{word} {amount} leaves hotel", f"hotel {amount} leaves {word}"):
        assert read_line(line, KNOWN) is None
        assert may_count(line, KNOWN)


def test_a_mark_is_a_line_of_its_own() -> None:
    assert read_line("closed for snow", KNOWN) == Line("closed for snow")
    assert read_line("closed, 2 totes outside", KNOWN) is None


@given(st.one_of(st.text(max_size=60), st.text("0123456789 .,/-:½marhotelupils()", max_size=40)))
def test_no_text_makes_a_line_or_a_square_raise(text: str) -> None:
    read_line(text, KNOWN)
    may_count(text, KNOWN)
    day_begun(text)
    day_and_rest(text)


LABELS = [
    "Date:", "Date", "From:", "What:", "Amount:", "Weight (lb)", "Source", "Material", "Notes:", "Totes", "Total", "Drop-off slip",
    "Date: March 3, 2025", "What: coffee", "Mon", "Tue", "Wed", "Thu", "Fri", "Day", "Food scraps:",
]  # fmt: skip
forms: st.SearchStrategy[Cell] = st.one_of(
    st.none(),
    st.sampled_from(LABELS),
    st.sampled_from(["hotel", "leaves", "3 totes", "20 lb", "closed", "3 March 2025", "2 totes leaves from hotel", "Total 4 totes",
                     "March 3: hotel 2 totes leaves", "lb", "Thank you", "4 - 1 pail", "½"]),
    st.integers(1, 31),
    st.dates(dt.date(2025, 3, 1), dt.date(2025, 3, 31)),
)  # fmt: skip
WEEK: list[Cell] = ["Mon", "Tue", "Wed", "Thu", "Fri"]


@settings(max_examples=rounds(25, 60))
@given(
    st.lists(st.lists(forms, min_size=1, max_size=5), max_size=8),
    st.sampled_from(["forms", "slips", "calendar", "diary"]),
    st.sampled_from(["Log", "March 2025", "2025", "Hotel", "Harvest"]),
)
def test_any_forms_are_accounted_for(rows: list[list[Cell]], kind: str, name: str) -> None:
    if kind == "slips":
        rows = [[label, *row[:1]] for label, row in zip(LABELS[:5] * 2, rows, strict=False)]
    elif kind == "calendar":
        weeks: list[list[Cell]] = [[3, 4, 5, 6, 7], [10, 11, 12, 13, 14], [17, 18, 19, 20, 21]]
        rows = [
            WEEK,
            *(line for week, row in zip(weeks, rows, strict=False) for line in (week, row)),
        ]
    elif kind == "diary":
        rows = [row[:1] for row in rows]
    reading = read(rows, name)
    hold(reading)
    assert reading.entries["row"].between(1, len(rows)).all()
    for place in reading.entries[["row", "column"]].itertuples():
        assert rows[place.row - 1][ord(place.column) - ord("A")] is not None
