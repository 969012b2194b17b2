"""Tables that list rather than log: prices, contacts, containers, budgets, figures by year, pivots.

But for pivots such a table tells no day for any row. It is not read, and one note says so.
"""

from __future__ import annotations

import re
from collections.abc import Sequence

from divert.ingest.lexicon import bare
from divert.ingest.tables.columns import Column
from divert.ingest.tables.context import Context
from divert.ingest.tables.heading_words import listed, norm
from divert.ingest.tables.layout import Layout
from divert.ingest.tables.table import Table

_BUDGET = re.compile(r"\b(?:budget|budgets|budgetaire|previsions budgetaires)\b")

_DENSITY = re.compile(
    r"(?:.* \(?)?(?:lbs?|kg|pounds) ?(?:/|per|par) ?(?:yd|cu|gal|ft|m3|m³|l)\S*(?: (?:yd|ft))?\)?"
)


def is_a_list(
    columns: Sequence[Column], layout: Layout, table: Table, context: Context, sheet_name: str
) -> bool:
    """Return whether a table without any day lists prices, people, containers or plans.

    A log whose dates are merely missing names whom it came from or what came: it is no list.
    """
    if _is_a_pivot(table):
        return True
    if any(f in layout.shared for f in ("date", "day")) or context.day or context.month:
        return False
    if any(c.content.dates > 0.5 and c.content.numbers < 0.5 for c in columns) and not _contacts(
        columns
    ):
        return False
    if any(_BUDGET.search(bare(text)) for text in (sheet_name, *table.titles)):
        return True
    if "month" in layout.shared or any(g.label.day or g.label.number for g in layout.groups):
        return False
    if any(len(c.head.text) <= 40 and _DENSITY.fullmatch(bare(c.head.text)) for c in columns):
        return True
    heads = {c.heading.field for c in columns if c.head.text}
    if _contacts(columns):
        return True
    named = any(max(c.content.sources, c.content.materials) > 0.2 for c in columns)
    if named or context.source or context.material:
        return False
    holders = any(c.content.containers > 0.5 and c.field == "container" for c in columns)
    return bool(heads & {"money", "price"}) or (holders and "tare" in heads) or "year" in heads


_LABELS = re.compile(r"\b(?:row|column) labels\b|\betiquettes de (?:lignes|colonnes)\b")
_SUMMED = re.compile(r"(?:sum|somme|average|moyenne)(?: of | de | d'| - ).{2,}")
_WHOLE = ("grand total", "total general", "total result", "resultat")


def _is_a_pivot(table: Table) -> bool:
    """Return whether a spreadsheet program made a table to sum up another one.

    It heads rows and columns with words of its own, or names the sum and closes with a grand total.
    """
    texts = [bare(t) for h in table.heads for t in (h.text, h.over) if t]
    texts += [bare(t) for t in table.titles]
    summed = any(_SUMMED.fullmatch(t) for t in texts) and any(t.endswith(_WHOLE) for t in texts)
    return summed or any(_LABELS.search(t) for t in texts)


def _contacts(columns: Sequence[Column]) -> bool:
    contacts = listed("headings", "contacts", "words")
    return any(norm(c.head.text) in contacts for c in columns)
