"""The words of all three reports: dates, masses, units, names, the method box and the cautions."""
