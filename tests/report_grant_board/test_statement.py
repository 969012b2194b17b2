"""The grant statement: tables that add up, every figure one of the figures, all that it must say."""

from __future__ import annotations

import csv
import dataclasses
import datetime as dt
import io
import re
from html.parser import HTMLParser

import pytest
import statements
import yards
from statements import GRANTS, grant_page
from told import tells

from divert.core.mark import marked_rows
from divert.core.range import Range
from divert.figures.as_json import to_json
from divert.figures.contract import DiversionRate, Target
from divert.figures.figure_sum import value_of
from divert.figures.history import History
from divert.figures.numbers.money import cost_per_ton
from divert.figures.numbers.printed import Printer
from divert.figures.numbers.scales import FACTOR, Scale
from divert.figures.numbers.tables import on_the_point
from divert.figures.numbers.written import rounded_text
from divert.report.grant.main_csv import grant_csv
from divert.report.grant.promised import promised_table


class Tables(HTMLParser):
    """Gathers tables as rows of cell texts."""

    def __init__(self) -> None:
        super().__init__()
        self.tables: list[list[list[str]]] = []
        self._open = False

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        if tag == "table":
            self.tables.append([])
        elif tag == "tr":
            self.tables[-1].append([])
        elif tag in ("td", "th"):
            self.tables[-1][-1].append("")
            self._open = True

    def handle_endtag(self, tag: str) -> None:
        if tag in ("td", "th"):
            self._open = False

    def handle_data(self, data: str) -> None:
        if self._open:
            self.tables[-1][-1][-1] += data.strip("\n")


def tables(page: str) -> list[list[list[str]]]:
    """Return every table of a page."""
    parser = Tables()
    parser.feed(page)
    return parser.tables


def number(text: str) -> float:
    """Return a printed number; a dash for an empty column is 0, as is what is under a unit."""
    return (
        0.0
        if text in ("–", "", "nearly 0") or text.startswith("under")
        else float(text.replace(",", "").replace("\u2212", "-"))
    )


def lines(page: str) -> dict[str, list[float]]:
    """Return the mass and gas lines of the main table, by their first word or words."""
    wanted = ("Received", "less ", "Diverted from", "Landfill methane", "Net greenhouse")
    return {
        row[0]: [number(cell) for cell in row[1:]]
        for row in tables(page)[0] if row[0].startswith(wanted)
    }  # fmt: skip


@pytest.mark.parametrize("case", GRANTS)
def test_every_figure_is_rounded_by_itself_and_a_table_that_does_not_add_says_so(case: str) -> None:
    page, printer = grant_page(case)
    for one in printer.printed:
        assert one.text == rounded_text(one.value / FACTOR[one.unit], one.unit, one.quantum, "en")
    found = lines(page)
    taken_off = [v for k, v in found.items() if k.startswith("less") and "gases" not in k
                 and "fuel" not in k]  # fmt: skip
    assert len(taken_off) == 3
    down = [r - sum(part) for r, *part in zip(found["Received"], *taken_off, strict=True)]
    adds = down == pytest.approx(found["Diverted from disposal"], abs=1e-9) and all(
        sum(parts) == pytest.approx(total, abs=1e-9) for *parts, total in found.values()
    )
    table = page.split("<table", 2)[1] + page.split("</table>", 2)[1].split("<table")[0]
    assert adds or tells(table, "may not add|rounding")


def test_the_total_is_the_figures_rounded_once() -> None:
    # Received July 2024 to June 2025 by the table in make_figures: 10,840 lb of 2024 and 12,060 lb
    # of 2025, 22,900 lb = 11.45 short tons, printed with three digits: 11.5 (11.45 rounds away).
    assert sum(yards.yard.RECEIVED_LB[2024][6:]) == 10840
    assert sum(yards.yard.RECEIVED_LB[2025][:6]) == 12060
    assert lines(grant_page("nothing issued")[0])["Received"][-1] == 11.5


@pytest.mark.parametrize("case", GRANTS)
def test_materials_agree_with_the_main_table(case: str) -> None:
    page = grant_page(case)[0]
    table = next(t for t in tables(page) if t[0][0] == "Material")
    whole = [number(c) for c in table[-1][1:]]
    main = lines(page)
    assert whole[:-1] == main["Diverted from disposal"]
    assert whole[-1] == main["Received"][-1]


def test_the_headline_strip_and_table_say_the_same_tonne() -> None:
    page = grant_page("nothing issued")[0]
    total = lines(page)["Diverted from disposal"][-1]
    assert f"{total}" in re.search(r"<h1>.*?</h1>", page, re.S)[0]
    assert f"Diverted {total}<" in page


@pytest.mark.parametrize("case", GRANTS)
def test_every_marked_figure_is_one_of_the_figures(case: str) -> None:
    figures, history = GRANTS[case]
    sets = {"period": to_json(figures.period), "total": to_json(figures.total)}
    if figures.earlier is not None:
        sets["earlier"] = to_json(figures.earlier)
    if history.previously is not None:
        sets["previous"] = dict(history.previously.figures)
    page, printer = grant_page(case)
    marks = re.findall(r'<data class="figure" value="([^"]*)" data-key="([^"]*)">', page)
    assert len(marks) > 100
    for value, key in marks:
        assert value_of(key, sets) == pytest.approx(float(value), rel=1e-8, abs=1e-9), key
    for figure in printer.printed:
        assert value_of(figure.key, sets) == pytest.approx(figure.value, rel=1e-8, abs=1e-9)


def test_what_was_reported_and_what_moved_stand_apart() -> None:
    page = grant_page("restated")[0]
    heads = tables(page)[0][0]
    assert heads[1:] == ["Previously reported", "Restated since", "This period", "Total"]
    moved = next(t for t in tables(page) if "Rows added" in t[0])
    assert moved[0][1:] == ["As reported then", "Rows added", "Factors changed", "Now"]
    (row,) = [row for row in moved if row[0].startswith("Diverted")]
    was, *parts, now = (number(cell.replace("+", "")) for cell in row[1:])
    assert was + sum(parts) == pytest.approx(now, abs=1e-9)
    assert "rows added: 12." in page.casefold()  # the entries behind it
    assert "2025-0002" in page and "withdrawn" in page


def test_an_unchanged_history_needs_no_column_of_changes() -> None:
    heads = tables(grant_page("unchanged")[0])[0][0]
    assert heads[1:] == ["Previously reported", "This period", "Total"]


def test_the_csv_says_what_the_table_says() -> None:
    figures, history = GRANTS["restated"]
    data = grant_csv(figures, history, statements.printer_of(statements.SITE))
    rows = list(csv.reader(io.StringIO(data.decode("utf-8-sig"))))
    assert marked_rows(rows)  # so that it is never read as data
    by_name = {row[0]: row[2:] for row in rows[2:]}
    printed = lines(grant_page("restated")[0])
    assert [float(n) for n in by_name["Diverted"]] == printed["Diverted from disposal"]
    assert [float(n) for n in by_name["Net greenhouse gases avoided"]] == (
        printed["Net greenhouse gases avoided"]
    )
    assert all(len(row) == len(rows[1]) for row in rows[1:])
    # Ranges stand where the page has them; a central value lies within its own.
    ranged = {name.split(":")[0] for name in by_name if ":" in name}
    assert ranged == {"Diverted", "Net greenhouse gases avoided"}
    for name in ranged:
        low, high = (
            [float(n) for n in cells if n]
            for key, cells in by_name.items() if key.startswith(f"{name}: ")
        )  # fmt: skip
        assert low[-1] <= float(by_name[name][-1]) <= high[-1]
    # 52 weeks of July 2024 to June 2025 less three without entries (see yards.py).
    assert (by_name["Weeks in all"][-1], by_name["Weeks with entries"][-1]) == ("52", "49")


def test_the_csv_stays_text_and_plain_in_another_language() -> None:
    site = dataclasses.replace(statements.SITE, language="fr", units="metric")
    data = grant_csv(statements.FULL, History(), statements.printer_of(site))
    assert data.startswith(b"\xef\xbb\xbf")
    rows = list(csv.reader(io.StringIO(data.decode("utf-8-sig"))))
    for row in rows[2:]:
        for cell in row[2:]:
            assert cell == "" or re.fullmatch(r"-?\d+(\.\d+)?", cell), cell
    assert not any(cell[:1] in "=+@\t" for row in rows for cell in row if cell)


def test_it_says_what_a_funder_asks_for() -> None:
    page = grant_page("nothing issued")[0]
    for wanted in (
        "Weeks missing", "Volunteer hours", "per short ton (2,000\u00a0lb)",
        "Set aside",
        "Signature", "Prepared by", "not a verified or tradable reduction", "Left out of the gases",
        "Within 20 years", "DOCf", "40", "IPCC 2006 Guidelines",
    ):  # fmt: skip
        assert wanted in page
    for never in ("certified", "carbon neutral", "pathogen-free", " offset"):
        assert never not in page.casefold()
    assert not re.search(r"\d\s*(?:&#8239;|\u202f|\u00a0| )tons?\b", page)  # never a bare ton


def test_what_a_ton_cost_is_told_in_the_ton_of_the_page() -> None:
    # 100 a tonne of 1,000 kg is 100 * 0.90718474 = 90.72 a short ton of 2,000 lb.
    us, metric = (Printer("en", units) for units in ("us", "metric"))
    for printer, text in ((us, "90.72"), (metric, "100")):
        _, scale = cost_per_ton(printer)
        assert printer.one("period:money.spent_per_tonne", 100.0, scale).text == text


def test_the_diversion_rate_stands_where_rubbish_is_logged() -> None:
    # 500 lb of rubbish, 0.25 short tons, beside a rate of 0.9 in the period; none logged in total.
    rate = DiversionRate(Range(0, 0, 0), Range(500 * yards.LB, 0, 0), 0.9)
    full = statements.FULL
    none = dataclasses.replace(full.total, diversion_rate=None)
    logged = dataclasses.replace(full.period, diversion_rate=rate)
    page = statements.statement(dataclasses.replace(full, period=logged, total=none), History())
    rows = {row[0]: row[1:] for table in tables(page) for row in table}
    assert rows["Rubbish hauled away, short tons (2,000\u00a0lb)"] == ["0.250", "–"]
    assert rows["Diverted, of what this yard handled"] == ["90\u202f%", "–"]
    unlogged = dataclasses.replace(full.period, diversion_rate=None)
    page = statements.statement(dataclasses.replace(full, period=unlogged, total=none), History())
    assert "Diversion rate" not in page


def test_decimal_points_stand_beneath_each_other() -> None:
    printer = Printer("en", "us")
    figures = [
        printer.one("a:b", value, Scale("count", quantum))
        for value, quantum in ((1220.0, 1.0), (0.06, 0.0001), (0.5, 0.001))
    ]
    # 0.0600 has four decimals; 1,220 lacks them and the point, 0.500 lacks one.
    classes = [re.search(r'class="(pad[^"]*)"', str(c)) for c in on_the_point(figures)]
    assert [c and c[1] for c in classes] == ["pad-4-point", None, "pad-1"]
    assert on_the_point([None, figures[0]])[0] == ""


def test_many_materials_end_in_one_row_of_the_rest() -> None:
    page = grant_page("many materials")[0]
    table = next(t for t in tables(page) if t[0][0] == "Material")
    assert [row[0] for row in table[-2:]] == ["Other materials: 44", "All materials"]  # 16 by name


def test_a_material_the_site_does_not_list_is_marked() -> None:
    figures = statements.with_stranger(statements.FULL.total, "Kichen scarps", "material")
    page = statements.statement(dataclasses.replace(statements.FULL, total=figures), History())
    # A slip of the pen is no material: it is counted, and not named.
    assert "Names not in the site’s list: 1" in page and "Kichen scarps" not in page


def test_every_note_number_leads_to_a_note() -> None:
    page = grant_page("nothing issued")[0]
    numbers = {int(n) for n in re.findall(r'class="note-number">(\d+)<', page)}
    notes = re.search(r'<ol class="sources">(.*?)</ol>', page, re.S)[1].count("<li>")
    assert numbers == set(range(1, notes + 1))


@pytest.mark.parametrize("case", GRANTS)
def test_header_cells_have_a_scope(case: str) -> None:
    assert not re.search(r"<th\b(?![^>]*scope=)", grant_page(case)[0])


@pytest.mark.parametrize("case", GRANTS)
def test_no_table_has_more_headings_than_figures(case: str) -> None:
    statements.not_mostly_headings(grant_page(case)[0])


@pytest.mark.parametrize(
    ("last", "target_kg", "said"),
    [
        (23, 100.0, "reached"), (23, 1e6, "not reached"), (17, 100.0, "reached"),
        (17, 1e6, "not yet, the year goes on"),
    ],
)  # fmt: skip
def test_a_year_that_goes_on_has_not_missed_its_target(
    last: int, target_kg: float, said: str
) -> None:
    """500 kg were diverted up to June or December 2025; the site began in April 2024, the grant in July."""
    total, done = yards.between(6, last), Range(500.0, 450.0, 550.0)
    began = dt.date(2024, 4, 1)
    of_2025 = dataclasses.replace(total, targets=(Target(2025, target_kg, done),))
    table = promised_table(of_2025, 1, began, Scale("kg"), Printer("en", "metric"))
    (row,) = table.groups[0].rows
    assert (row.head, row.cells[-1], table.note) == ("2025", said, "")
    of_2024 = dataclasses.replace(of_2025, targets=(Target(2024, 1e6, done),))
    table = promised_table(of_2024, 1, began, Scale("kg"), Printer("en", "metric"))
    (row,) = table.groups[0].rows
    assert (row.cells[0], row.cells[-1]) == ("April to December 2024", "not reached")
    assert "before this grant began count" in table.note
