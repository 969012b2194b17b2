"""Loads on sheets of weighings that came from a source, and stand on no log of what came in.

A weighing may only test how heavy a full tote is; one that names whom the tote came from, on a day
on which nothing from there is logged, may be the only record of a load.
"""

from __future__ import annotations

import numpy as np
import pandas as pd

from divert.core.findings import Finding
from divert.core.words import N_, Text
from divert.ingest.checks.corrections import where_of

_CODE = "weighed, not received"


def weighed_only(entries: pd.DataFrame) -> list[Finding]:
    """Return a query for each sheet of weighings whose loads no log of intake has on their day."""
    weighed = (entries["kind"] == "weigh-in") & entries["source"].notna()
    if not weighed.any():
        return []
    keys = pd.MultiIndex.from_arrays([entries["source"].astype(object), entries["date"]])
    logged = keys[(entries["kind"] == "intake").to_numpy()]
    alone = weighed.to_numpy() & ~keys.isin(logged)
    findings = []
    sheets = entries.loc[alone, ["file", "sheet"]].astype(object).drop_duplicates()
    for file, sheet in sheets.itertuples(index=False):
        of_sheet = entries["sheet"].isna() if pd.isna(sheet) else entries["sheet"] == sheet
        here = (entries["file"] == file) & of_sheet
        rows = np.flatnonzero(alone & here.to_numpy())
        message = Text(
            N_(
                "Weighings here that name a source, on days without intake from it: {count}; "
                "weighings are not counted as received."
            ),
            {"count": len(rows)},
        )
        hint = Text(
            N_(
                'If they are loads that came in, write holds = "intake" for this sheet under [[sheet]].'
            )
        )
        where = where_of(entries, int(rows[0]))
        name = "!".join(
            part for part in (str(file), sheet if isinstance(sheet, str) else "") if part
        )
        found = str(entries["source"].iloc[int(rows[0])])
        findings.append(Finding("query", _CODE, message, where, hint, found, len(rows), name))
    return findings
