"""Every question of coverage can be settled: `verdict = "count"` counts its loads, `"leave out"` ends it."""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable, Iterable, Iterator
from dataclasses import replace
from pathlib import Path

import pytest

from divert.core.reading import Reading
from divert.ingest.coverage import cover
from divert.ingest.coverage.doubt import Doubt, Seen
from divert.ingest.read import read_folder
from divert.site.model import Answer, Source

from .corpus import writers
from .corpus.book import AS_OF, site
from .test_explain_or_ask import CASES as OTHERS
from .test_explain_or_ask import MAPLE, Said, d

_THREE = ((d("3-03"), "hotel"), (d("3-10"), "school"), (d("3-17"), "ladle"))


def _beside(heads: list[str], *more: list[object]) -> list[list[object]]:
    rows = [[day, who, "food scraps", *m] for (day, who), m in zip(_THREE, more, strict=False)]
    return [["Date", "Source", "Material", *heads], *rows]


_SOME = (
    "an unknown name between loads ends what the merged heading lent",
    "purchased and wasted",
    "bags by their number",
    "carts by their number beside gross",
    "a year beside a date that says another",
    "an amount for Carried over from Feb",
)
# One sheet for each rule of coverage.


def _log_of(*sources: str) -> list[list[object]]:
    """Return a log of leaves of which the last amount is the sum of the others."""
    rows = [[d(f"3-{3 + n:02}"), s, "leaves", 40 + n] for n, s in enumerate(sources[:-1])]
    whole = sum(40 + n for n in range(len(rows)))
    return [["Date", "Source", "Material", "lb"], *rows, [d("3-31"), sources[-1], "leaves", whole]]


SHEETS = [
    *(said for said in OTHERS if said.name in _SOME),
    Said("names that disagree", [["Quillmarsh School kitchen"], ["Date", "Material", "lb"], [d("3-03"), "leaves", 40],
                                  [d("3-10"), "leaves", 44]], sheet="Harborside Hotel"),
    Said("a status", _beside(["lb", "Status"], [40, "done"], [44, "to come"], [51, "done"])),
    Said("a form's answer", _beside(["lb", "Taken?"], [40, "yes"], [44, "no, glass in it"], [51, "yes"])),
    Said("sales of scraps", [["Food scraps from the stalls"], ["Date", "Source", "lb"], [d("3-03"), "hotel", 40], [d("3-10"), "school", 44]],
         sheet="Sat market"),
    Said("materials in a title", [["F = food scraps, L = leaves"], ["Date", "Source", "lb"], [d("3-03"), "hotel", 40], [d("3-10"), "school", 44]]),
    Said("a sum under a name", _log_of("hotel", "school", "ladle", "Everybody")),
    Said("a note", _beside(["lb", "Notes"], [40, None], [44, "on Tuesday's sheet too"], [51, None])),
    Said("a weight with its box", _beside(["lb", "Notes"], [40, None], [44, "weighed with the tote"], [51, None])),
    Said("pails, or pounds", _beside(["With pail", "Pail alone"], [22, 2], [42, 2], [31, 2])),
    Said("a weight beside a count", _beside(["Totes", "Each"], [2, 20], [1, 19], [3, 22])),
    Said("days by number", [["Arrival", "Where from", "What", "lb"], [5, "hotel", "leaves", 217], [8, "school", "food scraps", 22],
                            [9, "hotel", "coffee", 31]], file="log February 2025.xlsx"),
    Said("the largest row", [["Date", "Source", "Material", "lb"], [d("3-01"), "What we had", "food scraps", 1900],
                             [d("3-03"), "hotel", "food scraps", 40], [d("3-04"), "school", "food scraps", 41],
                             [d("3-05"), "hotel", "coffee", 22], [d("3-06"), "school", "leaves", 71]]),
    Said("an unknown title among others", [["hotel:"], ["Day", "Food scraps (lb)"], [d("3-03"), 72], ["Pine Grove Cafe:"],
                                           ["Day", "Food scraps (lb)"], [d("3-05"), 153]]),
    Said("two sources", [["Date", "Customer", "Source", "Material", "Weight (lb)"], [d("3-03"), "hotel", "school", "leaves", 40],
                         [d("3-10"), "hotel", "hotel", "leaves", 44]]),
    Said("a weight over the table", [["Everything stands on the skid, 38 lb"], ["Date", "Source", "Material", "lb"],
                                     [d("3-03"), "hotel", "leaves", 140], [d("3-10"), "school", "leaves", 144]]),
    Said("remarks where sources stand", [["Date", "From", "Material", "lb"], [d("3-03"), "very wet", "leaves", 40],
                                         [d("3-10"), "two helpers", "leaves", 44]]),
    Said("words beside loads", [["Date", "Team", "lb"], [d("3-03"), "Blue house", 40], [d("3-10"), "Red house", 44]]),
    Said("weekdays", [["Date", "Weekday", "Source", "Material", "lb"], [d("3-03"), "Tue", "hotel", "leaves", 40],
                      [d("3-10"), "Tue", "school", "leaves", 44], [d("3-17"), "Tue", "ladle", "leaves", 51]]),
    Said("units", [["All weights in kg"], ["Date", "Source", "Material", "Weight (lb)"], [d("3-03"), "hotel", "leaves", 40],
                   [d("3-10"), "school", "leaves", 44]]),
    Said("names against the file's", [["Date", "Dropped off by", "Material", "lb"], [d("3-03"), "hotel", "leaves", 40],
                                      [d("3-10"), "Pine Grove Cafe", "leaves", 44], [d("3-17"), "Unit 4B", "leaves", 45]],
         file="From the school.xlsx"),
    Said("trash beside food", [["Date", "Source", "Food scraps (lb)", "Trash (lb)"], [d("3-03"), "hotel", 40, 14],
                               [d("3-10"), "school", 44, 15], [d("3-17"), "ladle", 51, 6]]),
]  # fmt: skip


def _read(said: Said, folder: Path, *answers: Answer) -> Reading:
    path = folder / said.file
    if not path.exists():
        writers.xlsx(path, {said.sheet: said.rows, **said.more}, merge={said.sheet: said.merge})
    usual = site(folder)
    more = (*usual.sources, Source(MAPLE, ("maple elementary",)))
    return read_folder(replace(usual, sources=more, answers=answers), AS_OF)


def _settling(reading: Reading, verdict: str) -> list[Answer]:
    asked = [f for f in reading.findings if f.code == "not explained" and f.level == "refused"]
    return [Answer(f.about, "asked the crew", "RT", dt.date(2026, 3, 1), verdict) for f in asked]


def _waiting(reading: Reading) -> int:
    return int((reading.set_aside["code"] == "not explained").sum())


@pytest.mark.parametrize("said", SHEETS, ids=lambda s: s.name)
def test_an_answer_settles_what_a_table_leaves_unexplained(said: Said, tmp_path: Path) -> None:
    before = _read(said, tmp_path)
    if not _waiting(before):
        return  # read, or asked in other words
    counted = _read(said, tmp_path, *_settling(before, "count"))
    assert _waiting(counted) == 0
    assert len(counted.entries) == len(before.entries) + _waiting(before)
    left = _read(said, tmp_path, *_settling(before, "leave out"))
    assert len(left.entries) == len(before.entries)
    for reading in (counted, left):
        assert all(f.answer for f in reading.findings if f.code == "not explained")


def test_each_rule_of_coverage_is_met_by_one_of_these_sheets(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    met: set[str] = set()

    def noting(rule: Callable[[Seen], Iterable[Doubt]]) -> Callable[[Seen], Iterator[Doubt]]:
        def run(seen: Seen) -> Iterator[Doubt]:
            for doubt in rule(seen):
                met.add(rule.__name__)
                yield doubt

        return run

    rules = {name: getattr(cover, name) for name in ("_OF_ROWS", "_OF_COLUMNS")}
    for name, group in rules.items():
        monkeypatch.setattr(cover, name, tuple(map(noting, group)))
    for number, said in enumerate(SHEETS):
        (tmp_path / str(number)).mkdir()
        _read(said, tmp_path / str(number))
    missing = {rule.__name__ for group in rules.values() for rule in group} - met
    assert missing <= {
        "struck_out",
        "hidden_rows",
        "hidden_amounts",
        "notes_not_understood",
        "lines_against",
    }  # a line no cell tells; only asked
