"""Removed and residue without a load: shared out by formulas, worked out here by hand."""

import datetime as dt
from dataclasses import replace

import pytest
from made_up import AS_OF, SITE, reading
from recalculated import inner_files, ledger, sheets

import divert.evidence.spreading as spreading
import divert.workbook.book as book
from divert.convert import work_out
from divert.core.findings import CannotRun
from divert.core.period import read_period
from divert.factors import load_factors
from divert.figures.compute import figures_for
from divert.recheck.inputs import inputs_of
from divert.site.model import Source, Sponsor
from divert.workbook.book import evidence_workbook

CLINIC, MILL, HALL = "Clover Clinic", "Marsh Mill", "Old Hall"
YARD = replace(
    SITE, sources=tuple(Source(s) for s in (CLINIC, MILL, HALL)),
    sponsors=(Sponsor("Clinic Trust", supplies=(CLINIC,)),),
)  # fmt: skip


def entry(kind, day, kg, source=None, **more):
    return {"kind": kind, "date": dt.date.fromisoformat(day), "source": source, "mass_kg": kg,
            "material": "kitchen scraps" if kind == "intake" else None, "file": "log.xlsx",
            "sheet": kind, "row": int(kg * 10)} | more  # fmt: skip


# April: the clinic brings 30 kg and the mill 10. 4 kg are picked out of no load in particular, and
# 8 kg of residue leave: 3 to 1 both times, for 30 - 3 = 27 and 10 - 1 = 9 bear the residue.
ROWS = [
    entry("intake", "2025-04-03", 30.0, CLINIC), entry("intake", "2025-04-09", 10.0, MILL),
    entry("removed", "2025-04-20", 4.0), entry("residue", "2025-04-28", 8.0),
]  # fmt: skip


def made(rows, label="2025-Q2", audience="board", sponsor=None):
    found = work_out(YARD, reading(rows), load_factors())
    period = read_period(label, as_of=AS_OF, started=YARD.started)
    figures = figures_for(found, period, AS_OF, sponsor)
    return evidence_workbook(found, {"period": figures}, audience, sponsor), figures


def charged(workbook, kind):
    return {line["source"]: line for line in ledger(sheets(workbook)) if line["kind"] == kind}


def formulas(workbook, sheet):
    return inner_files(workbook)[f"xl/worksheets/sheet{sheet}.xml"].split("<f>")[1:]


def test_shares_are_formulas_with_the_results_of_a_hand():
    workbook, _ = made(ROWS)
    for kind, clinic, mill, over in (
        ("removed, charged", 3.0, 1.0, "loads of the month"),
        ("residue, charged", 6.0, 2.0, "loads of 12 months"),
    ):
        lines = charged(workbook, kind)
        assert lines[CLINIC]["mass_kg"] == pytest.approx(clinic)
        assert lines[MILL]["mass_kg"] == pytest.approx(mill)
        assert {line["spread"] for line in lines.values()} == {over}
        assert lines[CLINIC]["share"] == pytest.approx(0.75)
    # Four shares on the ledger, each from a sum over the ledger on the Factors sheet.
    assert sum(f.startswith("'Factors'!$J$") for f in formulas(workbook, 3)) == 4
    assert (
        sum("SUMIFS(ledger_own_net" in f or "SUMPRODUCT(" in f for f in formulas(workbook, 4)) >= 4
    )


def test_a_changed_cell_moves_the_shares():
    """The clinic's 30 kg become 10: half and half, so 4 kg of residue each."""
    cells = sheets(made(ROWS)[0])
    keys = [str(k) for k in cells["Ledger"][3]]
    cells["Ledger"][4][keys.index("weighed_kg")] = 10.0
    lines = inputs_of(cells).book.lines
    residue = lines[lines["kind"] == "residue, charged"].set_index("source")["mass_kg"]
    assert residue.to_dict() == pytest.approx({CLINIC: 4.0, MILL: 4.0})


def test_a_source_of_its_own_bears_its_own():
    workbook, _ = made([*ROWS, entry("removed", "2025-04-21", 2.0, CLINIC)])
    lines = ledger(sheets(workbook))
    mine = [ln for ln in lines if ln["spread"] == "its source's loads of the month"]
    assert [(ln["source"], ln["mass_kg"]) for ln in mine] == [(CLINIC, 2.0)]
    # 30 - 3 - 2 = 25 and 9 are left to bear the 8 kg of residue.
    residue = charged(workbook, "residue, charged")
    assert residue[CLINIC]["mass_kg"] == pytest.approx(8 * 25 / 34)


def test_loads_after_a_period_that_ends_within_the_month_bear_their_part():
    """Until the 28th the clinic has brought 30 kg; the mill's 30 of the 30th still share the month."""
    rows = [ROWS[0], ROWS[3], entry("intake", "2025-04-30", 30.0, MILL)]
    workbook, figures = made(rows, "2025-04-01/2025-04-28")
    assert figures.mass.received.central == pytest.approx(30.0)
    residue = charged(workbook, "residue, charged")
    assert residue[CLINIC]["mass_kg"] == pytest.approx(4.0)
    assert residue[CLINIC]["spread"] == "loads of 12 months"


def test_a_sponsors_sums_carry_the_formulas_too():
    workbook, _ = made(ROWS, audience="sponsor", sponsor="Clinic Trust")
    residue = charged(workbook, "residue, charged")
    assert residue[CLINIC]["mass_kg"] == pytest.approx(6.0)
    assert {line["spread"] for line in residue.values()} == {"loads of 12 months"}


def test_where_sums_hide_whose_it_was_the_shares_stand_as_values_and_method_says_so():
    """Two kilograms were the mill's alone; in the clinic's workbook mill and hall are one sum."""
    paper = {"material": "office paper"}
    rows = [*ROWS, entry("intake", "2025-04-10", 10.0, HALL, **paper),
            entry("removed", "2025-04-21", 2.0, MILL)]  # fmt: skip
    workbook, _ = made(rows, audience="sponsor", sponsor="Clinic Trust")
    found = sheets(workbook)
    lines = [ln for ln in ledger(found) if ln["kind"] == "removed, charged"]
    standing = [ln for ln in lines if ln["spread"] == ""]
    assert [(ln["material"], ln["mass_kg"]) for ln in standing] == [("kitchen scraps", 2.0)]
    method = "\n".join(str(cell) for row in found["Method"] for cell in row)
    assert f"1 of {len(lines) + 3} shares stand as values" in method


def test_too_many_lines_to_share_out_in_a_sheet_stand_as_values(monkeypatch):
    by_formula, _ = made(ROWS)
    monkeypatch.setattr(spreading, "_MOST_LOOKS", 1)
    workbook, _ = made(ROWS)
    for kind in ("removed, charged", "residue, charged"):
        one, other = charged(by_formula, kind), charged(workbook, kind)
        assert {ln["spread"] for ln in other.values()} == {""}
        for source in one:
            assert other[source]["mass_kg"] == pytest.approx(one[source]["mass_kg"])
    method = "\n".join(str(cell) for row in sheets(workbook)["Method"] for cell in row)
    assert "4 of 4 shares stand as values" in method and "in good time" in method


def test_more_lines_than_a_sheet_has_rows_are_one_line(monkeypatch):
    monkeypatch.setattr(book.sheets, "MOST_ROWS", 10)
    with pytest.raises(CannotRun, match="would have 8 lines; a sheet holds 10 rows") as stop:
        made(ROWS)
    assert "\n" not in str(stop.value)
