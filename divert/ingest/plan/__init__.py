"""What a sheet's cells are taken for, as data: found, written, read back, explained."""
