"""What `divert read --keep` shows of each plan before it is kept: how it was taken, and ten of its rows."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import pandas as pd

from divert.cli.output.columns import columns_line
from divert.core.reading import Reading
from divert.core.units import unit_factor
from divert.core.words import N_, Text
from divert.ingest.plan.sheet_plan import SheetPlan

_ROWS = 10  # of a sheet that are shown
_SAID = ("source", "material", "name", "destination")
_MEASURES = {
    "us": (("volume_m3", "gal"), ("mass_kg", "lb"), ("gross_kg", "lb")),
    "metric": (("volume_m3", "L"), ("mass_kg", "kg"), ("gross_kg", "kg")),
}


def plan_lines(
    plans: Sequence[SheetPlan], reading: Reading, units: str, language: str = "en"
) -> Iterator[Text]:
    """Yield, for each plan, how its sheet is taken and the first rows read with it.

    ``units``: those of the site, "us" or "metric", in which amounts are shown;
    ``language``: in which its columns are named.
    """
    for plan in plans:
        yield Text("")
        place = f"{plan.file}, {plan.sheet}" if plan.sheet else plan.file
        yield Text(N_("{place}: {lies}"), {"place": place, "lies": Text(plan.lies)})
        for sheet in reading.sheets:
            if (sheet.file, sheet.sheet) == (plan.file, plan.sheet) and sheet.columns:
                yield Text("   {columns}", {"columns": columns_line(sheet.columns, language)})
        yield from _rows(reading.entries, plan, units)


def _rows(entries: pd.DataFrame, plan: SheetPlan, units: str) -> Iterator[Text]:
    own = entries[(entries["file"] == plan.file) & (entries["sheet"].astype(str) == plan.sheet)]
    own = own.sort_values("row", kind="stable")
    for row in own.head(_ROWS).to_dict("records"):
        yield Text(
            N_("   row {row}: {day}, {kind}: {said}"),
            {"row": str(row["row"]), "day": row["date"].date(), "kind": Text(str(row["kind"])),
             "said": ", ".join(_said({str(k): v for k, v in row.items()}, units))},
        )  # fmt: skip
    if len(own) > _ROWS:
        yield Text(N_("   and {count} more"), {"count": len(own) - _ROWS})


def _said(row: dict[str, object], units: str) -> Iterator[str]:
    for name in _SAID:
        if isinstance(said := row[name], str) and said:
            yield said
    if (count := _number(row["count"])) is not None:
        yield (
            f"{count:,.6g} × {row['container']}"
            if _is_text(row["container"])
            else f"{count:,.6g} ×"
        )
    for name, unit in _MEASURES[units]:
        if (value := _number(row[name])) is not None:
            yield f"{value / unit_factor(unit)[0]:,.5g} {unit}"
    if (amount := _number(row["amount"])) is not None:
        unit_word = next((str(row[n]) for n in ("currency", "unit") if _is_text(row[n])), "")
        yield f"{amount:,.6g} {unit_word}".strip()


def _is_text(value: object) -> bool:
    return isinstance(value, str) and bool(value)


def _number(value: object) -> float | None:
    return value if isinstance(value, float) and value == value else None
