"""What decided the field of each column: claims with a weight and a reason, in the order they were made."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from divert.core.reading import Claim
from divert.core.words import N_, Text
from divert.ingest.known import Known
from divert.ingest.tables.columns import Column
from divert.ingest.tables.context import Context
from divert.ingest.tables.kind_words import kind_said
from divert.ingest.tables.table import Table

_LEAST = 0.2  # of a column's cells that is worth a claim
_CONTENTS = (
    ("date", "dates", N_("cells that are dates: {share} %")),
    ("source", "sources", N_("cells that name a source: {share} %")),
    ("material", "materials", N_("cells that name a material: {share} %")),
    ("container", "containers", N_("cells that name a container: {share} %")),
    ("unit", "units", N_("cells that are a unit: {share} %")),
    ("before", "befores", N_("cells that say where material went before: {share} %")),
    ("money", "moneys", N_("cells that are sums of money: {share} %")),
    ("quantity", "quantities", N_("cells that are an amount: {share} %")),
)


@dataclass(frozen=True, slots=True)
class Reason:
    """Why a rule decides as it does: its weight (0 to 1) and a message of its own."""

    weight: float
    message: str

    def claims(self, column: Column) -> Claim:
        """Return the claim that a column is what the rule has made of it."""
        return Claim(column.letter, column.field, self.weight, Text(self.message))


BY_RULE = Reason(1.0, N_("[[sheet]] in site.toml says so"))
BY_CELLS = Reason(0.6, N_("what stands in it, as the table has no heading"))
BY_PLAN = Reason(1.0, N_("the plan kept in reading.toml says so"))
_LAID_OUT = {
    "total": Reason(
        0.9, N_("it sums the others on every row, or a word for a total stands over it")
    ),
    "quantity": Reason(
        0.7, N_("its heading names what its amounts are of: whom, what, a day or a box")
    ),
    "material": Reason(0.7, N_("it is numbered as the amount of its load is")),
}
_ODD = Reason(0.6, N_("it may be anything but an amount of these loads"))


def laid_out_claims(before: Sequence[Column], after: Sequence[Column]) -> Iterator[Claim]:
    """Yield a claim for each column that how the table lies has settled."""
    was = {c.index: c.field for c in before}
    for column in after:
        if was.get(column.index, column.field) != column.field:
            yield _LAID_OUT.get(column.field, _ODD).claims(column)


def kind_claims(
    ruled: str, named: str, kind: str, table: Table, sheet: Context, known: Known
) -> Iterator[Claim]:
    """Yield why a table was taken to hold what it does.

    ``ruled``: what site.toml says; ``named``: what the names around it do; ``kind``: what was settled.
    """
    if ruled:
        yield Claim("", ruled, BY_RULE.weight, Text(BY_RULE.message))
        return
    title = next((t for t in table.titles if kind_said(t, known) == named), "")
    if title:
        yield Claim("", named, 0.9, Text(N_("the title over it: “{title}”"), {"title": title}))
    elif sheet.kind == named:
        yield Claim("", named, 0.8, Text(N_("the name of the sheet")))
    elif named != "intake":
        yield Claim("", named, 0.5, Text(N_("the name of the file")))
    else:
        yield Claim("", named, 0.5, Text(N_("nothing says that it holds anything else")))
    if kind != named:
        yield Claim("", kind, 0.9, Text(N_("what its columns are")))


def first_claims(columns: Sequence[Column]) -> Iterator[Claim]:
    """Yield what stands in the cells of each column, then what its heading says: that stands, at first."""
    for column in columns:
        for field, share_of, message in _CONTENTS:
            share = float(getattr(column.content, share_of))
            if share >= _LEAST:
                text = Text(message, {"share": round(100 * share)})
                yield Claim(column.letter, field, round(share, 2), text)
        heading = column.heading
        weight, message = 0.0, N_("a heading in words that are not known: “{heading}”")
        if heading.field:
            weight, message = (
                (1.0, N_("the words of its heading: “{heading}”"))
                if heading.said
                else (0.7, N_("what its heading names: “{heading}”"))
            )
        elif not column.head.text:
            message = N_("no heading stands over it")
        said = {"heading": column.head.text} if column.head.text else {}
        yield Claim(column.letter, heading.field, weight, Text(message, said))


def changes(before: Sequence[Column], after: Sequence[Column], reason: Reason) -> Iterator[Claim]:
    """Yield a claim for each column whose field a rule has changed."""
    was = {c.index: c.field for c in before}
    for column in after:
        if was.get(column.index) != column.field:
            yield reason.claims(column)
