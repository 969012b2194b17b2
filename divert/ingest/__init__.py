"""Spreadsheets to ledger entries."""

from divert.ingest.read import read_folder, read_with_plans

__all__ = ["read_folder", "read_with_plans"]
