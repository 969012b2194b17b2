"""The version of the calculation and of what it writes; CHANGES.md says what moved with each."""

__version__ = "0.4.3"
