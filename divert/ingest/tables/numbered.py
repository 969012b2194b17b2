"""Several loads in one row, their columns numbered: Material 1, Weight 1, Material 2, Weight 2."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace

from divert.ingest.tables.columns import Column
from divert.ingest.tables.groups import Group

_NUMBER = re.compile(r"\b(\d{1,2})\b")


def with_materials(groups: Sequence[Group], columns: Sequence[Column]) -> list[Group]:
    """Give each load of a row the material that is numbered as it is; without a number it is the first."""
    materials = [c for c in columns if c.heading.field == "material" and not c.heading.container]
    numbered = {_number(c): c for c in materials}
    if len(numbered) < 2 or len(numbered) < len(materials):
        return list(groups)
    out = []
    for group in groups:
        numbers = {_number(c) for c in group.members}
        own = numbered.get(numbers.pop()) if len(numbers) == 1 else None
        out.append(
            group if own is None else replace(group, columns={**group.columns, "material": [own]})
        )
    return out


def _number(column: Column) -> int:
    said = _NUMBER.search(re.sub(r"[(\[].*?[)\]]", " ", column.head.text))
    return int(said[1]) if said else 1
