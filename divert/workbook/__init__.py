"""The evidence as a workbook: ledger, factors and formulas that anyone can recalculate."""
