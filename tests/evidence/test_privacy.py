"""What leaves the house: everyone else's loads only as monthly sums, no notes, no initials."""

import io
import json
import re
from dataclasses import replace
from functools import lru_cache

import pytest
from made_up import AS_OF, OWN, SECRET_NOTE, SITE, SOURCES, reading, workings
from recalculated import inner_files, ledger, sheets

from divert.convert import work_out
from divert.core.period import read_period
from divert.evidence.record import record_of, sealed
from divert.factors import load_factors
from divert.figures.compute import figures_for
from divert.figures.numbers.printed import Printed
from divert.site.model import Answer, Bed, Report
from divert.workbook.book import evidence_workbook

PERIOD = read_period("2025-Q2", as_of=AS_OF, started=SITE.started)
SCHOOL = "Quillmarsh School"
OTHERS = [name for name in SOURCES if name != OWN]
PRINTED = (Printed("period:mass.diverted.central", 1.0, "lb", 1.0, "2"),)


def a_page():
    import pikepdf

    with pikepdf.new() as pdf:
        pdf.add_blank_page()
        out = io.BytesIO()
        pdf.save(out, deterministic_id=True)
    return out.getvalue()


@lru_cache
def made(found, audience, sponsor=None):
    figures = {"period": figures_for(found, PERIOD, AS_OF, sponsor)}
    evidence = evidence_workbook(found, figures, audience, sponsor, printed=PRINTED)
    record = record_of(
        a_page(), workings=found, figure_sets=figures, printed=PRINTED, audience=audience,
        sponsor=sponsor,
    )  # fmt: skip
    return evidence, sealed(record, evidence)


def everything(evidence, record):
    """Return every word that leaves: all parts of the workbook, and the record."""
    return "\n".join([*inner_files(evidence).values(), record.decode()])


@pytest.fixture(scope="module")
def sponsors():
    return made(workings(), "sponsor", SCHOOL)


@pytest.mark.parametrize("name", OTHERS)
def test_no_other_source_is_named_anywhere(sponsors, name):
    text = everything(*sponsors)
    assert name.casefold() not in text.casefold()
    # Nor by its other spelling in site.toml, which stands in a file's name.
    assert not re.search(rf"\b{name.split()[0]}\b", text, re.IGNORECASE)


def test_every_other_load_is_a_monthly_sum_without_origin(sponsors):
    lines = ledger(sheets(sponsors[0]))
    theirs = [line for line in lines if line["own"] != "yes"]
    assert theirs
    for line in theirs:
        for column in ("file", "sheet", "row", "column", "found", "count", "container", "fill",
                       "gross_kg", "condition"):  # fmt: skip
            assert line[column] == "", (column, line)
        assert str(line["date"]).endswith("-01")
    assert {line["source"] for line in theirs} == {"other sources", ""}


def test_what_they_bought_earned_and_did_stays_in_the_house(sponsors):
    kinds = {line["kind"] for line in ledger(sheets(sponsors[0]))}
    assert not kinds & {"sale", "activity"}
    assert "Plum & Pear" not in everything(*sponsors)
    figures = json.loads(sponsors[1])["figures"]["period"]
    assert figures["money"] is None and figures["activities"] == []


def test_the_sponsors_own_rows_are_there_in_full(sponsors):
    own = [line for line in ledger(sheets(sponsors[0]))
           if line["own"] == "yes" and line["kind"] == "intake"]  # fmt: skip
    mine = workings().ledger
    mine = mine[(mine["source"] == OWN) & (mine["kind"] == "intake")]
    mine = mine[mine["date"] <= "2025-06-30"]
    assert len(own) == len(mine)
    assert {(line["row"], line["found"]) for line in own} == {
        (float(r), f) for r, f in zip(mine["row"], mine["found"], strict=True)
    }


def test_the_record_holds_no_figure_of_another_source(sponsors):
    figures = json.loads(sponsors[1])["figures"]["period"]
    for parts in (figures["by_source"], figures["previous"]["by_source"]):
        assert {part["source"] for part in parts if part} <= {OWN}


def test_findings_and_set_aside_are_counts(sponsors):
    found = sheets(sponsors[0])
    text = json.dumps([found["Findings"], found["Set aside"]], default=str)
    assert "quantity unreadable" in text and "row repeated exactly" in text
    assert "Rosalind" not in text and "Tern Street" not in text and ".xlsx" not in text


def test_a_sponsor_that_only_funds_sees_sums_only():
    evidence, record = made(workings(), "sponsor", "Two Oaks Credit Union")
    text = everything(evidence, record)
    assert not any(name in text for name in SOURCES)
    assert {line["file"] for line in ledger(sheets(evidence))} == {""}


@pytest.mark.parametrize("audience", ["sponsor", "grant", "board"])
def test_notes_never_leave_unless_the_site_says_so(audience):
    sponsor = SCHOOL if audience == "sponsor" else None
    assert SECRET_NOTE not in everything(*made(workings(), audience, sponsor))
    shared = replace(workings(), site=replace(SITE, report=Report(share_notes=True)))
    assert SECRET_NOTE in everything(*made(shared, audience, sponsor))


def test_a_note_behind_a_quantity_is_cut_off():
    rows = [{"kind": "intake", "date": PERIOD.start, "source": OWN, "mass_kg": 12.0,
             "material": "kitchen scraps", "found": f"12 kg, {SECRET_NOTE}", "note": SECRET_NOTE,
             "file": "log.xlsx", "sheet": "S", "row": 2}]  # fmt: skip
    evidence, _ = made(work_out(SITE, reading(rows), load_factors()), "sponsor", SCHOOL)
    assert [line["found"] for line in ledger(sheets(evidence))] == ["12 kg"]


@pytest.mark.parametrize(
    ("found", "note", "left"),
    [
        ("2 totes (leaking - QZV)", "leaking qzv", "2 totes"),  # as the reader spells a note
        ("3 totes; ask   Rosalind", "ask rosalind", "3 totes"),
    ],
)
def test_a_note_is_cut_off_however_it_stood(found, note, left):
    rows = [{"kind": "intake", "date": PERIOD.start, "source": OWN, "mass_kg": 12.0, "row": 2,
             "material": "kitchen scraps", "found": found, "note": note, "file": "log.xlsx",
             "sheet": "S"}]  # fmt: skip
    evidence, _ = made(work_out(SITE, reading(rows), load_factors()), "board")
    assert [line["found"] for line in ledger(sheets(evidence))] == [left]


def test_words_that_could_not_be_read_stay_in_the_house_also_from_the_board():
    """A cell that is no quantity ("see Rosalind") may be a note: its place says where to look."""
    evidence, _ = made(workings(), "board")
    found = sheets(evidence)
    text = json.dumps([found["Findings"], found["Set aside"]], default=str)
    assert "Rosalind" not in text
    assert any(row[:4] == ["log 2024.xlsx", "May", 31.0, "F"] for row in found["Set aside"])
    shared = replace(workings(), site=replace(SITE, report=Report(share_notes=True)))
    assert "see Rosalind" in everything(*made(shared, "board"))


def telling_yard(**report):
    """A yard whose beds, tours, places, containers and files are called after a source."""
    beds = (Bed("Harrow bed", area_m2=3.0),)
    names = replace(SITE, beds=beds, report=Report(**report))
    base = {"date": PERIOD.start, "file": "harrow_log-2.csv", "sheet": "HARROW days", "row": 2}
    rows = [
        {**base, "kind": "intake", "source": OWN, "material": "kitchen scraps", "mass_kg": 20.0,
         "container": "Harrow cart", "found": "1 Harrow cart", "destination": "Harrow bed"},
        {**base, "kind": "intake", "source": OTHERS[0], "material": "kitchen scraps",
         "mass_kg": 30.0},
        {**base, "kind": "harvest", "material": "castings", "mass_kg": 9.0,
         "destination": "Harrow Lane gardens"},
        {**base, "kind": "activity", "name": "tour for Harrow Lane Brewery", "amount": 2.0,
         "unit": "hours"},
    ]  # fmt: skip
    return work_out(names, reading(rows), load_factors())


@pytest.mark.parametrize(
    ("audience", "sponsor", "report"),
    [("sponsor", SCHOOL, {}), ("grant", None, {"name_sources": False})],
)
def test_what_is_called_after_a_source_does_not_give_it_away(audience, sponsor, report):
    evidence, record = made(telling_yard(**report), audience, sponsor)
    text = everything(evidence, record)
    assert not re.search(r"harrow", text, re.IGNORECASE)
    # The figures still find what they add up, under the other names.
    summary_ = {str(r[2]): r[5] for r in sheets(evidence)["Every figure"] if len(r) > 5}
    assert summary_["harvest[0].mass_kg"] == pytest.approx(9.0)
    if audience == "grant":
        assert summary_["activities[0].amount"] == pytest.approx(2.0)
    assert "harrow_log-2.csv" in everything(*made(telling_yard(), "grant"))


def test_initials_of_answers_never_leave():
    answer = Answer("row repeated exactly: x", "joined carts", by="QZV")
    about = Answer("harrow log.csv!F12", "two loads", by="QZV")
    found = work_out(replace(SITE, answers=(answer, about)), reading(), load_factors())
    text = everything(*made(found, "board"))
    assert "two loads" in text and "QZV" not in text


def test_a_grant_names_sources_unless_told_not_to():
    named = everything(*made(workings(), "grant"))
    assert all(name in named for name in SOURCES)
    quiet = replace(SITE, report=Report(name_sources=False))
    text = everything(*made(work_out(quiet, reading(), load_factors()), "grant"))
    assert not any(name in text for name in SOURCES)
    assert "harrow" not in text.casefold() and "log 2024" not in text
    assert "source 1" in text and "file 1" in text
