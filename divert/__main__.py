"""``python -m divert``."""

from divert.cli.commands import main

main()
