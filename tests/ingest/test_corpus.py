"""Read every workbook of the corpus and hold it against what it truly says."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Callable
from dataclasses import dataclass
from functools import cache

import pandas as pd
import pytest

from divert.core.reading import Reading
from divert.ingest.plan.read_file import read_plans
from divert.ingest.plan.sheet_plan import SheetPlan
from divert.ingest.plan.write_file import plans_text
from divert.ingest.read import read_with_plans
from divert.ingest.written_reading import read_back, written
from divert.site.model import Site

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


# What made-up loads may be asked beside what a case is about; all else it must not ask.
BESIDE = {
    "row repeated exactly", "source not recorded", "unit settled by site.toml", "numbers not read",
    "weight row and volume row of one load", "date order settled by site.toml", "count far outside habit",
    "weighed, not received",
}  # fmt: skip


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


@dataclass(frozen=True)
class Read:
    """A case as it was written and read, once for all that is asked of it."""

    truth: Truth
    own: Site
    reading: Reading
    plans: tuple[SheetPlan, ...]


@pytest.fixture(scope="module")
def read(tmp_path_factory: pytest.TempPathFactory) -> Callable[[Case], Read]:
    @cache
    def once(case: Case) -> Read:
        folder = tmp_path_factory.mktemp(case.name, numbered=True)
        truth = case.make(folder)
        own = site(folder, **truth.site)
        return Read(truth, own, *read_with_plans(own, AS_OF))

    return once


@pytest.mark.parametrize("case", CASES, ids=lambda c: c.name)
def test_reads_what_the_workbook_says(case: Case, read: Callable[[Case], Read]) -> None:
    truth, reading = read(case).truth, read(case).reading
    true, found = Counter(map(_key, truth.entries)), _read_keys(reading.entries)
    missed, wrong = true - found, found - true
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
    asked = {f.code for f in reading.findings if f.level != "note"}
    assert asked <= {*truth.codes, *truth.aside, *BESIDE}


def test_an_answer_settles_its_query_and_leaves_it_listed(read: Callable[[Case], Read]) -> None:
    reading = read(next(c for c in CASES if c.name == "repeated_rows")).reading
    found = {str(f.where): f.answer for f in reading.findings if f.code == "row repeated exactly"}
    assert found["main.xlsx!Log!D3"] == "two runs that day (RT)"
    assert [a for w, a in found.items() if w != "main.xlsx!Log!D3"] == [None]


@pytest.mark.parametrize("case", CASES, ids=lambda c: c.name)
def test_nothing_is_lost(case: Case, read: Callable[[Case], Read]) -> None:
    reading = read(case).reading
    assert reading.seen == len(reading.entries) + len(reading.set_aside) + len(reading.skipped)
    assert sum(s.seen for s in reading.sheets) == reading.seen
    for sheet in reading.sheets:
        assert sheet.seen == sheet.used + sheet.set_aside + sheet.skipped
    for finding in reading.findings:
        assert finding.message.say("en") and finding.where.file
    assert_same_reading(reading, read_back(written(reading)))


@pytest.mark.parametrize("case", CASES, ids=lambda c: c.name)
def test_a_plan_written_and_read_back_reads_the_same(
    case: Case, read: Callable[[Case], Read]
) -> None:
    one = read(case)
    text = plans_text(one.plans)
    assert read_plans(text, one.own.folder) == one.plans
    (one.own.folder / "reading.toml").write_text(text, encoding="utf-8")
    kept, again = read_with_plans(one.own, AS_OF)
    assert again == one.plans
    assert kept.entries.equals(one.reading.entries)
    assert kept.set_aside.equals(one.reading.set_aside)
    assert sorted(map(str, kept.skipped.values.tolist())) == sorted(
        map(str, one.reading.skipped.values.tolist())
    )


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
