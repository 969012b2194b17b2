"""Reading a folder: `divert begin` and `divert read`."""

from __future__ import annotations

import datetime as dt
from typing import TYPE_CHECKING

import click

from divert.cli.group import main_group
from divert.cli.options import (
    PathType,
    as_of_option,
    folder_argument,
    json_option,
    language_option,
    language_wanted,
)
from divert.cli.terminal import finish, open_counted, print_json, say_lines, speak

if TYPE_CHECKING:
    from pathlib import Path


@main_group.command()
@folder_argument
@language_option
def begin(folder: Path, language: str | None) -> None:
    """Make a site folder: a commented site.toml and a starter workbook."""
    from divert.site.begin import begin_site

    language = language_wanted(language)
    speak(language)
    for path in begin_site(folder, dt.date.today(), language):
        click.echo(path)


@main_group.command()
@folder_argument
@as_of_option
@json_option
@click.option("--every", is_flag=True, help="List every finding and every skipped row.")
@click.option("--ledger", "ledger_path", type=PathType(), metavar="FILE.csv",
              help="Write every used row, with its file, sheet and row.")  # fmt: skip
@click.option("--keep", is_flag=True, help="Keep how each sheet is read, in reading.toml.")
@click.option("--why", metavar="FILE!SHEET!COLUMN", help="Say why a column, or a row, is read so.")
@click.option("--changes", is_flag=True, help="Show row by row what differs from the last reading.")
def read(
    folder: Path, as_of: dt.date | None, as_json: bool, every: bool, ledger_path: Path | None,
    keep: bool, why: str | None, changes: bool,
) -> None:  # fmt: skip
    """Read everything; say what was understood, set aside, and looks wrong."""
    if keep:
        from divert.cli.keeping import keep_plans

        keep_plans(folder, as_of or dt.date.today(), say_lines, speak)
        return
    if changes:
        _changes(folder, as_of or dt.date.today())
        return
    workings = open_counted(folder, as_of)
    if why is not None:
        from divert.cli.output.why import why_lines

        say_lines(why_lines(workings.reading, why), workings.site.language)
        return
    # What needs pandas is imported after: it can load while the first spreadsheet is being opened.
    from divert.cli.output.reading import reading_json, reading_lines

    if ledger_path is not None:
        from divert.cli.output.ledger_file import ledger_csv
        from divert.core.ours import never_over_others
        from divert.core.safe_files import write_text

        never_over_others(ledger_path)
        write_text(ledger_path, ledger_csv(workings.ledger))
    if as_json:
        print_json(reading_json(workings))
    else:
        say_lines(reading_lines(workings, everything=every), workings.site.language)
    finish(workings, listed=not as_json)


def _changes(folder: Path, day: dt.date) -> None:
    """Say what differs from the last reading, before this one takes its place."""
    from divert.inventory.file import read_inventory

    then = read_inventory(folder)
    workings = open_counted(folder, day)
    from divert.inventory.changes import change_lines, changes

    say_lines(change_lines(changes(workings, then, day)), workings.site.language)
    finish(workings)
