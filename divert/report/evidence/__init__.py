"""The workbook behind a report: ledger, factors and formulas that anyone can recalculate."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from divert.report.evidence.book import evidence_workbook as evidence_workbook

__all__ = ["evidence_workbook"]


def __getattr__(name: str) -> Any:
    # Loaded when asked for: the process that takes a PDF apart needs only the names of sheets.
    if name == "evidence_workbook":
        from divert.report.evidence.book import evidence_workbook

        return evidence_workbook
    raise AttributeError(name)
