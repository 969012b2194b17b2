"""Ledger entries to masses, balance and emissions, with ranges."""
