"""Published numbers as data files, each with its source, and their loader."""
