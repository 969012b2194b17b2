"""From a plan and the cells to everything a table is read with; nothing is guessed here."""
