"""Converted entries to the one set of figures every output prints."""
