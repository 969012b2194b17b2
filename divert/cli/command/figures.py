"""The numbers of a period: `divert figures`."""

from __future__ import annotations

import datetime as dt
from typing import TYPE_CHECKING

import click

from divert.cli.group import main_group
from divert.cli.options import as_of_option, folder_argument, json_option, period_option
from divert.cli.terminal import finish, open_counted, print_json, say_lines, speak

if TYPE_CHECKING:
    from pathlib import Path

    from divert.convert import Workings
    from divert.core.period import Period


@main_group.command()
@folder_argument
@period_option
@as_of_option
@json_option
@click.option("--csv", "as_csv", is_flag=True, help="Print figure, value pairs.")
@click.option("--sponsor", metavar="NAME", help="Add what one sponsor supplied and supported.")
@click.option(
    "--grant", metavar="NAME", help="A grant's figures since it began, now and as issued."
)
@click.option("--as-issued", is_flag=True, help="Show what issued reports said of this period.")
def figures(
    folder: Path, period: str, as_of: dt.date | None, as_json: bool, as_csv: bool,
    sponsor: str | None, grant: str | None, as_issued: bool,
) -> None:  # fmt: skip
    """Print the numbers of a period."""
    if as_issued:
        from divert.register import as_issued_json, as_issued_lines
        from divert.site.read import read_site

        site = read_site(folder)
        speak(site.language)
        if as_json:
            print_json(as_issued_json(site, period, sponsor))
        elif as_csv:
            from divert.cli.output.figures import issued_csv

            click.echo(issued_csv(as_issued_json(site, period, sponsor)), nl=False)
        else:
            say_lines(as_issued_lines(site, period, sponsor), site.language)
        return
    day = as_of or dt.date.today()
    workings = open_counted(folder, day)
    from divert.cli.output.figures import figure_lines, figures_csv
    from divert.figures.as_json import to_json
    from divert.figures.compute import figures_for
    from divert.inventory.open_site import period_of

    days = period_of(workings, period, day)
    if grant is not None:
        _figures_of_grant(workings, grant, days, day, as_json=as_json, as_csv=as_csv)
        finish(workings)
        return
    found = figures_for(workings, days, day, sponsor)
    if as_json:
        print_json(to_json(found))
    elif as_csv:
        click.echo(figures_csv(to_json(found)), nl=False)
    else:
        say_lines(figure_lines(found, workings.site), workings.site.language)
    finish(workings)


def _figures_of_grant(
    workings: Workings, name: str, days: Period, day: dt.date, *, as_json: bool, as_csv: bool
) -> None:
    from divert.cli.output.figures import figure_lines, figures_csv
    from divert.figures.as_json import to_json
    from divert.publish.grant_now import grant_json, grant_lines, grant_now

    now = grant_now(workings, name, days, day)
    if as_json:
        print_json(grant_json(now))
    elif as_csv:
        click.echo(figures_csv(to_json(now.total)), nl=False)
    else:
        site = workings.site
        say_lines([*figure_lines(now.total, site), *grant_lines(now, site.units)], site.language)
