"""What a table holds (intake, harvest, fuel ...): by its titles, its sheet, its file, its columns."""

from __future__ import annotations

import re
from collections.abc import Sequence
from pathlib import PurePosixPath

from divert.ingest.known import Known
from divert.ingest.sheet import as_text
from divert.ingest.tables.columns import Column
from divert.ingest.tables.context import Context, gather
from divert.ingest.tables.heading import QUANTITIES
from divert.ingest.tables.heading_rows import is_date_head
from divert.ingest.tables.kind_words import is_whole_kind, kind_said
from divert.ingest.tables.table import Table

_LISTS_LOADS = ("removed", "residue", "weigh-in")  # their tables may look like the intake log
_LOADS = {"source", "material"}


def kind_of_table(table: Table, sheet: Context, file: str, known: Known) -> str:
    """Return what a table holds: by its nearest title, its sheet's name, its file's, else intake."""
    for said in _kinds_of_titles(table, known):
        if said and said != "nothing":
            return said
    if sheet.kind and sheet.kind != "nothing":
        return sheet.kind
    said = kind_said(PurePosixPath(file).stem.replace("_", " "), known)
    return said if said and said != "nothing" else "intake"


def _kinds_of_titles(table: Table, known: Known) -> list[str]:
    """Return the kind that each title over a table says, "" where it says none."""
    return [kind_said(_less_remark(title), known) for title in table.titles]


def _less_remark(title: str) -> str:
    """Return "" of a day with a word about it: "8/10/2025 - moved to the new yard" says no kind."""
    first, *rest = re.split(r"\s+[-–—]\s+|\s*[,;:]\s", title, maxsplit=1)
    return "" if rest and is_date_head(first) and any(c.isdigit() for c in first) else title


def kind_by_columns(
    kind: str,
    columns: Sequence[Column],
    table: Table,
    sheet: Context,
    context: Context,
    known: Known,
) -> str:
    """Correct the kind that names gave where the columns plainly say another.

    ``sheet``: what the sheet's name says; ``context``: what everything around the table says.
    """
    lists = {c.heading.field for c in columns} >= _LOADS
    if kind == "weighed":
        kind = (
            "weigh-in"
            if not (lists or sheet.source or context.source) and _teaches_a_density(columns)
            else "intake"
        )
    by_file = not sheet.kind and not any(_kinds_of_titles(table, known))
    doubted = kind == "disposed" or (by_file and kind not in ("intake", "weigh-in"))
    titled = bool(gather(table.titles, known).source)
    speaks = doubted and _tells_of_intake(
        _less_what_was_sold(kind, columns, sheet, known), sheet, context, by_file and titled, known
    )
    if by_file and speaks:
        return "intake"  # a file's name comes last: whom it came from, and what it was, say more
    if by_file and kind in _LISTS_LOADS and lists:
        return "intake"  # a whole file named for contamination may well be the intake log
    told = lists or speaks
    if kind in (*_LISTS_LOADS, "disposed") and told and not _plainly(kind, table, sheet, known):
        return "intake"  # "Screening room: intake", "Weekly haul sheet"
    raw = {c.heading.field for c in columns if c.content.filled}
    if kind == "intake" and "removed" in raw and not raw & {*QUANTITIES, "material", "total", ""}:
        return "removed"  # "Date | Trash removed (lb)": what was taken out, and no loads
    if kind != "intake" or sheet.kind == "intake":
        return kind
    if _names_across(columns, known):
        return kind  # sources or materials across: a cost or fuel beside them changes nothing
    sizes = sum(c.heading.field == "dimension" for c in columns)
    if sizes >= 2 and not (raw & {"source", "material", "container"} or context.material):
        return "nothing"  # a pile measured, not a load received
    if "fuel" in raw and not raw & {"source", "material"}:
        return "fuel"
    if raw & {"hours", "people"} and not _speaks_of_loads(columns, context, known):
        return "activity"
    if "money" in raw and (paid := _by_money(raw, columns, known)):
        return paid
    if "product" in raw and not raw & {"source", "material"}:
        if sheet.source or _received(columns, "product", known):
            return "intake"  # "Produit" over kitchen scraps, or on a sheet named for a source
        return "sale" if raw & {"money", "price"} else "harvest"
    return kind


def _less_what_was_sold(
    kind: str, columns: Sequence[Column], sheet: Context, known: Known
) -> Sequence[Column]:
    """Return the columns without "Sold (lb)" over amounts where it is a part of what a giver had."""
    sold = {c.index for c in columns if c.heading.field == "product" and _amounts(c)}
    if not sold:
        return columns
    of_givers = kind == "disposed" or bool(sheet.source) or _is_feedstock(sheet.material, known)
    of_givers = of_givers or _comes_in(columns, known)
    return [c for c in columns if c.index not in sold] if of_givers else columns


def _comes_in(columns: Sequence[Column], known: Known) -> bool:
    """Return whether a column names givers and another materials that come in, "Type of scraps" or not."""
    givers = any(c.content.sources > 0.5 for c in columns if c.heading.field != "destination")
    return givers and _names_feedstock(columns, known)


def _teaches_a_density(columns: Sequence[Column]) -> bool:
    """Return whether a mass and what it filled stand side by side, of nobody in particular."""
    units = {c.heading.unit.dimension for c in columns if c.heading.unit is not None}
    fields = {c.heading.field for c in columns}
    mass = "mass" in units or fields & {"weight", "gross"}
    boxes = any(c.heading.container or c.content.containers > 0.5 for c in columns)
    volume = boxes or "volume" in units or fields & {"volume", "container", "count"}
    whose = any(c.content.sources > 0 for c in columns if c.heading.field != "destination")
    return bool(mass and volume) and not whose


def _plainly(kind: str, table: Table, sheet: Context, known: Known) -> bool:
    """Return whether the sheet's name, or a whole title, is nothing but words for a kind."""
    titles = [t for t in table.titles if kind_said(t, known)]
    if not titles:
        return sheet.kind == kind
    return any(is_whole_kind(t, kind) for t in titles) or sheet.kind == kind


def _names_across(columns: Sequence[Column], known: Known) -> bool:
    """Return whether known sources or feedstock head two columns or more, with amounts under them."""
    heads = [c.heading.label or c.head.text for c in columns if _amounts(c)]
    heads += [c.head.over for c in columns if c.head.over and _amounts(c)]
    return (
        len({h for h in heads if known.names(h) and known.materials.find(h) not in known.products})
        >= 2
    )


def _amounts(column: Column) -> bool:
    return column.content.numbers + column.content.quantities > 0.5


def _by_money(raw: set[str], columns: Sequence[Column], known: Known) -> str:
    """Return what a table with money in it tells of: what was sold, or spent; "" where neither is plain."""
    if raw & {"material", "weight", "volume", "gross", "source"} or _names_feedstock(
        columns, known
    ):
        return ""
    return "sale" if raw & {"product", "count"} else "activity"


def _tells_of_intake(
    columns: Sequence[Column], sheet: Context, context: Context, titled: bool, known: Known
) -> bool:
    """Return whether a table, or what stands around it, tells of loads received.

    ``titled``: a title over it names a source.
    """
    around = bool(sheet.source or titled) or _is_feedstock(sheet.material, known)
    around = around or _is_feedstock(context.material, known)
    made = {c.heading.field for c in columns} & {"product", "fuel"}
    return (around and not made) or _speaks_of_intake(columns, known)


def _speaks_of_intake(columns: Sequence[Column], known: Known) -> bool:
    """Return whether columns tell of loads received: known sources with amounts, and no product."""
    fields = {c.heading.field for c in columns if c.content.filled}
    if "fuel" in fields or ("product" in fields and not _received(columns, "product", known)):
        return False
    if _names_across(columns, known):
        return True
    amounts = fields & set(QUANTITIES) or any(_amounts(c) for c in columns)
    sources = any(c.content.sources > 0 for c in columns if c.heading.field != "destination")
    material = any(_is_feedstock(c.heading.label, known) for c in columns if _amounts(c))
    return bool(amounts) and (sources or material or _names_feedstock(columns, known))


def _names_feedstock(columns: Sequence[Column], known: Known) -> bool:
    """Return whether most cells of a column, whatever its heading, are materials that come in."""
    named = [c for c in columns if c.content.materials > 0.5]
    return any(_received([c], c.heading.field, known) for c in named)


def names_feedstock(columns: Sequence[Column], labels: Sequence[str], known: Known) -> str:
    """Return the first of some labels that is a material which comes in, or most of a column's; else ""."""
    said = next((one for one in labels if _is_feedstock(one, known)), "")
    if said or not _names_feedstock(columns, known):
        return said
    cells = [c for column in columns if column.content.materials > 0.5 for c in column.cells.cells]
    return next(name for c in cells if (name := known.materials.find(as_text(c))))


def _is_feedstock(label: str, known: Known) -> bool:
    found = known.materials.find(label) if label else None
    return found is not None and found not in known.products


_COUNTED = set(QUANTITIES) - {"each"}
_OF_LOADS = {"material", "weight", "volume", "gross", "tare", "container", "fill"}


def _speaks_of_loads(columns: Sequence[Column], context: Context, known: Known) -> bool:
    """Return whether anything in or over a table weighs, measures or names material."""
    if context.material or context.container or context.unit is not None:
        return True
    amounts = any(c.heading.field in _COUNTED and c.content.filled for c in columns)
    if amounts and _names_feedstock(columns, known):
        return True  # "Type of scraps | Guests | Amount"
    for column in columns:
        heading, text = column.heading, column.head.text
        named = known.names(text)
        if column.content.filled and (
            heading.field in _OF_LOADS
            or heading.container
            or heading.unit is not None
            or column.content.containers > 0.5
            or (named and column.content.numbers + column.content.quantities > 0.5)
        ):
            return True
    return False


def _received(columns: Sequence[Column], field: str, known: Known) -> bool:
    """Return whether most of what a field names are known materials that the site does not make."""
    cells = [c for col in columns if col.heading.field == field for c in col.cells.cells]
    found = [known.materials.find(as_text(c)) for c in cells]
    received = [name for name in found if name and name not in known.products]
    return len(received) > 0.5 * len(found)
