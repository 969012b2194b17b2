"""Read every workbook of the corpus and hold it against what it truly says."""

from __future__ import annotations

import math
from collections import Counter
from pathlib import Path

import pandas as pd
import pytest

from divert.core.reading import Reading
from divert.ingest.read import read_folder
from divert.ingest.written_reading import read_back, written

from .corpus import ITEMS
from .corpus.book import AS_OF, CASES, Case, Entry, Truth, site
from .same_reading import assert_same_reading

SCORE: Counter[str] = Counter()
FIELDS = {
    "kg": "mass_kg", "m3": "volume_m3", "count": "count", "fill": "fill", "gross": "gross_kg",
    "removed": "removed_kg", "share": "removed_share", "amount": "amount",
}  # fmt: skip
WORDS = (
    "kind",
    "source",
    "material",
    "container",
    "before",
    "name",
    "unit",
    "currency",
    "destination",
)


def _key(entry: Entry) -> tuple[object, ...]:
    numbers = (getattr(entry, name) for name in FIELDS)
    return (
        entry.date.isoformat(),
        *(getattr(entry, w) or "" for w in WORDS),
        *("" if n is None else f"{n:.6g}" for n in numbers),
    )


def _read_keys(entries: pd.DataFrame) -> Counter[tuple[object, ...]]:
    keys: Counter[tuple[object, ...]] = Counter()
    for row in entries.itertuples():
        words = (getattr(row, w) for w in WORDS)
        numbers = (getattr(row, c) for c in FIELDS.values())
        keys[
            (
                row.date.date().isoformat(),
                *(w if isinstance(w, str) else "" for w in words),
                *("" if math.isnan(n) else f"{n:.6g}" for n in numbers),
            )
        ] += 1
    return keys


def check(
    case: Case, folder: Path
) -> tuple[Truth, Reading, Counter[tuple[object, ...]], Counter[tuple[object, ...]]]:
    """Write and read a case; returns the truth, the reading, what was missed and what was wrong."""
    truth = case.make(folder)
    reading = read_folder(site(folder, **truth.site), AS_OF)
    true, read = Counter(map(_key, truth.entries)), _read_keys(reading.entries)
    return truth, reading, true - read, read - true


@pytest.mark.parametrize("case", CASES, ids=lambda c: c.name)
def test_reads_what_the_workbook_says(case: Case, tmp_path: Path) -> None:
    truth, reading, missed, wrong = check(case, tmp_path)
    SCORE["right"] += len(truth.entries) - sum(missed.values())
    SCORE["set aside"] += len(reading.set_aside)
    SCORE["wrong"] += sum(wrong.values())
    assert not wrong, f"read but not so: {wrong}\nmissed: {missed}"
    assert not missed, f"not read: {missed}\nset aside: {reading.set_aside.values.tolist()}"
    assert Counter(reading.set_aside["code"]) == Counter(truth.aside)
    reasons = Counter(reading.skipped["reason"])
    assert {r: reasons[r] for r in truth.skipped} == truth.skipped
    codes = {f.code for f in reading.findings}
    assert set(truth.codes) <= codes, codes
    for code in truth.aside:
        assert code in codes


def test_an_answer_settles_its_query_and_leaves_it_listed(tmp_path: Path) -> None:
    case = next(c for c in CASES if c.name == "repeated_rows")
    reading = check(case, tmp_path)[1]
    found = {str(f.where): f.answer for f in reading.findings if f.code == "row repeated exactly"}
    assert found["main.xlsx!Log!D3"] == "two runs that day (RT)"
    assert [a for w, a in found.items() if w != "main.xlsx!Log!D3"] == [None]


@pytest.mark.parametrize("case", CASES, ids=lambda c: c.name)
def test_nothing_is_lost(case: Case, tmp_path: Path) -> None:
    _, reading, _, _ = check(case, tmp_path)
    assert reading.seen == len(reading.entries) + len(reading.set_aside) + len(reading.skipped)
    assert sum(s.seen for s in reading.sheets) == reading.seen
    for sheet in reading.sheets:
        assert sheet.seen == sheet.used + sheet.set_aside + sheet.skipped
    for finding in reading.findings:
        assert finding.message.say("en") and finding.where.file
    assert_same_reading(reading, read_back(written((reading, ())))[0])


def test_the_corpus_covers_every_item_asked_of_the_reader() -> None:
    covered = {item for case in CASES for item in case.covers}
    assert len(CASES) >= 40
    assert not set(ITEMS) - covered


def test_score(capsys: pytest.CaptureFixture[str]) -> None:
    """Print the score of the whole corpus (run after the others, in file order)."""
    with capsys.disabled():
        print(
            f"\ncorpus of {len(CASES)} workbooks: {SCORE['right']} rows right, "
            f"{SCORE['set aside']} set aside, {SCORE['wrong']} wrong"
        )
    assert SCORE["wrong"] == 0
