"""Reports and what became of them: `divert report`, `divert sent`, `divert check` and `divert recheck`."""

from __future__ import annotations

import datetime as dt
import sys
from typing import TYPE_CHECKING

import click

from divert.cli.group import main_group
from divert.cli.options import (
    PathType,
    as_of_option,
    folder_argument,
    formats_of,
    json_option,
    period_option,
    reader_named,
)
from divert.cli.terminal import (
    DONE,
    ROWS_SET_ASIDE,
    finish,
    hear_no_more,
    made_lines,
    open_counted,
    print_json,
    say_lines,
    speak,
)

if TYPE_CHECKING:
    from pathlib import Path

    from divert.evidence.sharing import Audience


@main_group.command()
@folder_argument
@click.option("--for", "audience", required=True, type=click.Choice(["sponsor", "grant", "board"]))
@period_option
@as_of_option
@click.option("--sponsor", metavar="NAME", help="One sponsor (default: all).")
@click.option("--grant", metavar="NAME", help="One grant (default: all).")
@click.option(
    "--as",
    "formats",
    default="pdf,html,xlsx",
    metavar="pdf,html,xlsx",
    help="Kinds of files to make (default: all three).",
)
@click.option("--out", type=PathType(), default=None, metavar="DIR",
              help="Where to put them (default: FOLDER/reports/PERIOD).")  # fmt: skip
@click.option("--issue", is_flag=True, help="Remember these reports as sent, under a number.")
@click.option("--withdraws", metavar="NUMBER", help="The issued report that this one withdraws.")
@click.option("--adds", is_flag=True, help="Let the one issued before stand beside this one.")
def report(
    folder: Path, audience: Audience, period: str, as_of: dt.date | None, sponsor: str | None,
    grant: str | None, formats: str, out: Path | None, issue: bool, withdraws: str | None,
    adds: bool,
) -> None:  # fmt: skip
    """Make the reports of a period."""
    from divert.inventory.open_site import period_of
    from divert.publish.write import write_reports

    day = as_of or dt.date.today()
    wanted = formats_of(formats)
    name = reader_named(audience, {"sponsor": sponsor, "grant": grant})
    workings = open_counted(folder, day)
    paths = write_reports(
        workings, audience, period_of(workings, period, day), day,
        names=None if name is None else (name,), formats=wanted, out=out, issue=issue,
        withdraws=withdraws, adds=adds, progress=made_lines(workings.site.language),
    )  # fmt: skip
    for path in paths:
        click.echo(path)
    finish(workings)


@main_group.command()
@folder_argument
@as_of_option
@json_option
@click.option("--withdraw", metavar="NUMBER", help="Take a sent report back; none replaces it.")
@click.option("--because", default="", metavar="WORDS", help="Why it is withdrawn.")
def sent(
    folder: Path, as_of: dt.date | None, as_json: bool, withdraw: str | None, because: str
) -> None:
    """List what was issued, and what has moved since."""
    day = as_of or dt.date.today()
    workings = open_counted(folder, day)
    if withdraw is not None or because:
        from divert.publish.taken_back import take_back

        take_back(workings.site.folder, withdraw or "", day, because)
    from divert.publish.sent import sent_json, sent_lines, sent_reports

    reports = sent_reports(workings, day)
    if as_json:
        print_json(sent_json(reports))
    else:
        say_lines(sent_lines(reports, workings.site), workings.site.language)
    finish(workings)


@main_group.command()
@folder_argument
@click.option("--mend", is_flag=True, help="Make the register whole from what is kept.")
@json_option
def check(folder: Path, mend: bool, as_json: bool) -> None:
    """Say whether all that was issued is still there and whole."""
    from divert.cli.output.check import check_json, check_lines
    from divert.register.check import check_register, mend_register
    from divert.site.document import there_is_a_folder
    from divert.site.read import site_language

    there_is_a_folder(folder)
    language = site_language(folder)
    speak(language)
    back = mend_register(folder).back if mend else None
    found = check_register(folder)
    if as_json:
        print_json(check_json(found, back))
    else:
        say_lines(check_lines(found, back, folder), language)
    sys.exit(ROWS_SET_ASIDE if found.wrong else DONE)


@main_group.command()
@click.argument("file", type=PathType())
@click.option("--site", type=PathType(), help="Also compare with its register.")
@click.option("--key", metavar="KEY", help="The key that should have signed it, or a file of it.")
@json_option
def recheck(file: Path, site: Path | None, key: str | None, as_json: bool) -> None:
    """Recompute a report from the evidence in it; say whether each figure holds."""
    from divert.recheck import recheck as check
    from divert.recheck import recheck_json, recheck_lines

    found = check(file, site, key)
    status = DONE if found.holds else ROWS_SET_ASIDE
    try:
        if as_json:
            print_json(recheck_json(found))
        else:
            say_lines(recheck_lines(found), found.language)
        sys.stdout.flush()
    except (
        BrokenPipeError
    ):  # who reads the verdict may leave; the status is the verdict all the same
        hear_no_more()
    sys.exit(status)
