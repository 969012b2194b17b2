"""What a sheet holds is never assumed: feedings, tests, rejects and product are no intake."""

from __future__ import annotations

from pathlib import Path

import pytest

from divert.core.reading import Reading
from divert.ingest import read_folder
from divert.site.read import read_site

from .yard import HEAD, LB, ROWS, TODAY, books, yard

WHOLE = 1266 * LB
BED = ("Date", "Bed", "Weight (lb)")
PLAIN = ("Date", "Weight (lb)")

# The tabs that were taken for intake without a word, each with what it may mean.
TABS = {
    "Worm beds": ("feedings", (HEAD, *((*r[:3], 60) for r in ROWS[:4]))),
    "Bed 1": ("feedings", (PLAIN, *((r[0], 40) for r in ROWS[:4]))),
    "Fed to worms": ("feedings", (BED, *((r[0], "Bed 2", 40) for r in ROWS[:4]))),
    "Scale checks": ("tests", (PLAIN, *((r[0], 20) for r in ROWS[:4]))),
    "Rejects": ("removed", (HEAD, *((*r[:3], 3) for r in ROWS[:4]))),
    "Pulled out": ("removed", (HEAD, *((*r[:3], 4) for r in ROWS[:4]))),
    "What we threw away": ("removed", (PLAIN, *((r[0], 5) for r in ROWS[:4]))),
    "Bagged": ("harvest", (PLAIN, *((r[0], 30) for r in ROWS[:4]))),
    "Numbers": ("intake", (PLAIN, *((r[0], 31) for r in ROWS[:4]))),  # nothing speaks at all
}


def read(folder: Path) -> Reading:
    return read_folder(read_site(folder), TODAY)


@pytest.mark.parametrize("tab", TABS)
def test_a_tab_of_something_else_is_set_aside_with_one_question(tmp_path: Path, tab: str) -> None:
    means, rows = TABS[tab]
    folder = yard(tmp_path / "yard")
    books(folder / "log.xlsx", {"Intake": (HEAD, *ROWS), tab: rows})
    reading = read(folder)
    intake = reading.entries[reading.entries["kind"] == "intake"]
    assert float(intake["mass_kg"].sum()) == pytest.approx(WHOLE)
    asked = [f for f in reading.findings if f.level == "refused"]
    assert len(asked) == 1 and asked[0].blocks and asked[0].rows == 4
    assert asked[0].code == "what it holds is not plain" and asked[0].name == f"log.xlsx!{tab}"
    assert len(asked[0].shown) == 3 and "2025-03-03" in str(asked[0].shown[0])
    assert asked[0].choices[0].keys["holds"] == means
    assert reading.held is not None and len(reading.held) == 4


@pytest.mark.parametrize("tab", TABS)
def test_every_choice_offered_settles_it(tmp_path: Path, tab: str) -> None:
    means, rows = TABS[tab]
    for number, holds in enumerate(dict.fromkeys((means, "intake", "nothing"))):
        rule = f'\n[[sheet]]\nfile = "log.xlsx"\nsheet = "{tab}"\nholds = "{holds}"\n'
        folder = yard(tmp_path / str(number), rule)
        books(folder / "log.xlsx", {"Intake": (HEAD, *ROWS), tab: rows})
        reading = read(folder)
        assert not [f for f in reading.findings if f.blocks], holds
        intake = reading.entries[reading.entries["kind"] == "intake"]
        more = sum(r[-1] for r in rows[1:]) * LB if holds == "intake" else 0  # type: ignore[misc]
        assert float(intake["mass_kg"].sum()) == pytest.approx(WHOLE + more), holds


def test_feedings_are_listed_and_count_for_nothing_else(tmp_path: Path) -> None:
    rule = '\n[[sheet]]\nfile = "log.xlsx"\nsheet = "Worm beds"\nholds = "feedings"\n'
    folder = yard(tmp_path / "yard", rule)
    books(folder / "log.xlsx", {"Intake": (HEAD, *ROWS), "Worm beds": TABS["Worm beds"][1]})
    kinds = read(folder).entries["kind"].value_counts()
    assert kinds["intake"] == 12 and kinds["moved"] == 4


@pytest.mark.parametrize(
    "tab", ["2025", "March", "Alder Street", "Sheet1", "Drop-offs", "Food scraps"]
)
def test_an_ordinary_log_is_asked_nothing(tmp_path: Path, tab: str) -> None:
    folder = yard(tmp_path / "yard")
    books(
        folder / "log.xlsx",
        {tab: (("Date", "Material", "Weight (lb)"), *((r[0], r[2], r[3]) for r in ROWS))},
    )
    assert not [f for f in read(folder).findings if f.blocks]


def test_a_bed_named_beside_known_sources_is_a_log(tmp_path: Path) -> None:
    """A log may say into which bed each load went."""
    folder = yard(tmp_path / "yard")
    books(folder / "log.xlsx", {"2025": ((*HEAD, "Bed"), *((*r, "Bed 1") for r in ROWS))})
    reading = read(folder)
    assert not [f for f in reading.findings if f.blocks] and len(reading.entries) == 12
