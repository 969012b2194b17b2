"""What `divert sources` prints: each published number with where it stands written."""

from __future__ import annotations

from dataclasses import asdict
from typing import Any

from divert.core.words import N_, Text
from divert.factors import FactorSet, SourceRow, sources_table
from divert.figures.numbers.factor_words import end_said, standing_said, unit_said
from divert.figures.numbers.written import decimal_mark


def sources_text(factors: FactorSet, language: str = "en") -> str:
    """Return the published numbers as text: value, as published, document, place, standing.

    What a document prints stays as it prints it; all around it is in the ``language``.
    """
    return "\n".join(f"{_number(row, language)}\n    {_standing(row, language)}"
                     for row in sources_table(factors))  # fmt: skip


def _number(row: SourceRow, language: str) -> str:
    end = f" ({end_said(row.end, language)})" if row.end else ""
    values = {"key": f"{row.key}{end}", "value": _digits(row.value, language),
              "unit": unit_said(row.unit, language), "published": row.as_published}  # fmt: skip
    if not row.as_published:
        return Text(N_("{key}: {value} {unit}"), values).say(language)
    return Text(N_('{key}: {value} {unit}, printed as "{published}"'), values).say(language)


def _digits(value: str, language: str) -> str:
    return value if language == "en" else value.replace(".", decimal_mark(language))


def _standing(row: SourceRow, language: str) -> str:
    said = [
        _citation(row),
        standing_said(row.standing, language),
        *([row.note] if row.note else []),
    ]
    return Text(N_("; ")).say(language).join(said)


def _citation(row: SourceRow) -> str:
    year = f" ({row.year})" if row.year else ""
    return f"{row.document}{year}" + (f", {row.table}" if row.table else "")


def sources_json(factors: FactorSet) -> dict[str, Any]:
    """Return the published numbers as one object with the set's fingerprint."""
    return {
        "fingerprint": factors.fingerprint,
        "sources": [asdict(row) for row in sources_table(factors)],
    }
