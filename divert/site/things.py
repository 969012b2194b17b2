"""Tables of site.toml that name things: containers, materials, sources, sponsors, beds, grants."""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import Literal, cast

from divert.core.names import NameBook
from divert.core.words import N_, Text
from divert.site import quantities
from divert.site.built_in import material_keys
from divert.site.dated import versions
from divert.site.model import BEFORES, Bed, Container, Grant, Material, Source, Sponsor
from divert.site.quantities import Words
from divert.site.table import Table, nearest

BedKind = Literal["flow-through", "tray", "windrow", "bin"]
BED_KINDS = ("flow-through", "tray", "windrow", "bin")
GREATEST_FILL = 1.5  # heaped


def containers(tables: Sequence[Table], words: Words) -> tuple[Container, ...]:
    """Return the containers, every version of each."""
    return tuple(
        Container(
            name=table.text("name"),
            also=table.texts("also"),
            volume_m3=quantities.volume(table, "volume", words),
            tare_kg=quantities.tare(table, "tare", words),
            usual_fill=table.maybe_number("usual_fill", 0.01, GREATEST_FILL),
            condition=_condition(table),
            since=table.day("from"),
        )
        for table in versions(tables)
    )


def materials(tables: Sequence[Table], words: Words) -> tuple[Material, ...]:
    """Return the materials, every version of each."""
    return tuple(
        Material(
            name=table.text("name"),
            also=table.texts("also"),
            like=_like(table),
            before=_before(table),
            condition=_condition(table),
            density=quantities.density(table, "density", words),
            proof=table.maybe_text("proof"),
            required_by_law=table.flag_or_day("required_by_law"),
            since=table.day("from"),
        )
        for table in versions(tables)
    )


def _condition(table: Table) -> str | None:
    """Return the condition in small letters, as rows of a sheet give it."""
    said = table.maybe_text("condition")
    return said and said.casefold()


def _like(table: Table) -> str | None:
    said = table.maybe_text("like")
    return said and table.choice("like", material_keys(table.document.folder), said)


def _before(table: Table) -> str | None:
    return table.choice("before", BEFORES, "") or None


def sources(tables: Sequence[Table]) -> tuple[Source, ...]:
    """Return the sources, every version of each."""
    return tuple(
        Source(
            name=table.text("name"),
            also=table.texts("also"),
            before=_before(table),
            proof=table.maybe_text("proof"),
            required_by_law=table.flag_or_day("required_by_law"),
            since=table.day("from"),
        )
        for table in versions(tables)
    )


def sponsors(tables: Sequence[Table], known: Sequence[Source]) -> tuple[Sponsor, ...]:
    """Return the sponsors, every version of each, with sources under their own names."""
    book = NameBook({source.name: source.also for source in known})
    return tuple(
        Sponsor(
            name=table.text("name"),
            supplies=_supplies(table, book, [source.name for source in known]),
            funds=table.maybe_number("funds", 0, 1),
            email=_email(table),
            since=table.day("from"),
        )
        for table in versions(tables)
    )


def _supplies(table: Table, book: NameBook, known: Sequence[str]) -> tuple[str, ...]:
    found: list[str] = []
    for said in table.texts("supplies"):
        name = book.find(said)
        if name is None:
            close = book.nearest(said) or nearest(said, known)
            if close:
                wanted = Text(
                    N_('There is no [[source]] "{name}"; did you mean "{near}"?'),
                    {"name": said, "near": close},
                )
            else:
                wanted = Text(
                    N_('There is no [[source]] "{name}". Write one, or correct the name.'),
                    {"name": said},
                )
            raise table.wrong("supplies", wanted)
        found.append(name)
    return tuple(dict.fromkeys(found))


def _email(table: Table) -> str | None:
    said = table.maybe_text("email")
    if said and not re.fullmatch(r"[^\s@<>,;:\"]+@[^\s@<>,;:\"]+\.[^\s@<>,;:\".]+", said):
        raise table.wrong("email", Text(N_('Write one address, such as "kitchen@school.example".')))
    return said


def beds(tables: Sequence[Table]) -> tuple[Bed, ...]:
    """Return the beds."""
    return tuple(
        Bed(
            name=table.required_text("name", "Bed 1"),
            kind=_bed_kind(table),
            area_m2=quantities.size(table, "size"),
            worms_kg_per_m2=quantities.stocking(table, "worms"),
        )
        for table in tables
    )


def _bed_kind(table: Table) -> BedKind:
    return cast("BedKind", table.choice("kind", BED_KINDS, BED_KINDS[0]))


def grants(tables: Sequence[Table]) -> tuple[Grant, ...]:
    """Return the grants."""
    return tuple(_grant(table) for table in tables)


def _grant(table: Table) -> Grant:
    start, end = table.day("from"), table.day("to")
    if start and end and start > end:
        raise table.wrong("to", Text(N_("It lies before from = {start}."), {"start": str(start)}))
    return Grant(
        name=table.required_text("name", "Soil and Streams Fund"),
        number=table.text("number"),
        start=start,
        end=end,
        share=table.maybe_number("share", 0, 1),
    )
