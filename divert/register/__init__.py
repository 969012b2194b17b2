"""Reports that remember: what was issued, to whom, and what has moved since."""
