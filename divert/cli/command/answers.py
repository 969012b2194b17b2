"""The open questions, in the terminal or on the page: `divert answer` and `divert open`."""

from __future__ import annotations

import datetime as dt
from typing import TYPE_CHECKING

import click

from divert.cli.group import main_group
from divert.cli.options import PathType, as_of_option, folder_argument
from divert.cli.terminal import open_counted, say_at_once

if TYPE_CHECKING:
    from pathlib import Path

    from divert.core.words import Text


@main_group.command()
@folder_argument
@as_of_option
@click.option("--by", default="", metavar="INITIALS", help="Who answers.")
def answer(folder: Path, as_of: dt.date | None, by: str) -> None:
    """Walk through the open questions; write the answers into site.toml."""
    day = as_of or dt.date.today()
    workings = open_counted(folder, day)
    from divert.cli.answering import Terminal, answer_all

    language = workings.site.language

    def ask(text: Text) -> str:
        return str(click.prompt(text.say(language), default="", show_default=False))

    def say(text: Text) -> None:
        click.echo(text.say(language))

    answer_all(workings, day, by, Terminal(ask, say))


@main_group.command("open")
@click.argument("folder", type=PathType(), required=False)
@as_of_option
@click.option("--no-browser", is_flag=True, help="Only print the page's address.")
@click.option("--shortcut", is_flag=True, help="Leave something to double-click on the desktop.")
def open_(folder: Path | None, as_of: dt.date | None, no_browser: bool, shortcut: bool) -> None:
    """Open the page: everything, in the browser that you have, on this computer only."""
    if shortcut:
        from divert.page.shortcut import make_shortcut

        click.echo(make_shortcut(folder))
        return
    from divert.cli.output.check import site_language
    from divert.page.open_page import open_page

    ended = open_page(folder, as_of=as_of, browser=not no_browser, say=say_at_once)
    click.echo(ended.say("en" if folder is None else site_language(folder)), err=True)
