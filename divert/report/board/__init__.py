"""What a board reads once a year: four numbers, then one finding to a half page."""
