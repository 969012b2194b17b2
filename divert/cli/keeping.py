"""`divert read --keep`: show how each sheet is read, with ten of its rows, then keep that."""

from __future__ import annotations

import datetime as dt
import sys
from collections.abc import Callable, Iterable, Sequence
from pathlib import Path

import click

from divert.cli.output.kept import plan_lines
from divert.core.findings import CannotRun
from divert.core.reading import Reading
from divert.core.words import N_, Text
from divert.ingest import read_with_plans
from divert.ingest.plan.keep import not_kept, with_plans
from divert.ingest.plan.sheet_plan import SheetPlan
from divert.ingest.plan.store import write_kept
from divert.site.read import read_site

Say = Callable[[Iterable[Text], str], None]


def keep_plans(folder: Path, as_of: dt.date, say: Say, speak: Callable[[str], None]) -> None:
    """Keep the plan of each sheet of a site in which nothing is open; ask first where a person is there.

    ``say`` prints sentences in a language, ``speak`` is told the site's. Raises CannotRun.
    """
    site = read_site(folder)
    speak(site.language)
    reading, plans = read_with_plans(site, as_of)
    new = not_kept(plans, reading.plans, site.folder)
    say(plan_lines(new, reading, site.units, site.language), site.language)
    say(_open(plans, reading), site.language)
    if not new:
        say([Text(N_("There is no plan to keep that reading.toml does not hold."))], site.language)
        return
    ask = Text(N_("Keep these plans in reading.toml?"))
    if sys.stdin.isatty() and not click.confirm(ask.say(site.language)):
        raise CannotRun(Text(N_("Nothing was kept.")))
    path = write_kept(site.folder, with_plans(reading.plans, new, site.folder), reading.plans)
    done = Text(N_("Plans kept in {file}: {count}."), {"file": str(path), "count": len(new)})
    say([Text(""), done], site.language)


def _open(plans: Sequence[SheetPlan], reading: Reading) -> Iterable[Text]:
    """Yield which sheets have no plan to keep, because what they hold is still open."""
    planned = {(p.file, p.sheet) for p in plans}
    names = dict.fromkeys((s.file, s.sheet) for s in reading.sheets)
    for file, sheet in names:
        if (file, sheet) not in planned:
            place = f"{file}, {sheet}" if sheet else file
            yield Text("")
            yield Text(
                N_("{place}: not kept, because divert read asks what it holds."), {"place": place}
            )
