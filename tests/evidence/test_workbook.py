"""What the sheets hold: the six of them, text as text, origins, sources, the mark, the same bytes."""

import datetime as dt
import html
import re
from dataclasses import replace

from made_up import AS_OF, SITE, reading, workings
from recalculated import inner_files, ledger, sheets

from divert.cli.output.figures import figures_csv, issued_csv
from divert.convert import work_out
from divert.core.mark import MARK, marked_rows
from divert.core.period import read_period
from divert.factors import load_factors
from divert.figures.compute import figures_for
from divert.figures.numbers.printed import Printed
from divert.site.model import Source
from divert.workbook.book import evidence_workbook

PERIOD = read_period("2025-Q2", as_of=AS_OF, started=SITE.started)


def workbook(found=None, audience="board", sponsor=None):
    found = found or workings()
    figures = figures_for(found, PERIOD, AS_OF, sponsor)
    return evidence_workbook(found, {"period": figures}, audience, sponsor)


def test_it_opens_on_the_cover_and_ends_on_the_names_that_programs_use():
    assert list(sheets(workbook())) == [
        "Cover", "Summary", "Ledger", "Factors", "Set aside", "Findings", "Method", "Every figure",
    ]  # fmt: skip


def test_the_same_data_give_the_same_bytes():
    again = work_out(SITE, reading(), load_factors())
    assert workbook() == workbook(again)


def test_the_reader_will_know_it_for_our_own():
    assert f'name="{MARK}"' in inner_files(workbook())["docProps/custom.xml"]


def test_the_reader_will_know_tables_of_figures_too():
    """Figures saved as CSV beside the crew's sheets are no sheet of a crew."""
    for table in (figures_csv({"mass": {"received": 1.0}}), issued_csv({"issued": []})):
        first = [line.split(",") for line in table.splitlines()[:1]]
        assert marked_rows(first)
    assert not marked_rows([["date", "source", "value"]])


def test_every_entry_has_its_origin_words_basis_and_key():
    lines = ledger(sheets(workbook()))
    entry = next(line for line in lines if line["basis"] == "measured density")
    assert (entry["file"], entry["sheet"]) != ("", "") and entry["row"] > 1
    assert entry["found"] and entry["factor"].startswith("measured.")
    assert {line["basis"] for line in lines if line["kind"] == "intake"} == {
        "weighed", "measured density", "stated density", "published density",
    }  # fmt: skip


def test_masses_are_formulas_on_the_ledger_and_factor_cells():
    text = inner_files(workbook())["xl/worksheets/sheet3.xml"]
    formulas = re.findall(r"<f>([^<]*)</f>", text)
    assert any(re.fullmatch(r"[A-Z]+\d+\*[A-Z]+\d+\*[A-Z]+\d+", f) for f in formulas)  # volume
    assert any(re.fullmatch(r"'Factors'!\$B\$\d+", f) for f in formulas)  # density


def test_factors_carry_their_source_and_standing():
    rows = sheets(workbook())["Factors"]
    doc = next(row for row in rows if row[0] == "doc.food")
    # DOC of food waste: 0.15 of wet mass (IPCC 2006 Guidelines, Volume 5, Table 2.4).
    assert doc[1] == 0.15
    assert "IPCC 2006" in doc[5] and "read" in doc[6]


HOSTILE = ["=1+1", "+1", "-2", "@SUM(A1)", "\t=2", "http://evil.example/", "=HYPERLINK(\"x\")",
           "{=1}", "mailto:a@b.example"]  # fmt: skip


def test_text_stays_text_whatever_it_starts_with():
    rows = [
        {"kind": "intake", "date": dt.date(2025, 5, n + 1), "source": text, "found": text,
         "material": "kitchen scraps", "mass_kg": 5.0, "file": text, "sheet": text, "row": 2,
         "destination": text}
        for n, text in enumerate(HOSTILE)
    ]  # fmt: skip
    data = workbook(work_out(SITE, reading(rows), load_factors()))
    xml = inner_files(data)
    every_formula = re.findall(r"<f>([^<]*)</f>", "".join(xml.values()))
    # What stands in quotes inside a formula is text that it looks for.
    every_formula = [re.sub(r"(&quot;|\").*?\1", "", formula) for formula in every_formula]
    for text in ("1+1", "HYPERLINK", "SUM(A1)"):
        assert not any(text in formula for formula in every_formula)
    assert not any("hyperlink" in name for name in xml)
    # The cover leads to places of the same book, and nothing leads out of it.
    links = re.findall(r"<hyperlink [^>]*>", "".join(xml.values()))
    assert links and all("location=" in link and "r:id" not in link for link in links)
    found = {line["source"] for line in ledger(sheets(data))}
    assert set(HOSTILE) <= found


def test_what_was_set_aside_and_asked_is_listed():
    found = sheets(workbook())
    assert any("May" in row and 31.0 in row for row in found["Set aside"])
    assert any("row repeated exactly" in row for row in found["Findings"])


def test_method_says_how_and_from_what():
    text = "\n".join(str(cell) for row in sheets(workbook())["Method"] for cell in row)
    assert "not a verified or tradable reduction" in text
    assert "cd" * 32 in text and workings().factors.fingerprint in text
    assert AS_OF.isoformat() in text


def test_no_formula_is_longer_than_a_spreadsheet_program_takes():
    """8,192 characters (Microsoft's published limits of Excel); beyond them a file is called broken."""
    names = [f"{'Very long name of a kitchen ' * 3}{n}" for n in range(30)]
    rows = [
        {"kind": "intake", "date": dt.date(2025, 5, 1 + n % 28), "source": name, "mass_kg": 10.0,
         "material": "kitchen scraps", "file": "log.xlsx", "sheet": "S", "row": n + 2}
        for n, name in enumerate(names)
    ]  # fmt: skip
    many = work_out(
        replace(SITE, sources=tuple(Source(n) for n in names)), reading(rows), load_factors()
    )
    book = workbook(many)
    formulas = re.findall(r"<f>([^<]*)</f>", "".join(inner_files(book).values()))
    assert max(len(html.unescape(f)) for f in formulas) <= 8192
    how = {row[2]: row[10] for row in sheets(book)["Every figure"] if len(row) > 10}
    assert how["participation[1].lost"].startswith("Formula")


def test_a_french_book_says_units_and_standings_in_french():
    site = replace(SITE, language="fr", units="us")
    found = work_out(site, reading(), load_factors())
    figures = figures_for(found, PERIOD, AS_OF)
    printed = (
        Printed("period:mass.received.central", 1814.36948, "short ton", 0.1, "2,0"),
        Printed("period:mass.diverted.central", 907.18474, "short ton", 0.1, "1,0"),
    )
    book = sheets(evidence_workbook(found, {"period": figures}, "board", printed=printed))
    cover = {cell for row in book["Cover"] for cell in row}
    assert {"2,0 tonnes courtes", "1,0 tonne courte"} <= cover
    rows = {row[0]: row for row in book["Factors"]}
    assert rows["doc.food"][4] == "kg C par kg humide"
    assert "lu dans le document" in rows["doc.food"][6]
    levels = {row[0] for row in book["Findings"]}
    assert levels & {"refusé", "question", "remarque"} and not levels & {"refused", "query"}
