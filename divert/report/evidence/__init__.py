"""The workbook behind a report: ledger, factors and formulas that anyone can recalculate."""
