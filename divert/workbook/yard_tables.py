"""The tables behind what is counted of a yard: who brought material each month, and the hot days."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from typing import Any, TypeVar

from divert.evidence.book import Book
from divert.evidence.hot_days import ROUNDED_C, HotDay, hot_days
from divert.evidence.plan import SummaryLine
from divert.evidence.recipe import LongestHot, Recipe, TakingPart
from divert.evidence.visits import Visits, visits_of
from divert.figures.participation import GONE_DAYS
from divert.figures.process_log import HOT_C
from divert.workbook.cells import (
    FACTORS,
    Styles,
    day_number,
    letter,
    put_date,
    put_formula,
    put_number,
    put_text,
)
from divert.workbook.factors_sheet import HOT_DAYS, VISITS, open_table
from divert.workbook.formulas import FAR, Cells, name_of

_Node = TypeVar("_Node", TakingPart, LongestHot)
_MOST = 20_000_000  # lines looked at by all cells of a table; more would keep a program for minutes
_VISITS = ("set", "source", "month", "from", "to", "until", "loads", "days", "first", "last", "before",
           "after", "gap_days", "gaps", "new", "lost")  # fmt: skip
_AT = {key: letter(place) for place, key in enumerate(_VISITS)}
_HOT = ("set", "pile", "day", "lowest_c", "run")
_SOURCE, _KIND, _DATE = name_of("source"), name_of("kind"), name_of("date")


def write_yard_tables(
    sheet: Any, row: int, listed: Sequence[SummaryLine], books: Mapping[str, tuple[Recipe, Book]],
    cells: Cells, look: Styles, language: str,
) -> tuple[Cells, int]:  # fmt: skip
    """Write what the figures of taking part and of hot days rest on; nothing where there are none.

    Returns the cells with the places of both tables, and the next free row.
    """
    if months := _asked(listed, TakingPart, books):
        visits, row = _write_visits(sheet, row, months, books, look, language)
        cells = replace(cells, visits=visits)
    if piles := _asked(listed, LongestHot, books):
        hot, row = _write_hot_days(sheet, row, piles, books, look, language)
        cells = replace(cells, hot_days=hot)
    return cells, row


def _write_visits(
    sheet: Any, row: int, months: Sequence[tuple[str, TakingPart]],
    books: Mapping[str, tuple[Recipe, Book]], look: Styles, language: str,
) -> tuple[dict[tuple[str, dt.date], Mapping[str, str]], int]:  # fmt: skip
    row = open_table(sheet, row, VISITS, _VISITS, look, language)
    tables = {
        (name, node.month): list(
            visits_of(books[name][1].lines, node.month, node.start, node.until)
        )
        for name, node in months
    }
    looked_at = sum(map(len, tables.values())) * max(len(book.lines) for _, book in books.values())
    found: dict[tuple[str, dt.date], Mapping[str, str]] = {}
    for (name, month), rows in tables.items():
        for number, one in enumerate(rows, start=row):
            _visit(sheet, number, name, one, look, looked_at <= _MOST)
        if rows:
            found[name, month] = {
                key: f"'{FACTORS}'!${at}${row + 1}:${at}${row + len(rows)}"
                for key, at in _AT.items()
            }
        row += len(rows)
    return found, row + 1


def _write_hot_days(
    sheet: Any, row: int, piles: Sequence[tuple[str, LongestHot]],
    books: Mapping[str, tuple[Recipe, Book]], look: Styles, language: str,
) -> tuple[dict[tuple[str, str], str], int]:  # fmt: skip
    row = open_table(sheet, row, HOT_DAYS, _HOT, look, language)
    found = {}
    for name in dict.fromkeys(name for name, _ in piles):
        recipe, book = books[name]
        days = hot_days(book.lines, recipe.start, recipe.end)
        for number, one in enumerate(days, start=row):
            _hot_day(sheet, number, name, one, look)
        for pile in dict.fromkeys(day.pile for day in days):
            places = [row + n for n, day in enumerate(days) if day.pile == pile]
            found[name, pile] = f"'{FACTORS}'!$E${places[0] + 1}:$E${places[-1] + 1}"
        row += len(days)
    return found, row + 1


def _asked(
    listed: Iterable[SummaryLine], kind: type[_Node], books: Mapping[str, Any]
) -> list[tuple[str, _Node]]:
    """Return set and node of each figure that one of the tables makes, every month or pile once."""
    out: dict[tuple[str, object], tuple[str, _Node]] = {}
    for line in listed:
        node = None if line.recipe is None else line.recipe.node
        if isinstance(node, kind) and line.set in books:
            of = node.month if isinstance(node, TakingPart) else node.pile
            out.setdefault((line.set, of), (line.set, node))
    return list(out.values())


def _visit(sheet: Any, row: int, name: str, one: Visits, look: Styles, by_formula: bool) -> None:
    at = {key: f"${column}{row + 1}" for key, column in _AT.items()}
    put_text(sheet, row, 0, name, look.text)
    put_text(sheet, row, 1, one.source, look.text)
    for place, day in enumerate((one.month, one.start, one.end, one.until), start=2):
        put_date(sheet, row, place, day, look.date)
    own = f'EXACT({_SOURCE},{at["source"]})*({_KIND}="intake")'
    month = f"{own}*({_DATE}>={at['month']})*({_DATE}<={at['to']})"
    length = (one.end - one.month).days + 1
    bins, taken = (";".join(str(n) for n in range(length + more)) for more in (1, 2))
    made: tuple[tuple[str, float, Any], ...] = (
        (f'SUMPRODUCT({own}*({_DATE}>={at["from"]})*({_DATE}<={at["to"]}))', one.loads, look.whole),
        (f'SUMPRODUCT((FREQUENCY({month}*(1+{_DATE}-{at["month"]}),{{{bins}}})>0)*({{{taken}}}>0))',
         one.days, look.whole),
        (f'IF({at["days"]}=0,0,{FAR}-SUMPRODUCT(MAX({month}*({FAR}-{_DATE}))))', _number(one.first),
         look.day_or_none),
        (f"SUMPRODUCT(MAX({month}*{_DATE}))", _number(one.last), look.day_or_none),
        (f'SUMPRODUCT(MAX({own}*({_DATE}<{at["month"]})*{_DATE}))', _number(one.before),
         look.day_or_none),
        (f'SUMPRODUCT({own}*({_DATE}>{at["to"]})*({_DATE}<={at["until"]}))', one.after, look.whole),
        (f'IF({at["days"]}=0,0,{at["last"]}-IF({at["before"]}>0,{at["before"]},{at["first"]}))',
         one.gap_days, look.whole),
        (f'IF({at["days"]}=0,0,{at["days"]}-IF({at["before"]}>0,0,1))', one.gaps, look.whole),
        (f'IF(AND({at["days"]}>0,{at["before"]}=0),1,0)', one.new, look.whole),
        (f'IF(AND({at["days"]}>0,{at["after"]}=0,{at["last"]}<={at["until"]}-{GONE_DAYS}),1,0)',
         one.lost, look.whole),
    )  # fmt: skip
    for place, (formula, value, style) in enumerate(made, start=6):
        if by_formula or place >= 12:  # what looks at no other sheet costs nothing
            put_formula(sheet, row, place, formula, style, value)
        else:
            put_number(sheet, row, place, value, style)


def _hot_day(sheet: Any, row: int, name: str, one: HotDay, look: Styles) -> None:
    above, here = row, row + 1
    put_text(sheet, row, 0, name, look.text)
    put_text(sheet, row, 1, one.pile, look.text)
    put_date(sheet, row, 2, one.day, look.date)
    amount = name_of("amount")

    def lowest(unit: str) -> str:
        lines = (f'EXACT({name_of("name")},$B{here})*({_KIND}="process")*({_DATE}=$C{here})'
                 f'*EXACT({name_of("unit")},"{unit}")*ISNUMBER({amount})')  # fmt: skip
        return f"{FAR}-SUMPRODUCT(MAX({lines}*({FAR}-{amount})))"

    celsius = f"MIN({lowest('°C')},({lowest('°F')}-32)*5/9)"
    put_formula(sheet, row, 3, celsius, look.formula, one.lowest_c)
    follows = f"AND($A{above}=$A{here},$B{above}=$B{here},$C{above}=$C{here}-1)"
    run = f"IF($D{here}>={HOT_C:g}-{ROUNDED_C:f},1+IF({follows},$E{above},0),0)"
    put_formula(sheet, row, 4, run, look.whole, one.run)


def _number(day: dt.date | None) -> float:
    return 0.0 if day is None else day_number(day)
