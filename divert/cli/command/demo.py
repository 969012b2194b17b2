"""The sample site with all its reports: `divert demo`."""

from __future__ import annotations

import datetime as dt
from typing import TYPE_CHECKING

import click

from divert.cli.group import main_group
from divert.cli.options import PathType, as_of_option
from divert.cli.terminal import made_lines

if TYPE_CHECKING:
    from pathlib import Path


@main_group.command()
@click.argument("folder", type=PathType(), default="kestrel-bend")
@as_of_option
def demo(folder: Path, as_of: dt.date | None) -> None:
    """Copy the sample site and make all its reports."""
    from divert.publish.demonstration import make_demo

    paths = make_demo(folder, as_of or dt.date.today(), made_lines("en"))
    for path in paths:
        click.echo(path)
