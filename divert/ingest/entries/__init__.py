"""The rows of one table as ledger entries, set aside or skipped, each accounted for once."""
