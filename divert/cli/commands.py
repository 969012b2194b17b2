"""The command line as a whole: it runs a command and tells every error in one line."""

from __future__ import annotations

import errno
import os
import sys
from typing import Any

import click

import divert.cli.command  # noqa: F401 - each command joins the group
from divert.cli.group import main_group
from divert.cli.terminal import COULD_NOT_RUN, DONE, hear_no_more

__all__ = ["main", "main_group"]


def _say_slip(slip: click.ClickException) -> None:
    """Say in one line what was wrong with a command; a command without any word gets the help."""
    context = getattr(slip, "ctx", None)
    if context is not None and slip.message == context.get_help():
        click.echo(slip.message, err=True)
        return
    command = "divert" if context is None else context.command_path
    words = " ".join(slip.format_message().split())
    stop = "" if words.endswith((".", "?")) else "."
    click.echo(f"{words}{stop} `{command} --help` says what there is.", err=True)


def _with_all_streams() -> None:
    """Put the null device where a stream was closed: else the next file opened would take its place."""
    for number, name in enumerate(("stdin", "stdout", "stderr")):
        try:
            os.fstat(number)
        except OSError:
            os.open(os.devnull, os.O_RDWR)  # takes the lowest number that is free: this one
        if getattr(sys, name) is None:
            setattr(sys, name, os.fdopen(number, "r" if name == "stdin" else "w", closefd=False))


def main(arguments: list[str] | None = None) -> None:
    """Run the command line; every error a user can cause is one line and exit status 2."""
    _with_all_streams()
    given = sys.argv[1:] if arguments is None else arguments
    debug = "--debug" in given
    if debug:
        os.environ["DIVERT_DEBUG"] = "1"
    # --debug may stand anywhere: click would only take it before the command.
    given = (["--debug"] if debug else []) + [a for a in given if a != "--debug"]
    known: dict[str, Any] = {}
    try:
        status = main_group.main(given, prog_name="divert", standalone_mode=False, obj=known)
        sys.exit(status or DONE)
    except BrokenPipeError:
        hear_no_more()
        sys.exit(DONE)
    except (click.Abort, KeyboardInterrupt):
        click.echo("Stopped.", err=True)
        sys.exit(COULD_NOT_RUN)
    except click.ClickException as slip:
        _say_slip(slip)
        sys.exit(COULD_NOT_RUN)
    except Exception as problem:
        if debug:
            raise
        from divert.core.findings import CannotRun

        if isinstance(problem, CannotRun):
            click.echo(problem.message.say(known.get("language", "en")), err=True)
            sys.exit(problem.exit_status)
        if isinstance(problem, OSError) and problem.errno == errno.ENOSPC:
            click.echo(f"What was asked for cannot be written: {problem.strerror}.", err=True)
            sys.exit(COULD_NOT_RUN)
        click.echo(
            f"Something went wrong that divert did not foresee: {problem!r}. "
            "Run the same command with --debug to see where.",
            err=True,
        )
        sys.exit(COULD_NOT_RUN)
