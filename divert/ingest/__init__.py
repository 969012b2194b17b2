"""Spreadsheets to ledger entries."""
