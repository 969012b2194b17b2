"""Spreadsheets to ledger entries."""

from divert.ingest.read import read_folder

__all__ = ["read_folder"]
