"""Which day each row is of: the order of its date's parts, its year, and what stands around it."""
