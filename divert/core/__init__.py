"""What every stage knows: words, periods, units, the ledger's shape, findings, safe files."""
