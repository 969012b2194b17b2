"""Many yards as one: `divert together`."""

from __future__ import annotations

import datetime as dt
import sys
from typing import TYPE_CHECKING

import click

from divert.cli.group import main_group
from divert.cli.options import PathType, as_of_option, formats_of, json_option, period_option
from divert.cli.terminal import DONE, ROWS_SET_ASIDE, counting, print_json, say_lines, speak

if TYPE_CHECKING:
    from pathlib import Path


@main_group.command()
@click.argument("where", metavar="FOLDER|LIST.toml", type=PathType())
@period_option
@as_of_option
@json_option
@click.option("--csv", "as_csv", is_flag=True, help="Print a row for each yard, and the total.")
@click.option("--scheduler", metavar="ADDRESS",
              help="A Dask scheduler to use (default: the cores of this machine).")  # fmt: skip
@click.option("--as", "formats", default=None, metavar="pdf,html,xlsx",
              help="Also write the statement of all yards in these formats.")  # fmt: skip
@click.option("--out", type=PathType(), default=None, metavar="DIR",
              help="Where to put it (default: reports/PERIOD beside the yards).")  # fmt: skip
def together(
    where: Path, period: str, as_of: dt.date | None, as_json: bool, as_csv: bool,
    scheduler: str | None, formats: str | None, out: Path | None,
) -> None:  # fmt: skip
    """Print many yards as one: their sum, with its own range."""
    from divert.cli.output.together import region_lines, yards_csv
    from divert.region.result import to_json
    from divert.region.together import together as sum_up

    wanted = None if formats is None and out is None else formats_of(formats or "pdf,html,xlsx")
    with counting("yards read") as progress:
        found = sum_up(where, period, as_of, scheduler=scheduler, progress=progress)
    speak(found.language)
    if as_json:
        print_json(to_json(found))
    elif as_csv:
        click.echo(yards_csv(to_json(found)), nl=False)
    else:
        say_lines(region_lines(found), found.language)
    if wanted is not None:
        from divert.region.statement.write import write_statement

        beside = where if where.is_dir() else where.parent
        for path in write_statement(found, out or beside / "reports", wanted):
            click.echo(path, err=as_json or as_csv)
    sys.exit(DONE if found.whole else ROWS_SET_ASIDE)
