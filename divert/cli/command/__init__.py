"""The commands, each a few lines over a step that programs can call too."""

from divert.cli.command import answers, behind, demo, figures, read, report, together

__all__ = ["answers", "behind", "demo", "figures", "read", "report", "together"]
