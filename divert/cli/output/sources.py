"""What `divert sources` prints: each published number with where it stands written."""

from __future__ import annotations

from dataclasses import asdict
from typing import Any

from divert.factors import FactorSet, SourceRow, sources_table


def sources_text(factors: FactorSet) -> str:
    """Return the published numbers as text: value, as published, document, place, standing."""
    blocks = []
    for row in sources_table(factors):
        end = f" ({row.end})" if row.end else ""
        published = f', printed as "{row.as_published}"' if row.as_published else ""
        blocks.append(
            f"{row.key}{end}: {row.value} {row.unit}{published}\n"
            f"    {_citation(row)}; {row.standing}" + (f"; {row.note}" if row.note else "")
        )
    return "\n".join(blocks)


def _citation(row: SourceRow) -> str:
    year = f" ({row.year})" if row.year else ""
    return f"{row.document}{year}" + (f", {row.table}" if row.table else "")


def sources_json(factors: FactorSet) -> dict[str, Any]:
    """Return the published numbers as one object with the set's fingerprint."""
    return {
        "fingerprint": factors.fingerprint,
        "sources": [asdict(row) for row in sources_table(factors)],
    }
