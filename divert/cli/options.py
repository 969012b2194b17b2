"""What commands are told on the line: folders, days, periods, formats, and whose report."""

from __future__ import annotations

import datetime as dt
import os
from typing import TYPE_CHECKING, Any

import click

if TYPE_CHECKING:
    from pathlib import Path


class PathType(click.ParamType):  # type: ignore[type-arg]
    name = "path"

    def convert(self, value: Any, param: Any, ctx: Any) -> Path:
        from pathlib import Path  # only once a command runs: --help stays quick

        return Path(value)


class DayType(click.ParamType):  # type: ignore[type-arg]
    name = "day"

    def convert(self, value: Any, param: Any, ctx: Any) -> dt.date:
        if isinstance(value, dt.date):
            return value
        try:
            return dt.date.fromisoformat(value)
        except ValueError:
            self.fail(f'"{value}" is not a day such as 2025-07-01', param, ctx)


folder_argument = click.argument("folder", type=PathType())
period_option = click.option("--period", required=True, metavar="P", help="2025, 2025-Q2, 2025-03, "
                       "2025-03/2025-05, 2025-03-15/2025-06-01 or all.")  # fmt: skip  # fmt: skip
as_of_option = click.option(
    "--as-of", type=DayType(), default=None, metavar="DATE", help="Today's date to use."
)
json_option = click.option("--json", "as_json", is_flag=True, help="Print one JSON object.")

language_option = click.option(
    "--language", metavar="en|fr", default=None,
    help="What site.toml explains itself in (default: the language of this terminal).",
)  # fmt: skip


def language_wanted(said: str | None) -> str:
    """Return the language asked for, else the terminal's where there is a catalogue, else English.

    POSIX (IEEE 1003.1, Base Definitions 8.2): LC_ALL goes before LC_MESSAGES, that before LANG; one
    that is empty says nothing. Raises CannotRun for a language that there is no catalogue of.
    """
    from divert.core.findings import CannotRun
    from divert.core.words import N_, Text, languages

    known = languages()
    if said is not None:
        if said.strip().lower() not in known:
            raise CannotRun(
                Text(N_("--language takes {languages}; “{text}” is not one of them."),
                     {"languages": ", ".join(known), "text": said})
            )  # fmt: skip
        return said.strip().lower()
    names = (os.environ.get(name, "") for name in ("LC_ALL", "LC_MESSAGES", "LANG"))
    code = next((name for name in names if name), "")[:3].rstrip("_-.").lower()
    return code if code in known else "en"


def formats_of(text: str) -> tuple[str, ...]:
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


def reader_named(audience: str, named: dict[str, str | None]) -> str | None:
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
