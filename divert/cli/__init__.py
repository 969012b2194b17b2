"""The command line: each command is a few lines over a step that programs can call too."""
