"""What a sponsor reads: their share, what became of it, and how it was found."""
