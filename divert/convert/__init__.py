"""Ledger entries to masses, balance and emissions, with ranges."""

from divert.convert.workings import Workings, work_out

__all__ = ["Workings", "work_out"]
