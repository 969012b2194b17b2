"""Converted entries to the one set of figures every output prints."""

from divert.tally.compute import figures_for

__all__ = ["figures_for"]
