"""A word in a name that takes what may have come in for sales, for rubbish or for what was made.

It says what a table holds only where nothing in the table speaks against it: "Sat market" over food
scraps may be sales, or the market whose scraps came.
"""

from __future__ import annotations

from collections.abc import Iterator

from divert.core.findings import Choice
from divert.core.words import N_, Text
from divert.ingest.coverage.doubt import Doubt, Seen
from divert.ingest.tables.columns import Column
from divert.ingest.tables.kind_words import is_whole_kind, kind_said
from divert.ingest.tables.kinds import names_feedstock
from divert.ingest.tables.overrides import rule_for

_TELLS = {"product", "money", "price", "destination", "fuel", "kind"}  # such columns settle it
_MEANT = {
    "sale": N_("It holds sales"),
    "harvest": N_("It holds finished product"),
    "disposed": N_("It holds rubbish"),
    "activity": N_("It holds what else was done, and no loads"),
    "moved": N_("It holds what was moved or fed, received before"),
    "intake": N_("It holds loads that came in"),
}


def kind_against_materials(seen: Seen) -> Iterator[Doubt]:
    """Doubt the rows of a table of sales, product or rubbish that names a material which comes in."""
    job = seen.job
    rule = rule_for(job.known.site, job.sheet.file, job.sheet.name)
    if job.kind not in _MEANT or job.kind == "intake" or (rule is not None and rule.holds):
        return
    if job.kind == "activity" and not any(map(_measured, job.columns)):
        return
    listed = names_feedstock(job.columns, (), job.known)
    if (job.kind == "moved" or listed) and _wholly(seen, job.kind):
        return  # beds are fed what came in before: "Bed feeding", but no "Transfer note"
    labels = [g.label.material for g in job.layout.groups]
    name = listed or names_feedstock((), (job.context.material, *labels), job.known)
    within = (t for t in job.table.titles if job.known.materials.within(t, job.known.products))
    name = name or next(within, "")
    told = _TELLS & {c.heading.field for c in job.columns if c.content.filled}
    if not listed and (told or not name):
        name = _strange_to_sales(seen, {"money", "price"} & told)
    if not name:
        return
    keys = {"file": job.sheet.file} | ({"sheet": job.sheet.name} if job.sheet.name else {})
    yield seen.doubt(
        "kind",
        N_("Words around this table speak of something else than loads that came in, and it names "
               "“{material}”."),
        N_("Say what it holds under [[sheet]] in site.toml."),
        choices=tuple(
            Choice(Text(_MEANT[holds]), "sheet", {**keys, "holds": holds})
            for holds in ("intake", job.kind)
        ),
        material=name,
    )  # fmt: skip


def _strange_to_sales(seen: Seen, paid: set[str]) -> str:
    """Return a word over amounts that is no product, where a file's name alone speaks of sales.

    "Came back | Food bank | Composted" tells of what was not sold.
    """
    job = seen.job
    names = (job.sheet.name, *job.table.titles)
    if job.kind != "sale" or paid or any(kind_said(name, job.known) for name in names):
        return ""
    heads = (g.label.material or g.label.other for g in job.layout.groups)
    return next((h for h in heads if h[:1].isalpha() and not job.known.materials.find(h)), "")


def _measured(column: Column) -> bool:
    unit = column.heading.unit
    return (
        unit is not None and unit.dimension in ("mass", "volume") and column.content.numbers > 0.5
    )


def _wholly(seen: Seen, kind: str) -> bool:
    """Return whether the sheet's name, or a title, is nothing but words for a kind."""
    names = (seen.job.sheet.name, *seen.job.table.titles)
    return any(is_whole_kind(name, kind) for name in names)
