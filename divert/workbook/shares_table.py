"""The table of shares on the Factors sheet: over which loads removed and residue were shared out."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping, Sequence
from typing import Any

import numpy as np
import pandas as pd

from divert.core.period import months_on
from divert.evidence.lines import REMOVED
from divert.evidence.spreading import KEYS, YEAR, Pool, shared_out
from divert.workbook.cells import FACTORS, Styles, put_date, put_formula, put_row
from divert.workbook.factors_sheet import SHARES, open_table
from divert.workbook.formulas import Cells, Writer

Parts = Mapping[Pool, Mapping[tuple[str, ...], float]]
_KEYS = ("pool", "over", "from", "to", *KEYS, "kg", "share")
_FROM, _TO, _KG, _SHARE = "C", "D", "I", "J"


def share_addresses(
    derived: pd.DataFrame, first_row: int
) -> tuple[Parts, dict[tuple[Pool, tuple[str, ...]], str], int]:
    """Return the pools of lines with their masses, the cell of each share, and the first free row.

    ``first_row`` counts from 0; the pools and what is in them are in a fixed order.
    """
    removed = np.where(derived["kind"] == REMOVED, derived["removed"], 0.0)
    own = derived["own_net"].to_numpy()
    by_month = [over for over in derived["spread"].unique() if over not in ("", YEAR)]
    found = {
        **shared_out(derived, own, *by_month).parts,
        **shared_out(derived, own - removed, YEAR).parts,
    }
    pools = {
        pool: dict(sorted(found[pool].items()))
        for pool in sorted(found, key=lambda p: (p.month, p.over, p.source))
    }
    if not pools:
        return {}, {}, first_row
    row = first_row + 3
    at = {}
    for pool, parts in pools.items():
        for keys in parts:
            row += 1
            at[pool, keys] = f"'{FACTORS}'!${_SHARE}${row}"
    return pools, at, row + 1


def write_shares(
    sheet: Any, first_row: int, pools: Parts, cells: Cells, look: Styles, language: str
) -> None:
    """Write the pools where :func:`share_addresses` says."""
    if not pools:
        return
    row = open_table(sheet, first_row, SHARES, _KEYS, look, language)
    for number, (pool, parts) in enumerate(pools.items(), start=1):
        whole = sum(parts.values())
        kg_cells = f"${_KG}${row + 1}:${_KG}${row + len(parts)}"
        for keys, kg in parts.items():
            put_row(sheet, row, (number, pool.over), {str: look.text})
            put_date(sheet, row, 2, _first(pool.first_month), look.date)
            put_date(sheet, row, 3, _first(pool.month + 1) - dt.timedelta(days=1), look.date)
            put_row(sheet, row, (None, None, None, None, *keys), {str: look.text})
            put_formula(sheet, row, 8, _weight(pool, keys, row + 1, cells), look.formula, kg)
            share = f"${_KG}${row + 1}/SUM({kg_cells})"
            put_formula(sheet, row, 9, share, look.formula, kg / whole)
            row += 1


def _weight(pool: Pool, keys: Sequence[str], row: int, cells: Cells) -> str:
    """Return the formula of what loads of one kind weigh in a pool: received less removed."""
    write = Writer(cells, "", f"${_FROM}{row}", f"${_TO}{row}", lambda _path: "0")
    where = tuple(zip(KEYS, keys, strict=True))
    net = write.total("own_net", where)
    if pool.over != YEAR:
        return net
    return f"{net}-{write.total('removed', (('kind', REMOVED), *where))}"


def _first(month: int) -> dt.date:
    return months_on(dt.date(1970, 1, 1), month)
