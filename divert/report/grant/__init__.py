"""What a funder reads: the statement, its tables, and every number with its source."""
