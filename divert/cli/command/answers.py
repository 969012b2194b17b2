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

    from divert.cli.answering import Terminal
    from divert.core.words import Text


@main_group.command()
@folder_argument
@as_of_option
@click.option("--by", default="", metavar="INITIALS", help="Who answers.")
@click.option("--earlier", is_flag=True, help="List the earlier versions of site.toml.")
@click.option("--back", type=int, metavar="NUMBER", help="Bring an earlier version back.")
def answer(folder: Path, as_of: dt.date | None, by: str, earlier: bool, back: int | None) -> None:
    """Walk through the open questions; write the answers into site.toml."""
    if earlier or back is not None:
        _earlier(folder, back)
        return
    day = as_of or dt.date.today()
    workings = open_counted(folder, day)
    from divert.cli.answering import answer_all

    answer_all(workings, day, by, _terminal(workings.site.language))


def _terminal(language: str) -> Terminal:
    from divert.cli.answering import Terminal

    def ask(text: Text) -> str:
        return str(click.prompt(text.say(language), default="", show_default=False))

    def say(text: Text) -> None:
        click.echo(text.say(language))

    return Terminal(ask, say)


def _earlier(folder: Path, back: int | None) -> None:
    """List what is kept, or bring one back; site.toml itself may hold a mistake meanwhile."""
    from divert.cli.earlier import bring_back, earlier_lines
    from divert.site.document import there_is_a_folder
    from divert.site.read import site_language

    there_is_a_folder(folder)
    terminal = _terminal(site_language(folder))
    if back is not None:
        bring_back(folder, back, terminal)
        return
    for line in earlier_lines(folder):
        terminal.say(line)


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
    from divert.page.open_page import open_page
    from divert.site.read import site_language

    ended = open_page(folder, as_of=as_of, browser=not no_browser, say=say_at_once)
    click.echo(ended.say("en" if folder is None else site_language(folder)), err=True)
