"""The Ledger sheet: one line per entry, inputs as they are, the rest as formulas on the same line."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping, Sequence
from math import isnan
from typing import Any

import pandas as pd

from divert.convert.emission_factors import fuel_key
from divert.core.words import N_, Text
from divert.evidence.lines import CHARGED, REMOVED
from divert.evidence.spreading import pools_of
from divert.site.model import CLAIMED
from divert.workbook.cells import (
    LEDGER,
    Styles,
    clean,
    day_number,
    letter,
    put_text,
)
from divert.workbook.columns import Column
from divert.workbook.formulas import Cells, name_of

TITLE_ROW, HEADING_ROW, KEY_ROW, FIRST_ROW = 0, 2, 3, 4  # counted from 0
PROCESS = "process"  # what, in Cells.per_kg, with a class of ""

ABOUT = Text(
    N_("One line per entry, then one per charge of removed and residue. White cells are inputs; "
       "shaded ones are formulas on them and on the Factors sheet. Masses in kg, volumes in m³.")
)  # fmt: skip


def write_ledger(
    workbook: Any, sheet: Any, derived: pd.DataFrame, columns: Sequence[Column], cells: Cells,
    look: Styles, language: str,
) -> None:  # fmt: skip
    """Write the lines of evidence; ``derived`` holds the inputs and the results of the formulas."""
    put_text(sheet, TITLE_ROW, 0, LEDGER, look.title)
    put_text(sheet, TITLE_ROW + 1, 0, ABOUT.say(language))
    last = FIRST_ROW + max(len(derived), 1) - 1
    for place, column in enumerate(columns):
        put_text(sheet, HEADING_ROW, place, Text(column.heading).say(language), look.heading)
        put_text(sheet, KEY_ROW, place, column.key, look.key)
        sheet.set_column(place, place, column.width)
        span = f"'{LEDGER}'!${letter(place)}${FIRST_ROW + 1}:${letter(place)}${last + 1}"
        workbook.define_name(name_of(column.key), f"={span}")
    at = {column.key: letter(place) for place, column in enumerate(columns)}
    values = {name: values.astype(object).to_list() for name, values in derived.items()}
    formulas = _formulas(values, at, cells)
    for place, pool, own in pools_of(derived):
        formulas["share"][place] = cells.shares[pool, own]
    for place, column in enumerate(columns):
        here = values[column.key]
        if column.kind == "text":
            cleaned = {text: clean(text) for text in set(here)}
            sheet.write_texts(FIRST_ROW, place, [cleaned[text] for text in here], look.text)
        elif column.kind == "date":
            sheet.write_numbers(FIRST_ROW, place, [day_number(day) for day in here], look.date)
        else:
            made = formulas[column.key]
            sheet.write_formulas(FIRST_ROW, place, made, look.formula, here)
            if column.kind == "number":
                sheet.write_numbers(FIRST_ROW, place, here, but=made)
    sheet.freeze_panes(FIRST_ROW, 5)
    sheet.autofilter(KEY_ROW, 0, last, len(columns) - 1)


def _formulas(
    values: Mapping[Any, list[Any]], at: Mapping[str, str], cells: Cells
) -> dict[str, dict[int, str]]:
    """Return the formulas of each column by the place of their line."""
    out: dict[str, dict[int, str]] = defaultdict(dict)
    for place, line in enumerate(zip(*values.values(), strict=True)):
        row = FIRST_ROW + place + 1
        for key, formula in _line_formulas(
            dict(zip(values, line, strict=True)), row, at, cells
        ).items():
            out[key][place] = formula
    return out


def _line_formulas(
    line: Mapping[Any, Any], row: int, at: Mapping[str, str], cells: Cells
) -> dict[str, str]:
    def cell(key: str) -> str:
        return f"{at[key]}{row}"

    def known(key: str) -> bool:
        return not isnan(line[key])

    out: dict[str, str] = {}
    if known("given_m3"):
        out["volume_m3"] = cell("given_m3")
    elif known("count") and known("container_m3") and known("fill"):
        out["volume_m3"] = f"{cell('count')}*{cell('container_m3')}*{cell('fill')}"
    if known("weighed_kg"):
        out["net_kg"] = cell("weighed_kg")
    elif known("gross_kg"):
        tare = f"-{cell('tare_kg')}" if known("tare_kg") else ""
        times = f"*{cell('count')}" if tare and known("count") else ""
        out["net_kg"] = f"{cell('gross_kg')}{tare}{times}"
    if line["factor"]:
        out["density"] = cells.factor[line["factor"]]
    if line["kind"] in CHARGED:
        out["mass_kg"] = f"{at['mass_kg']}{FIRST_ROW + int(line['from_line'])}*{cell('share')}"
    elif "net_kg" in out:
        out["mass_kg"] = cell("net_kg")
    elif "density" in out and "volume_m3" in out:
        out["mass_kg"] = f"{cell('volume_m3')}*{cell('density')}"
    if line["kind"] == "intake" or line["kind"] in CHARGED:
        out |= _balance(line, row, at, cells)
    if line["kind"] == "fuel" and known("amount"):
        key = fuel_key(line["name"]) or ""
        if key in cells.factor:
            out["fuel"] = f"{cell('amount')}*{cells.factor[key]}"
    return out


def _balance(
    line: Mapping[Any, Any], row: int, at: Mapping[str, str], cells: Cells
) -> dict[str, str]:
    """Return what a load, or a charge to one, does to the balance and to emissions."""

    def cell(key: str) -> str:
        return f"{at[key]}{row}"

    out: dict[str, str] = {}
    if line["kind"] == "intake":
        out["received"] = kept = cell("mass_kg")
        if not isnan(line["removed_given_kg"]):
            out["removed"] = cell("removed_given_kg")
        elif not isnan(line["removed_share"]):
            out["removed"] = f"{cell('removed_share')}*{cell('mass_kg')}"
        if "removed" in out:
            kept = f"{kept}-{cell('removed')}"
        out["own_net"] = kept
    else:
        out["removed" if line["kind"] == REMOVED else "residue"] = cell("mass_kg")
        kept = f"-{cell('mass_kg')}"
    claimed = line["before"] in CLAIMED
    out["diverted" if claimed else "not_claimed"] = kept
    landfill = int(line["landfill"])
    avoided = cells.per_kg.get((landfill, line["decay_class"], "within_100"))
    if line["before"] == "landfill" and avoided:
        out["landfill_avoided"] = f"{cell('diverted')}*{avoided}"
    if line["before"] != "donated as food" and line["kind"] in ("intake", REMOVED):
        out["process"] = f"({kept})*{cells.per_kg[landfill, '', PROCESS]}"
    if "funded" in at and not isnan(line["funded"]):
        for key, made in (("supported", "diverted"), ("supported_landfill", "landfill_avoided"),
                          ("supported_process", "process")):  # fmt: skip
            if made in out:
                out[key] = f"{cell(made)}*{cell('funded')}"
    return out
