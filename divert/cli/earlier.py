"""Earlier texts of site.toml in the terminal: listed, and brought back as the page does."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

from divert.cli.answering import Terminal, write_agreed
from divert.core.findings import CannotRun
from divert.core.words import N_, Text
from divert.site.change import restore, versions


def earlier_lines(folder: Path) -> Iterator[Text]:
    """Return the versions of site.toml that are kept, the last one first, each by its number."""
    kept = versions(folder)
    if not kept:
        yield Text(N_("No earlier version of site.toml is kept."))
    for version in kept:
        when = version.replaced.astimezone()
        yield Text(
            N_("{number}  what site.toml said until {day}, {time}"),
            {"number": str(version.number), "day": when.date(), "time": f"{when:%H:%M}"},
        )


def bring_back(folder: Path, number: int, terminal: Terminal) -> bool:
    """Bring a version back once its lines were shown and agreed to; return whether it was.

    Raises CannotRun for a number that is not kept, and where site.toml would then hold a mistake.
    """
    name = next((v.name for v in versions(folder) if v.number == number), None)
    if name is None:
        raise CannotRun(
            Text(N_("There is no earlier version “{name}”."), {"name": str(number)}),
        )
    planned = restore(folder, name)
    if planned.was == planned.now:
        terminal.say(Text(N_("Nothing would change: site.toml says so already.")))
        return False
    return write_agreed(folder, planned, terminal)
