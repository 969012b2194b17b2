"""What every command does with a terminal: counts while it works, speaks, and ends with a status."""

from __future__ import annotations

import datetime as dt
import os
import sys
import time
from contextlib import contextmanager, suppress
from typing import TYPE_CHECKING, Any, TextIO

import click

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Iterator
    from pathlib import Path

    from divert.convert import Workings
    from divert.core.words import Text

DONE, ROWS_SET_ASIDE, COULD_NOT_RUN = 0, 1, 2
EVERY_SECONDS = 0.1  # that a count on the screen moves


def open_counted(folder: Path, as_of: dt.date | None) -> Workings:
    from divert.inventory.open_site import open_site

    with counting("rows read") as progress:
        workings = open_site(folder, as_of=as_of, progress=progress, remember=True)
    speak(workings.site.language)
    return workings


def speak(language: str) -> None:
    """Speak the site's own language from here on, also where the command cannot go on."""
    click.get_current_context().ensure_object(dict)["language"] = language


@contextmanager
def counting(what: str) -> Iterator[Callable[[int], None] | None]:
    """Give a counter on standard error, gone again at the end; None where that is no terminal."""
    if not sys.stderr.isatty():
        yield None
        return
    said, width = 0.0, 0

    def show(count: int) -> None:
        nonlocal said, width
        if (now := time.monotonic()) - said > EVERY_SECONDS:
            line = f"{count:,} {what}"
            said, width = now, len(line)
            click.echo(f"\r{line}", nl=False, err=True)

    try:
        yield show
    finally:
        click.echo(f"\r{' ' * width}\r", nl=False, err=True)


def made_lines(language: str) -> Callable[[int, int, str], None]:
    """Return what says of each report of several that it is made: a line on standard error.

    A plain line, on a terminal or not: a log of a long run is as good to have as the sight of it.
    """
    from divert.core.words import N_, Text

    said = N_("Report {done} of {total}: {name}")

    def tell(done: int, total: int, name: str) -> None:
        if total > 1:
            values = {"done": done, "total": total, "name": name}
            click.echo(Text(said, values).say(language), err=True)

    return tell


def say_lines(lines: Iterable[Text], language: str) -> None:
    for line in lines:
        click.echo(line.say(language).rstrip())


def say_at_once(line: str) -> None:
    click.echo(line)
    sys.stdout.flush()


def print_json(value: Any) -> None:
    import json

    click.echo(json.dumps(value, ensure_ascii=False, indent=1, allow_nan=False))


def finish(workings: Workings, *, listed: bool = False) -> None:
    """Leave with 1 where anything was set aside that nobody has answered for, and say so.

    Input that is missing, unreadable or copied is named by every command, each with its mass;
    ``listed``: all of it stands in what was printed already.
    """
    from divert.cli.output.finish import finish_lines, open_rows

    aside = open_rows(workings)
    missing = [f for f in workings.findings if f.blocks and f.answer is None]
    if not aside and not missing:
        return
    if not listed:
        for line in finish_lines(aside, missing):
            click.echo(line.say(workings.site.language), err=True)
    sys.exit(ROWS_SET_ASIDE)


def hear_no_more(stream: TextIO | None = None) -> None:
    """Let what is still to be printed go nowhere: whoever read it has gone, or can take no more."""
    with suppress(OSError, ValueError):
        os.dup2(os.open(os.devnull, os.O_WRONLY), (stream or sys.stdout).fileno())
