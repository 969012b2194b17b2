"""Figures on their way to paper: rounded once, kept with what they stand for, added up in tables."""
