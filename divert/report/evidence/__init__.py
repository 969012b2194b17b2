"""The workbook behind a report: ledger, factors and formulas that anyone can recalculate."""

from divert.report.evidence.book import evidence_workbook

__all__ = ["evidence_workbook"]
