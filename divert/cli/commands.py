"""The command line as a whole: it runs a command and tells every error in one line."""

from __future__ import annotations

import contextlib
import errno
import os
import sys
from typing import Any

import click

import divert.cli.command  # noqa: F401 - each command joins the group
from divert.cli.group import main_group
from divert.cli.terminal import COULD_NOT_RUN, DONE, hear_no_more

__all__ = ["main", "main_group"]


def _of_slip(slip: click.ClickException) -> str:
    """Return in one line what was wrong with a command; a command without any word gets the help."""
    context = getattr(slip, "ctx", None)
    if context is not None and slip.message == context.get_help():
        return slip.message
    command = "divert" if context is None else context.command_path
    words = " ".join(slip.format_message().split())
    stop = "" if words.endswith((".", "?")) else "."
    return f"{words}{stop} `{command} --help` says what there is."


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
    sys.exit(_heard(_status_of(given, debug)))


def _status_of(given: list[str], debug: bool) -> int:
    known: dict[str, Any] = {}
    try:
        return int(
            main_group.main(given, prog_name="divert", standalone_mode=False, obj=known) or DONE
        )
    except SystemExit as end:  # a command with a status of its own
        return end.code if isinstance(end.code, int) else COULD_NOT_RUN
    except BrokenPipeError:
        hear_no_more()
        return DONE
    except (click.Abort, KeyboardInterrupt):
        _say("Stopped.")
        return COULD_NOT_RUN
    except click.ClickException as slip:
        _say(_of_slip(slip))
        return COULD_NOT_RUN
    except Exception as problem:
        if debug:
            raise
        from divert.core.findings import CannotRun

        if isinstance(problem, CannotRun):
            _say(problem.message.say(known.get("language", "en")))
            return problem.exit_status
        _say(_of_system(problem) or f"Something went wrong that divert did not foresee: {problem!r}. "
             "Run the same command with --debug to see where.")  # fmt: skip
        return COULD_NOT_RUN


def _of_system(problem: Exception) -> str | None:
    """Return the sentence for what the system refused; None where the fault is our own."""
    if isinstance(problem, MemoryError) or getattr(problem, "errno", None) == errno.ENOMEM:
        return _NO_MEMORY
    if isinstance(problem, ImportError) and "failed to map segment" in str(problem):
        return _NO_MEMORY
    if isinstance(problem, RuntimeError) and "start new thread" in str(problem):
        problem = OSError(errno.EAGAIN, os.strerror(errno.EAGAIN))
    if not isinstance(problem, OSError) or problem.strerror is None:
        return None
    if problem.errno == errno.ENOSPC:
        return f"What was asked for cannot be written: {problem.strerror}."
    named = isinstance(problem.filename, str | bytes)  # else it is a number, or there is none
    where = f" ({os.fsdecode(problem.filename)})" if named else ""
    return (
        f"The system refused what this run needs: {problem.strerror}{where}. "
        "Run the same command with --debug to see where."
    )


_NO_MEMORY = "There is too little memory here for what was asked for."


def _say(line: str) -> None:
    """Say a line on standard error, or to nobody where that takes no more."""
    try:
        click.echo(line, err=True)
    except (OSError, ValueError):
        hear_no_more(sys.stderr)


def _heard(status: int) -> int:
    """Return the status once all that was said has been taken: what was lost is no success."""
    try:
        sys.stdout.flush()
    except BrokenPipeError:
        hear_no_more()
    except OSError as problem:
        hear_no_more()
        if status != COULD_NOT_RUN:  # else it was said already
            status = COULD_NOT_RUN
            _say(f"What was asked for cannot be written: {problem.strerror}.")
    with contextlib.suppress(OSError):
        sys.stderr.flush()
        return status
    hear_no_more(sys.stderr)
    return status
