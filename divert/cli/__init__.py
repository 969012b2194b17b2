"""The command line: each command is a few lines over a step that programs can call too."""

from divert.cli.commands import main

__all__ = ["main"]
