"""``python -m divert``."""

from divert.cli import main

main()
