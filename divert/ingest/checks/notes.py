"""Notes that say a load should not count: it is counted, and asked about."""

from __future__ import annotations

import re

import numpy as np
import pandas as pd

from divert.core.findings import Finding
from divert.core.names import plain
from divert.core.words import N_, Text
from divert.ingest.checks.corrections import where_of
from divert.ingest.lexicon import phrases, words


def not_to_count(entries: pd.DataFrame) -> list[Finding]:
    """Return a query for each note beside a load that says not to count it; one for equal notes."""
    notes = entries["note"]
    anywhere, first = (
        phrases(map(plain, words("marks")[name])) for name in ("not_counted", "twice")
    )
    asks = re.compile(rf"\b(?:{anywhere})\b|^(?:{first})\b")
    findings = []
    for note in notes.dropna().unique():
        if not asks.search(plain(str(note))):
            continue
        rows = np.flatnonzero((notes == note).to_numpy())
        findings.append(
            Finding(
                "query",
                "note says not to count",
                Text(N_("A note says “{note}”, and the load is counted."), {"note": str(note)}),
                where_of(entries, int(rows[0])),
                Text(
                    N_(
                        "Delete the row if it should not count, or say under [[answer]] that it should."
                    )
                ),
                str(entries["found"].iat[rows[0]]),
                len(rows),
                str(note),
            )
        )
    return findings
