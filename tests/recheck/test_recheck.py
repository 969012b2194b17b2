"""A report holds as it was made, and every single alteration of it is found out by name."""

import datetime as dt
import hashlib
import io
import json
import random
import shutil
import subprocess
import sys
import zlib
from pathlib import Path

import pikepdf
import pytest
from made_up import SITE
from tampering import (
    cell,
    in_part,
    in_sheet,
    issued,
    one_digit_redrawn,
    overdrawn,
    parts,
    saved,
    weighed_cell,
    with_evidence,
    with_record,
)
from told import tells

from divert.core.findings import CannotRun
from divert.evidence.attachments import RECORD, attach, attached
from divert.evidence.page_text import even, find_places
from divert.evidence.record import seal
from divert.recheck import child, opening, recheck, recheck_json, recheck_lines
from divert.register import withdraw


@pytest.fixture(scope="module")
def folder(tmp_path_factory):
    return tmp_path_factory.mktemp("site")


@pytest.fixture(scope="module")
def pdf(folder):
    return issued(folder).read_bytes()


@pytest.fixture
def held(tmp_path):
    """Check a report as a user does: the PDF is taken apart in a process of its own."""

    def run(data, site=None):
        path = tmp_path / "report.pdf"
        path.write_bytes(data)
        return recheck(path, site)

    return run


@pytest.fixture
def check(held, monkeypatch):
    """The same with the PDF taken apart here, which is quicker."""

    def here(pdf, _path):
        return json.loads(json.dumps(child.apart(pdf), default=child._plain))

    monkeypatch.setattr(opening, "_apart", here)
    return held


def failing(found):
    return {one.key: str(one.why) for one in found.figures if not one.holds}


def ledger_rows(pdf):
    from recalculated import ledger, sheets

    return ledger(sheets(attached(pdf)["evidence.xlsx"]))


def test_a_report_holds_as_it_was_made(held, pdf, folder):
    found = held(pdf, folder)
    assert found.holds and found.register.agrees
    assert len(found.figures) > 40
    assert sum(one.recomputed for one in found.figures) > 20
    assert found.number == "2025-0001" and found.site == SITE.name
    assert "Holds." in str(next(iter(recheck_lines(found))))
    json.dumps(recheck_json(found), allow_nan=False)


def test_it_needs_no_site_folder_and_no_working_folder(pdf, tmp_path):
    """On another machine: only the PDF, from an empty folder."""
    (tmp_path / "r.pdf").write_bytes(pdf)
    run = subprocess.run(
        [sys.executable, "-c", "from divert.recheck import recheck; print(recheck('r.pdf').holds)"],
        cwd=tmp_path, capture_output=True, text=True, timeout=60, check=True,
        env={"PYTHONPATH": str(Path(__file__).parents[2]), "PATH": "/usr/bin:/bin", "DIVERT_HOME": "off"},
    )  # fmt: skip
    assert run.stdout.strip() == "True"


def test_one_ledger_cell(held, pdf):
    """The heaviest of the school's own weighed loads of the quarter gains 500 kg."""
    rows = ledger_rows(pdf)
    line, _ = max(
        ((n, row) for n, row in enumerate(rows)
         if row["own"] == "yes" and row["weighed_kg"] != "" and str(row["date"]) >= "2025-04-01"),
        key=lambda item: item[1]["weighed_kg"],
    )  # fmt: skip
    place = weighed_cell(line)
    found = held(
        with_evidence(pdf, lambda e: in_sheet(e, "Ledger", lambda x: cell(x, place, "587")))
    )
    bad = failing(found)
    assert "period:supplied.received.central" in bad and "period:mass.received.central" in bad
    assert "the evidence gives" in bad["period:supplied.received.central"]
    # What the load has no part in still holds.
    assert "period:harvest[0].mass_kg.central" not in bad
    assert any("not the one the record speaks of" in str(c) for c in found.complaints)


def test_one_printed_digit(check, pdf):
    record = parts(pdf)[2]
    large = next(p for p in record["printed"] if p["key"].endswith("supplied.diverted.central"))
    altered, reads = one_digit_redrawn(pdf, large["text"])
    found = check(altered)
    assert not found.holds
    bad = failing(found)
    assert large["key"] in bad
    assert reads in bad[large["key"]] and large["text"] in bad[large["key"]]
    assert set(bad) <= {p["key"] for p in record["printed"] if p["text"] == large["text"]}


def test_one_factor(check, pdf):
    from recalculated import sheets

    rows = sheets(attached(pdf)["evidence.xlsx"])["Factors"]
    row = next(n for n, r in enumerate(rows, start=1) if r[0] == "doc.food")
    found = check(
        with_evidence(pdf, lambda e: in_sheet(e, "Factors", lambda x: cell(x, f"B{row}", "0.3")))
    )
    bad = failing(found)
    assert "period:supplied.net_avoided.central" in bad
    assert "period:supplied.diverted.central" not in bad
    assert any("doc.food is 0.3 in the evidence and 0.15 in the record" in str(c)
               for c in found.complaints)  # fmt: skip


@pytest.mark.parametrize("sealed", [False, True])
def test_a_figure_changed_in_the_record(check, pdf, sealed):
    def change(record):
        one = next(p for p in record["printed"] if p["key"] == "period:mass.diverted.central")
        one["value"] *= 1.5

    found = check(with_record(pdf, change, sealed))
    assert "period:mass.diverted.central" in failing(found)
    assert any("changed after it was written" in str(c) for c in found.complaints) != sealed


def test_value_and_text_changed_in_the_record_by_one_who_reseals_it(check, pdf):
    def change(record):
        one = next(p for p in record["printed"] if p["key"] == "period:mass.diverted.central")
        one["value"], one["text"] = 9000 * 0.45359237, "9,000"
        record["figures"]["period"]["mass"]["diverted"]["central"] = one["value"]

    bad = failing(check(with_record(pdf, change, sealed=True)))
    assert "9,000" in bad["period:mass.diverted.central"]


def test_any_word_changed_in_the_record_breaks_its_seal(check, pdf):
    found = check(with_record(pdf, lambda record: record["report"].update(as_of="2025-07-06")))
    assert not found.holds and failing(found) == {}
    (complaint,) = found.complaints
    assert tells(complaint, "record|was changed")


def test_a_result_changed_in_the_summary_only(check, pdf):
    """Cached results are never believed, but the workbook is no longer the one recorded."""
    found = check(with_evidence(pdf, lambda e: in_sheet(
        e, "Every figure", lambda x: x.replace("<v>0.5</v>", "<v>0.4</v>").replace("</f><v>", "</f><v>9", 5))))  # fmt: skip
    assert not found.holds
    assert all(tells(why, "every figure|another result|formula") for why in failing(found).values())
    assert any("not the one the record speaks of" in str(c) for c in found.complaints)


def test_the_end_of_a_range_changed_in_the_evidence(check, pdf):
    from recalculated import sheets

    rows = sheets(attached(pdf)["evidence.xlsx"])["Every figure"]
    row = next(n for n, r in enumerate(rows, start=1) if r[2] == "supplied.diverted")
    found = check(
        with_evidence(
            pdf, lambda e: in_sheet(e, "Every figure", lambda x: cell(x, f"I{row}", "9e5"))
        )
    )
    assert "period:supplied.diverted.high" in failing(found)


def test_a_page_drawn_over_while_its_words_stay(check, pdf):
    found = check(overdrawn(pdf))
    assert not found.holds and failing(found) == {}
    (complaint,) = found.complaints
    assert tells(complaint, "Page 1|drawn otherwise")


def test_a_page_taken_out_is_missing_and_so_are_its_figures(check, pdf):
    with pikepdf.open(io.BytesIO(pdf)) as document:
        del document.pages[1]
        found = check(saved(document))
    (complaint,) = found.complaints
    assert tells(complaint, "Page 2|missing")
    gone = {one.key for one in found.figures if one.page == 2}
    assert gone and set(failing(found)) == gone
    assert all(tells(why, "page 2|missing") for why in failing(found).values())


def test_a_page_put_in_is_said_and_nothing_else(check, pdf):
    with pikepdf.open(io.BytesIO(pdf)) as document:
        document.add_blank_page()
        found = check(saved(document))
    number = len(parts(pdf)[2]["pages"]) + 1
    (complaint,) = found.complaints
    assert tells(complaint, f"Page {number} |not in the report")
    assert failing(found) == {}


def test_a_locked_report_is_one_clear_line(held, pdf):
    with pikepdf.open(io.BytesIO(pdf)) as document:
        locked = saved(document, encryption=pikepdf.Encryption(owner="o", user="u"))
    with pytest.raises(CannotRun, match="opens with a password only"):
        held(locked)


def test_last_bits_of_another_machine_are_no_disagreement(check, pdf):
    """Every number of the record's figures a few units in the last place away."""

    def nudged(value):
        if isinstance(value, float):
            return value * (1 + 6e-16)
        if isinstance(value, dict):
            return {k: nudged(v) for k, v in value.items()}
        return [nudged(v) for v in value] if isinstance(value, list) else value

    assert check(
        with_record(pdf, lambda r: r.update(figures=nudged(r["figures"])), sealed=True)
    ).holds


def test_evidence_and_record_changed_together_and_resealed(check, pdf):
    """One ledger cell, and the record told of the new workbook: the figures give it away."""
    rows = ledger_rows(pdf)
    line = next(n for n, r in enumerate(rows) if r["own"] == "yes" and r["weighed_kg"] != ""
                and str(r["date"]) >= "2025-04-01")  # fmt: skip
    place = weighed_cell(line)
    pages, evidence, record = parts(pdf)
    evidence = in_sheet(evidence, "Ledger", lambda x: cell(x, place, "999"))
    record["evidence_sha256"] = hashlib.sha256(evidence).hexdigest()
    for name in ("key", "signature", "head"):
        record.pop(name, None)
    record["seal"] = seal(record)
    found = check(attach(pages, evidence, json.dumps(record, ensure_ascii=False).encode()))
    assert {str(c).split(" of the ledger")[0] for c in found.complaints} >= {"The column net_kg"}
    assert "period:supplied.received.central" in failing(found)


def test_saved_again_without_a_change_still_holds(check, pdf, folder):
    with pikepdf.open(io.BytesIO(pdf)) as document:
        again = saved(document, object_stream_mode=pikepdf.ObjectStreamMode.disable)
    assert check(again).holds
    # ... but it is not the very file that was issued.
    found = check(again, folder)
    assert not found.holds and not found.register.agrees


def consistently_altered(pdf):
    """A report altered throughout: evidence, its fingerprint and the record's seal agree again."""
    pages, evidence, record = parts(pdf)
    for name in ("key", "signature", "head"):
        record.pop(name, None)
    evidence = in_part(
        evidence, "xl/sharedStrings.xml", lambda x: x.replace("An estimate", "A certainty")
    )
    record["evidence_sha256"] = hashlib.sha256(evidence).hexdigest()
    record["seal"] = seal(record)
    return attach(pages, evidence, json.dumps(record, ensure_ascii=False).encode())


def test_a_consistent_alteration_is_found_out_by_the_register(check, pdf, folder):
    altered = consistently_altered(pdf)
    assert check(altered).holds  # on its own it agrees with itself
    found = check(altered, folder)
    assert not found.holds
    said = " ".join(str(text) for text in found.register.said)
    assert "not the file that was issued as 2025-0001" in said and "evidence" in said


def test_a_number_taken_off_or_made_up_is_found_out_by_the_register(check, pdf, folder):
    for number in (None, "2025-0009"):
        altered = with_record(pdf, lambda r, n=number: r["report"].update(number=n), sealed=True)
        found = check(altered, folder)
        assert not found.holds and not found.register.agrees


def test_a_report_that_the_site_took_back_says_so_and_does_not_hold(check, pdf, folder, tmp_path):
    """What the register says of it later is not in the PDF: without the site it is as it was made."""
    site = tmp_path / "site"
    shutil.copytree(folder, site)
    withdraw(site, "2025-0001", dt.date(2025, 8, 1), "a quarter too early")
    found = check(pdf, site)
    assert found.withdrawn and not found.holds and failing(found) == {}
    assert recheck_json(found)["withdrawn"]
    assert next(iter(recheck_lines(found))).message.startswith("Withdrawn")
    assert not check(pdf).withdrawn


@pytest.mark.parametrize(
    ("data", "says"),
    [
        (b"hello", "is not a PDF"),
        (b"", "is not a PDF"),
        (b"%PDF-1.7\nnothing more", "is damaged"),
    ],
)
def test_what_is_no_report_is_one_clear_line(check, data, says):
    with pytest.raises(CannotRun, match=says):
        check(data)


def test_a_pdf_of_somebody_else_carries_no_evidence(check):
    with pikepdf.new() as document:
        document.add_blank_page()
        empty = saved(document)
    with pytest.raises(CannotRun, match="carries no evidence"):
        check(empty)


def test_a_file_that_is_not_there_is_one_clear_line(tmp_path):
    with pytest.raises(CannotRun, match="cannot be read"):
        recheck(tmp_path / "none.pdf")


def test_a_pdf_cut_short_is_one_clear_line(held, pdf):
    with pytest.raises(CannotRun, match=r"is damaged|carries no evidence"):
        held(pdf[: len(pdf) // 2])


def test_evidence_that_is_no_workbook(check, pdf):
    found = check(with_evidence(pdf, lambda _e: b"no workbook"))
    assert not found.holds
    assert any("cannot be computed from" in str(c) for c in found.complaints)


def test_a_record_that_is_no_record_is_one_clear_line(check, pdf):
    pages, evidence, _ = parts(pdf)
    for record in (
        b"[]",
        b"{",
        b'{"printed": []}',
        b'{"printed": [1], "pages": [], "drawings": []}',
    ):
        with pytest.raises(CannotRun, match="record inside"):
            check(attach(pages, evidence, record))


def test_an_attachment_that_unpacks_for_ever_is_not_opened(held, pdf):
    bomb = zlib.compress(b"\0" * 150_000_000, 9)
    with pikepdf.open(io.BytesIO(pdf)) as document:
        stream = document.attachments[RECORD].obj.EF.F
        stream.write(bomb, filter=pikepdf.Name.FlateDecode)
        swollen = saved(document)
    with pytest.raises(CannotRun, match="unpack"):
        held(swollen)


def test_a_number_is_placed_only_where_it_stands_alone():
    pages = (even("12 of 2,012 and 12.5; then 12 again"),)
    places = find_places(pages, ["12", "12", "2,012"])
    assert [(p.start, p.end) for p in places[:2]] == [(0, 2), (27, 29)]
    assert pages[0][places[2].start : places[2].end] == "2,012"


def test_damage_anywhere_ends_in_findings_or_one_line(held, pdf):
    pick = random.Random(11)
    for _ in range(4):
        data = bytearray(pdf)
        for _ in range(pick.choice((1, 5, 200))):
            data[pick.randrange(len(data))] = pick.randrange(256)
        try:
            list(recheck_lines(held(bytes(data))))
        except CannotRun as stop:
            assert "\n" not in str(stop)
