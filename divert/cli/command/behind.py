"""What stands behind a figure: `divert trace` and `divert sources`."""

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
    language_wanted,
    period_option,
)
from divert.cli.terminal import finish, open_counted, print_json, say_lines

if TYPE_CHECKING:
    from pathlib import Path


@main_group.command()
@folder_argument
@click.argument("figure")
@period_option
@as_of_option
@json_option
@click.option("--sponsor", metavar="NAME", help="Needed for supplied and supported figures.")
def trace(
    folder: Path, figure: str, period: str, as_of: dt.date | None, as_json: bool,
    sponsor: str | None,
) -> None:  # fmt: skip
    """Walk one figure back to rows, factors and sources."""
    day = as_of or dt.date.today()
    workings = open_counted(folder, day)
    from divert.inventory.open_site import period_of
    from divert.trace import trace as walk
    from divert.trace import trace_json, trace_lines

    walked = walk(workings, figure, period_of(workings, period, day), day, sponsor)
    if as_json:
        print_json(trace_json(walked))
    else:
        say_lines(trace_lines(walked), workings.site.language)
    finish(workings)


@main_group.command()
@click.argument("folder", type=PathType(), required=False)
@json_option
def sources(folder: Path | None, as_json: bool) -> None:
    """List the published numbers in use, with document, table, year and standing."""
    from divert.cli.output.sources import sources_json, sources_text
    from divert.factors import load_factors
    from divert.site.document import there_is_a_folder
    from divert.site.read import site_language

    if folder is not None:
        there_is_a_folder(folder)
    factors = load_factors(folder)
    if as_json:
        print_json(sources_json(factors))
    else:
        language = language_wanted(None) if folder is None else site_language(folder)
        click.echo(sources_text(factors, language))
