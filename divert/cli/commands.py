"""The command line: each command is a few lines over a step that programs can call too."""

from __future__ import annotations

import datetime as dt
import errno
import os
import sys
import time
from contextlib import contextmanager, suppress
from typing import TYPE_CHECKING, Any

import click

from divert.core.version import __version__

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Iterator
    from pathlib import Path

    from divert.convert import Workings
    from divert.core.period import Period
    from divert.core.words import Text
    from divert.evidence.sharing import Audience

DONE, ROWS_SET_ASIDE, COULD_NOT_RUN = 0, 1, 2
EVERY_SECONDS = 0.1  # that a count on the screen moves


class _Path(click.ParamType):  # type: ignore[type-arg]
    name = "path"

    def convert(self, value: Any, param: Any, ctx: Any) -> Path:
        from pathlib import Path  # only once a command runs: --help stays quick

        return Path(value)


class _Day(click.ParamType):  # type: ignore[type-arg]
    name = "day"

    def convert(self, value: Any, param: Any, ctx: Any) -> dt.date:
        if isinstance(value, dt.date):
            return value
        try:
            return dt.date.fromisoformat(value)
        except ValueError:
            self.fail(f'"{value}" is not a day such as 2025-07-01', param, ctx)


_folder = click.argument("folder", type=_Path())
_period = click.option("--period", required=True, metavar="P", help="2025, 2025-Q2, 2025-03, "
                       "2025-03/2025-05, 2025-03-15/2025-06-01 or all.")  # fmt: skip
_as_of = click.option(
    "--as-of", type=_Day(), default=None, metavar="DATE", help="Today's date to use."
)
_json = click.option("--json", "as_json", is_flag=True, help="Print one JSON object.")


@click.group(context_settings={"help_option_names": ["--help", "-h"]})
@click.option("--debug", is_flag=True, help="Show the full error where something fails.")
@click.version_option(__version__, prog_name="divert")
@click.pass_context
def main_group(ctx: click.Context, debug: bool) -> None:
    """Turn a compost site's intake sheets into tonnes that can be walked back to the bucket."""
    ctx.ensure_object(dict)["debug"] = debug


@main_group.command()
@_folder
def begin(folder: Path) -> None:
    """Make a site folder: a commented site.toml and a starter workbook."""
    from divert.site.begin import begin_site

    for path in begin_site(folder, dt.date.today()):
        click.echo(path)


@main_group.command()
@_folder
@_as_of
@_json
@click.option("--every", is_flag=True, help="List every finding and every skipped row.")
@click.option("--ledger", "ledger_path", type=_Path(), metavar="FILE.csv",
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

        keep_plans(folder, as_of or dt.date.today(), _say, _speak)
        return
    if changes:
        _changes(folder, as_of or dt.date.today())
        return
    workings = _open(folder, as_of)
    if why is not None:
        from divert.cli.output.why import why_lines

        _say(why_lines(workings.reading, why), workings.site.language)
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
        _print_json(reading_json(workings))
    else:
        _say(reading_lines(workings, everything=every), workings.site.language)
    _finish(workings, listed=not as_json)


def _changes(folder: Path, day: dt.date) -> None:
    """Say what differs from the last reading, before this one takes its place."""
    from divert.inventory.file import read_inventory

    then = read_inventory(folder)
    workings = _open(folder, day)
    from divert.inventory.changes import change_lines, changes

    _say(change_lines(changes(workings, then, day)), workings.site.language)
    _finish(workings)


@main_group.command()
@_folder
@_period
@_as_of
@_json
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
        _speak(site.language)
        if as_json:
            _print_json(as_issued_json(site, period, sponsor))
        elif as_csv:
            from divert.cli.output.figures import issued_csv

            click.echo(issued_csv(as_issued_json(site, period, sponsor)), nl=False)
        else:
            _say(as_issued_lines(site, period, sponsor), site.language)
        return
    day = as_of or dt.date.today()
    workings = _open(folder, day)
    from divert.cli.output.figures import figure_lines, figures_csv
    from divert.figures.compute import figures_for
    from divert.figures.contract import to_json
    from divert.inventory.open_site import period_of

    days = period_of(workings, period, day)
    if grant is not None:
        _figures_of_grant(workings, grant, days, day, as_json=as_json, as_csv=as_csv)
        _finish(workings)
        return
    found = figures_for(workings, days, day, sponsor)
    if as_json:
        _print_json(to_json(found))
    elif as_csv:
        click.echo(figures_csv(to_json(found)), nl=False)
    else:
        _say(figure_lines(found, workings.site), workings.site.language)
    _finish(workings)


def _figures_of_grant(
    workings: Workings, name: str, days: Period, day: dt.date, *, as_json: bool, as_csv: bool
) -> None:
    from divert.cli.output.figures import figure_lines, figures_csv
    from divert.figures.contract import to_json
    from divert.publish.grant_now import grant_json, grant_lines, grant_now

    now = grant_now(workings, name, days, day)
    if as_json:
        _print_json(grant_json(now))
    elif as_csv:
        click.echo(figures_csv(to_json(now.total)), nl=False)
    else:
        site = workings.site
        _say([*figure_lines(now.total, site), *grant_lines(now, site.units)], site.language)


@main_group.command()
@_folder
@_as_of
@_json
def sent(folder: Path, as_of: dt.date | None, as_json: bool) -> None:
    """List what was issued, and what has moved since."""
    day = as_of or dt.date.today()
    workings = _open(folder, day)
    from divert.publish.sent import sent_json, sent_lines, sent_reports

    reports = sent_reports(workings, day)
    if as_json:
        _print_json(sent_json(reports))
    else:
        _say(sent_lines(reports, workings.site), workings.site.language)
    _finish(workings)


@main_group.command()
@_folder
@click.option("--for", "audience", required=True, type=click.Choice(["sponsor", "grant", "board"]))
@_period
@_as_of
@click.option("--sponsor", metavar="NAME", help="One sponsor (default: all).")
@click.option("--grant", metavar="NAME", help="One grant (default: all).")
@click.option(
    "--as",
    "formats",
    default="pdf,html,xlsx",
    metavar="pdf,html,xlsx",
    help="Kinds of files to make (default: all three).",
)
@click.option("--out", type=_Path(), default=None, metavar="DIR",
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
    wanted = _formats(formats)
    name = _reader(audience, {"sponsor": sponsor, "grant": grant})
    workings = _open(folder, day)
    paths = write_reports(
        workings, audience, period_of(workings, period, day), day,
        names=None if name is None else (name,), formats=wanted, out=out, issue=issue,
        withdraws=withdraws, adds=adds, progress=_made(workings.site.language),
    )  # fmt: skip
    for path in paths:
        click.echo(path)
    _finish(workings)


@main_group.command()
@_folder
@click.argument("figure")
@_period
@_as_of
@_json
@click.option("--sponsor", metavar="NAME", help="Needed for supplied and supported figures.")
def trace(
    folder: Path, figure: str, period: str, as_of: dt.date | None, as_json: bool,
    sponsor: str | None,
) -> None:  # fmt: skip
    """Walk one figure back to rows, factors and sources."""
    day = as_of or dt.date.today()
    workings = _open(folder, day)
    from divert.inventory.open_site import period_of
    from divert.trace import trace as walk
    from divert.trace import trace_json, trace_lines

    walked = walk(workings, figure, period_of(workings, period, day), day, sponsor)
    if as_json:
        _print_json(trace_json(walked))
    else:
        _say(trace_lines(walked), workings.site.language)
    _finish(workings)


@main_group.command()
@click.argument("where", metavar="FOLDER|LIST.toml", type=_Path())
@_period
@_as_of
@_json
@click.option("--csv", "as_csv", is_flag=True, help="Print a row for each yard, and the total.")
@click.option("--scheduler", metavar="ADDRESS",
              help="A Dask scheduler to use (default: the cores of this machine).")  # fmt: skip
@click.option("--as", "formats", default=None, metavar="pdf,html,xlsx",
              help="Also write the statement of all yards in these formats.")  # fmt: skip
@click.option("--out", type=_Path(), default=None, metavar="DIR",
              help="Where to put it (default: reports/PERIOD beside the yards).")  # fmt: skip
def together(
    where: Path, period: str, as_of: dt.date | None, as_json: bool, as_csv: bool,
    scheduler: str | None, formats: str | None, out: Path | None,
) -> None:  # fmt: skip
    """Print many yards as one: their sum, with its own range."""
    from divert.cli.output.together import region_lines, yards_csv
    from divert.region.result import to_json
    from divert.region.together import together as sum_up

    wanted = None if formats is None and out is None else _formats(formats or "pdf,html,xlsx")
    with _counting("yards read") as progress:
        found = sum_up(where, period, as_of, scheduler=scheduler, progress=progress)
    _speak(found.language)
    if as_json:
        _print_json(to_json(found))
    elif as_csv:
        click.echo(yards_csv(to_json(found)), nl=False)
    else:
        _say(region_lines(found), found.language)
    if wanted is not None:
        from divert.region.statement.write import write_statement

        beside = where if where.is_dir() else where.parent
        for path in write_statement(found, out or beside / "reports", wanted):
            click.echo(path, err=as_json or as_csv)
    sys.exit(DONE if found.whole else ROWS_SET_ASIDE)


@main_group.command()
@click.argument("folder", type=_Path(), required=False)
@_json
def sources(folder: Path | None, as_json: bool) -> None:
    """List the published numbers in use, with document, table, year and standing."""
    from divert.cli.output.sources import sources_json, sources_text
    from divert.factors import load_factors
    from divert.site.document import there_is_a_folder

    if folder is not None:
        there_is_a_folder(folder)
    factors = load_factors(folder)
    if as_json:
        _print_json(sources_json(factors))
    else:
        click.echo(sources_text(factors))


@main_group.command()
@_folder
@click.option("--mend", is_flag=True, help="Make the register whole from what is kept.")
@_json
def check(folder: Path, mend: bool, as_json: bool) -> None:
    """Say whether all that was issued is still there and whole."""
    from divert.cli.output.check import check_json, check_lines, site_language
    from divert.register.check import check_register, mend_register
    from divert.site.document import there_is_a_folder

    there_is_a_folder(folder)
    language = site_language(folder)
    _speak(language)
    back = mend_register(folder).back if mend else None
    found = check_register(folder)
    if as_json:
        _print_json(check_json(found, back))
    else:
        _say(check_lines(found, back, folder), language)
    sys.exit(ROWS_SET_ASIDE if found.wrong else DONE)


@main_group.command()
@click.argument("file", type=_Path())
@click.option("--site", type=_Path(), help="Also compare with its register.")
@click.option("--key", metavar="KEY", help="The key that should have signed it, or a file of it.")
@_json
def recheck(file: Path, site: Path | None, key: str | None, as_json: bool) -> None:
    """Recompute a report from the evidence in it; say whether each figure holds."""
    from divert.recheck import recheck as check
    from divert.recheck import recheck_json, recheck_lines

    found = check(file, site, key)
    status = DONE if found.holds else ROWS_SET_ASIDE
    try:
        if as_json:
            _print_json(recheck_json(found))
        else:
            _say(recheck_lines(found), found.language)
        sys.stdout.flush()
    except (
        BrokenPipeError
    ):  # who reads the verdict may leave; the status is the verdict all the same
        _hear_no_more()
    sys.exit(status)


@main_group.command()
@_folder
@_as_of
@click.option("--by", default="", metavar="INITIALS", help="Who answers.")
def answer(folder: Path, as_of: dt.date | None, by: str) -> None:
    """Walk through the open questions; write the answers into site.toml."""
    day = as_of or dt.date.today()
    workings = _open(folder, day)
    from divert.cli.answering import Terminal, answer_all

    language = workings.site.language

    def ask(text: Text) -> str:
        return str(click.prompt(text.say(language), default="", show_default=False))

    def say(text: Text) -> None:
        click.echo(text.say(language))

    answer_all(workings, day, by, Terminal(ask, say))


@main_group.command("open")
@click.argument("folder", type=_Path(), required=False)
@_as_of
@click.option("--no-browser", is_flag=True, help="Only print the page's address.")
@click.option("--shortcut", is_flag=True, help="Leave something to double-click on the desktop.")
def open_(folder: Path | None, as_of: dt.date | None, no_browser: bool, shortcut: bool) -> None:
    """Open the page: everything, in the browser that you have, on this computer only."""
    if shortcut:
        from divert.page.shortcut import make_shortcut

        click.echo(make_shortcut(folder))
        return
    from divert.page.open_page import open_page

    open_page(folder, as_of=as_of, browser=not no_browser, say=_say_at_once)


def _say_at_once(line: str) -> None:
    click.echo(line)
    sys.stdout.flush()


@main_group.command()
@click.argument("folder", type=_Path(), default="kestrel-bend")
@_as_of
def demo(folder: Path, as_of: dt.date | None) -> None:
    """Copy the sample site and make all its reports."""
    from divert.publish.demonstration import make_demo

    paths = make_demo(folder, as_of or dt.date.today(), _made("en"))
    for path in paths:
        click.echo(path)


def _open(folder: Path, as_of: dt.date | None) -> Workings:
    from divert.inventory.open_site import open_site

    with _counting("rows read") as progress:
        workings = open_site(folder, as_of=as_of, progress=progress, remember=True)
    _speak(workings.site.language)
    return workings


def _speak(language: str) -> None:
    """Speak the site's own language from here on, also where the command cannot go on."""
    click.get_current_context().ensure_object(dict)["language"] = language


def _formats(text: str) -> tuple[str, ...]:
    from divert.core.findings import CannotRun
    from divert.core.words import N_, Text

    wanted = tuple(dict.fromkeys(part.strip().lower() for part in text.split(",") if part.strip()))
    strange = [part for part in wanted if part not in ("pdf", "html", "xlsx")]
    if strange or not wanted:
        raise CannotRun(
            Text(N_("--as takes pdf, html and xlsx, with commas between; “{text}” is not that."),
                 {"text": text})
        )  # fmt: skip
    return wanted


def _reader(audience: str, named: dict[str, str | None]) -> str | None:
    """Return the one sponsor or grant named, if any; a name for other reports is a slip."""
    from divert.core.findings import CannotRun
    from divert.core.words import N_, Text

    for option, name in named.items():
        if name is not None and option != audience:
            raise CannotRun(
                Text(N_("--{option} goes with --for {option}, not with --for {audience}."),
                     {"option": option, "audience": audience})
            )  # fmt: skip
    return named.get(audience)


@contextmanager
def _counting(what: str) -> Iterator[Callable[[int], None] | None]:
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


def _made(language: str) -> Callable[[int, int, str], None]:
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


def _say(lines: Iterable[Text], language: str) -> None:
    for line in lines:
        click.echo(line.say(language).rstrip())


def _print_json(value: Any) -> None:
    import json

    click.echo(json.dumps(value, ensure_ascii=False, indent=1, allow_nan=False))


def _finish(workings: Workings, *, listed: bool = False) -> None:
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


def _hear_no_more() -> None:
    """Let what is still to be printed go nowhere: whoever read it has gone."""
    with suppress(OSError, ValueError):
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())


def _say_slip(slip: click.ClickException) -> None:
    """Say in one line what was wrong with a command; a command without any word gets the help."""
    context = getattr(slip, "ctx", None)
    if context is not None and slip.message == context.get_help():
        click.echo(slip.message, err=True)
        return
    command = "divert" if context is None else context.command_path
    words = " ".join(slip.format_message().split())
    stop = "" if words.endswith((".", "?")) else "."
    click.echo(f"{words}{stop} `{command} --help` says what there is.", err=True)


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
    known: dict[str, Any] = {}
    try:
        status = main_group.main(given, prog_name="divert", standalone_mode=False, obj=known)
        sys.exit(status or DONE)
    except BrokenPipeError:
        _hear_no_more()
        sys.exit(DONE)
    except (click.Abort, KeyboardInterrupt):
        click.echo("Stopped.", err=True)
        sys.exit(COULD_NOT_RUN)
    except click.ClickException as slip:
        _say_slip(slip)
        sys.exit(COULD_NOT_RUN)
    except Exception as problem:
        if debug:
            raise
        from divert.core.findings import CannotRun

        if isinstance(problem, CannotRun):
            click.echo(problem.message.say(known.get("language", "en")), err=True)
            sys.exit(problem.exit_status)
        if isinstance(problem, OSError) and problem.errno == errno.ENOSPC:
            click.echo(f"What was asked for cannot be written: {problem.strerror}.", err=True)
            sys.exit(COULD_NOT_RUN)
        click.echo(
            f"Something went wrong that divert did not foresee: {problem!r}. "
            "Run the same command with --debug to see where.",
            err=True,
        )
        sys.exit(COULD_NOT_RUN)
