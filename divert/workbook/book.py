"""The evidence workbook: put together from workings and the figures a report prints."""

from __future__ import annotations

import datetime as dt
from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import replace
from functools import partial
from io import BytesIO
from typing import TYPE_CHECKING, Any

import pandas as pd

from divert.convert import Workings
from divert.core.findings import CannotRun
from divert.core.mark import MARK
from divert.core.paper import prints_on_letter
from divert.core.version import __version__
from divert.core.words import N_, Text
from divert.evidence.book import Book
from divert.evidence.cautions import ALL as CAUTIONS
from divert.evidence.columns import LedgerColumn, ledger_columns
from divert.evidence.derived import cases_of, derive
from divert.evidence.factor_rows import LOST, Numbers, numbers
from divert.evidence.figures_shared import shared_sets
from divert.evidence.lines import CHARGED, lines_of, lines_of_all, with_sponsor
from divert.evidence.plan import SummaryLine, as_json, cut_days, last_day, plan
from divert.evidence.recipe import Constant, Recipe
from divert.evidence.recipe_days import span
from divert.evidence.sharing import Audience, Sharing, share_lines, sharing
from divert.evidence.spreading import by_formula, too_many_to_share, whole_months
from divert.figures.contract import Figures
from divert.workbook import cells as sheets
from divert.workbook.cover_sheet import write_cover
from divert.workbook.factors_sheet import addresses, write_deposits, write_factors
from divert.workbook.formulas import Cells
from divert.workbook.keys_sheet import Opening, first_row, write_every_figure
from divert.workbook.ledger_sheet import FIRST_ROW, write_ledger
from divert.workbook.listing_sheets import (
    SharesSaid,
    write_findings,
    write_method,
    write_set_aside,
)
from divert.workbook.put_aside import put_aside
from divert.workbook.shares_table import share_addresses, write_shares
from divert.workbook.standings_table import write_standings
from divert.workbook.summary_sheet import PAGES, figured, write_summary
from divert.workbook.yard_tables import write_yard_tables

if TYPE_CHECKING:
    from divert.figures.numbers.printed import Printed

SAID_BEFORE = ("previous",)
MOST_IN_MEMORY = 20_000  # lines; the text of more is put aside on disk until it is packed
_TOO_LONG = N_(
    "The evidence of this report would have {count} lines; a sheet holds {most} rows. Make the page "
    "alone with --as html, or a sponsor's report, whose evidence adds up everyone else's loads."
)


def evidence_workbook(
    workings: Workings,
    figure_sets: Mapping[str, Figures | Mapping[str, Any]],
    audience: Audience,
    sponsor: str | None = None,
    *,
    printed: Sequence[Printed] = (),
) -> bytes:
    """Return the workbook (XLSX) behind a report, the same bytes for the same data.

    ``figure_sets`` by name: "period", for a grant also "total", and "previous" as it was issued (the
    JSON of its figures). ``printed`` what the pages say, to be shown beside each figure. What leaves
    the house is settled by ``audience`` and site.toml (divert.evidence.sharing). Raises
    CannotRun where the lines are more than a sheet holds, or the disk of temporary files is full.
    """
    with put_aside() as folder:
        return _packed(workings, figure_sets, audience, sponsor, printed, folder)


def _packed(
    workings: Workings,
    figure_sets: Mapping[str, Figures | Mapping[str, Any]],
    audience: Audience,
    sponsor: str | None,
    printed: Sequence[Printed],
    aside_in: str | None,
) -> bytes:
    rules = sharing(workings, audience, sponsor)
    sets = shared_sets(as_json(figure_sets, workings.kept), rules, printed)
    language = workings.site.language
    listed = plan(sets, rules, printed, SAID_BEFORE, language)
    derived, found = shared_lines(workings, sets, rules, listed, sponsor)
    if len(derived) + FIRST_ROW > sheets.MOST_ROWS:
        values = {"count": len(derived), "most": sheets.MOST_ROWS}
        raise CannotRun(Text(_TOO_LONG, values))
    as_of = dt.date.fromisoformat(sets["period"]["as_of"])

    out = BytesIO()
    workbook = _workbook(out, as_of, len(derived), aside_in)
    look = sheets.styles(workbook)
    cover, summary, ledger, factors, aside, asked, method, every = _sheets(
        workbook, letter=prints_on_letter(workings.site.country)
    )
    current = {name: figures for name, figures in sets.items() if name not in SAID_BEFORE}
    columns = ledger_columns(for_sponsor=sponsor is not None, notes=rules.notes)
    at = _write_inputs(
        workbook, ledger, factors, derived, found, columns, current, listed, look, language
    )
    opening = _opening(sets, audience, sponsor, language)
    write_every_figure(every, opening, listed, at, list(current), look, language)
    rows = {(line.set, line.path): row for row, line in enumerate(listed, start=first_row(opening))}
    write_cover(cover, opening, listed, rows, look, language)
    cover.fit_to_pages(1, 1)
    write_summary(
        summary, opening, figured(listed, rows), current, workings.site.units, look, language
    )
    summary.fit_to_pages(1, PAGES)
    write_set_aside(aside, workings, rules, look, language)
    period = figure_sets["period"]
    findings = period.findings if isinstance(period, Figures) else workings.findings
    write_findings(asked, findings, workings, rules, look, language)
    said = _charges_said(derived)
    free = write_method(method, workings, rules, said, as_of, __version__, CAUTIONS, look, language)
    if rules.own is None:
        write_standings(method, free, listed, rows, look, language)
    workbook.close()
    return out.getvalue()


def _write_inputs(
    workbook: Any, ledger: Any, factors: Any, derived: pd.DataFrame, found: Numbers,
    columns: Sequence[LedgerColumn], current: Mapping[str, Mapping[str, Any]],
    listed: Sequence[SummaryLine], look: sheets.Styles, language: str,
) -> Cells:  # fmt: skip
    """Write the lines and the numbers they rest on; return where each stands, for the figures."""
    factor, per_kg, free_row = addresses(found)
    landfills = tuple(p.landfill for p in found.processes)
    pools, shares, after = share_addresses(derived, free_row)
    at = Cells(factor, per_kg, landfills, {}, _clashing(derived), shares)
    cases = cases_of(derived, found.classes)
    write_ledger(workbook, ledger, derived, columns, at, cases, look, language)
    write_factors(factors, found, at, look, language)
    write_shares(factors, free_row, pools, at, look, language)
    book = Book(derived, found.values, found.classes, found.processes)
    spans = {name: (Recipe(*span(one), Constant(0.0)), book) for name, one in current.items()}
    at, after = write_yard_tables(factors, after, listed, spans, at, look, language)
    return replace(at, deposits=write_deposits(factors, after, spans, at, look, language))


def shared_lines(
    workings: Workings,
    sets: Mapping[str, Mapping[str, Any]],
    rules: Sharing,
    listed: Sequence[SummaryLine],
    sponsor: str | None,
) -> tuple[pd.DataFrame, Numbers]:
    """Return the lines that may leave with their masses, and the numbers they rest on."""
    until = last_day(sets, SAID_BEFORE)
    cuts = [*cut_days(listed), until + dt.timedelta(days=1)]
    reach = whole_months(workings, until)
    if sponsor is not None:
        everyone, found = _lines_of_everyone(workings, reach)
        lines = with_sponsor(everyone, workings.site, sponsor)
    else:
        lines = lines_of(workings, reach)
        found = numbers(workings, lines)
        lines = by_formula(lines, partial(_worked_out, found=found))
        if rules.own is None and not too_many_to_share(lines):
            # Every line leaves, renamed at most: over what each is shared out is settled.
            return _worked_out(share_lines(lines, rules, cuts), found), found
        lines = _worked_out(lines, found)
    shared = share_lines(lines, rules, cuts)
    if too_many_to_share(shared):
        return _worked_out(shared.assign(spread=""), found), found
    spread = by_formula(shared, partial(_worked_out, found=found))
    return _worked_out(spread, found), found


def _worked_out(lines: pd.DataFrame, found: Numbers) -> pd.DataFrame:
    return derive(lines, found.values, found.classes, found.processes)


def _lines_of_everyone(workings: Workings, reach: dt.date) -> tuple[pd.DataFrame, Numbers]:
    """Return every line with its masses and their numbers, as far as no sponsor settles them.

    They are kept: all sponsors' evidence is made from them.
    """
    kept: dict[dt.date, tuple[pd.DataFrame, Numbers]] = workings.kept.setdefault(
        _lines_of_everyone, {}
    )
    if reach not in kept:
        kept.clear()  # each is as large as the ledger
        lines = lines_of_all(workings, reach, bulk=False)
        found = numbers(workings, lines)
        # What lies on the site is the house's.
        found = replace(found, rows=tuple(row for row in found.rows if row.key != LOST))
        spread = by_formula(lines, partial(_worked_out, found=found))
        kept[reach] = _worked_out(spread, found), found
    return kept[reach]


def _workbook(out: BytesIO, as_of: dt.date, lines: int, aside: str | None) -> Any:
    import xlsxwriter

    workbook = xlsxwriter.Workbook(
        out,
        {
            "in_memory": lines <= MOST_IN_MEMORY or aside is None,
            "tmpdir": aside,
            "strings_to_formulas": False,
            "strings_to_urls": False,
            "strings_to_numbers": False,
        },
    )
    # The day the report speaks from, not the clock's: the same data give the same bytes.
    workbook.set_properties(
        {"title": "Evidence", "created": dt.datetime(as_of.year, as_of.month, as_of.day)}
    )
    workbook.set_custom_property(MARK, "evidence")
    return workbook


def _sheets(workbook: Any, *, letter: bool) -> list[Any]:
    """Add the sheets in their order, each set up to be printed."""
    from divert.workbook.column_sheet import ColumnSheet

    made = []
    for name in (
        sheets.COVER, sheets.SUMMARY, sheets.LEDGER, sheets.FACTORS, sheets.SET_ASIDE,
        sheets.FINDINGS, sheets.METHOD, sheets.EVERY_FIGURE,
    ):  # fmt: skip
        sheet = workbook.add_worksheet(name, ColumnSheet)
        sheet.set_landscape()
        sheet.set_paper(1 if letter else 9)
        sheet.fit_to_pages(1, 0)
        sheet.set_footer("&L&8&A&R&8&P / &N")
        made.append(sheet)
    return made


def _charges_said(lines: pd.DataFrame) -> SharesSaid:
    """Return how many charges there are, and how many stand as the calculation shared them out."""
    charged = lines["kind"].isin(CHARGED)
    standing = int((charged & (lines["spread"] == "")).sum())
    return SharesSaid(int(charged.sum()), standing, too_many_to_share(lines))


def _clashing(lines: pd.DataFrame) -> frozenset[tuple[str, str]]:
    """Return the texts that differ from another of their column only by case."""
    out = set()
    for column in ("source", "material", "destination", "name", "unit"):
        alike = defaultdict(list)
        for text in lines[column].unique():
            alike[text.casefold()].append(text)
        out |= {(column, text) for texts in alike.values() if len(texts) > 1 for text in texts}
    return frozenset(out)


def _opening(
    sets: Mapping[str, Mapping[str, Any]], audience: str, sponsor: str | None, language: str
) -> Opening:
    period = sets["period"]["period"]
    values = {
        "site": sets["period"]["site"], "label": period["label"],
        "start": dt.date.fromisoformat(period["start"]),
        "end": dt.date.fromisoformat(period["end"]),
    }  # fmt: skip
    title = Text(N_("Evidence: {site}, {label}"), values).say(language)
    lines = [Text(N_("From {start} to {end}."), values).say(language)]
    if audience == "sponsor":
        lines.append(Text(N_("For {name}."), {"name": sponsor or ""}).say(language))
    return Opening(title, tuple(lines))
