"""Compost that a source is said to have brought: it may be what the source calls its food scraps."""

from __future__ import annotations

import numpy as np
import pandas as pd

from divert.core.findings import Finding
from divert.core.words import N_, Text
from divert.ingest.checks.corrections import where_of
from divert.ingest.known import Known


def products_received(entries: pd.DataFrame, known: Known) -> list[Finding]:
    """Return a query for each product of the site's own that intake names."""
    if entries.empty:
        return []
    kinds, materials = entries["kind"], entries["material"]
    hit = (kinds == "intake") & materials.isin(known.products)
    hit &= entries["before"].isna()
    findings = []
    for material in sorted(set(materials[hit])):
        rows = np.flatnonzero((hit & (materials == material)).to_numpy())
        message = Text(
            N_("“{material}” is said to have come in; it is listed as moved, not received."),
            {"material": material},
        )
        hint = Text(
            N_(
                "If that is what the source calls its scraps, "
                "add the word to “also” of that material in site.toml."
            )
        )
        where = where_of(entries, int(rows[0]))
        code = "unknown material"
        findings.append(Finding("query", code, message, where, hint, material, len(rows), material))
    return findings
