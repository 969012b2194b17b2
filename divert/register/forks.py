"""Other copies of a register beside it, as a sync service leaves them: read too, never dropped."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from divert.core.findings import CannotRun
from divert.register.lines import FILE, Line, Split, data_of, has_checksum, parsed, split

KEPT = "kept"  # a line of another history, taken into this one as it was written


@dataclass(frozen=True, slots=True)
class Fork:
    """A file ``register*.jsonl`` beside the register; ``damaged`` where not all of it can be read."""

    file: str
    lines: tuple[Line, ...]
    damaged: bool


def forks(site_folder: Path) -> tuple[Fork, ...]:
    """Return the other copies of a site's register, in the order of their names."""
    found = []
    for path in sorted(site_folder.glob("register*.jsonl")):
        if path.name == FILE:
            continue
        try:
            read = split(data_of(path))
        except CannotRun:  # a link, a device, or nothing that may be read
            found.append(Fork(path.name, (), True))
            continue
        whole = every_line(read)
        found.append(Fork(path.name, whole, read.wrong is not None or bool(read.lines.torn)))
    return tuple(found)


def every_line(read: Split) -> tuple[Line, ...]:
    """Return all lines of a file that something vouches for: the line after, or their own sum."""
    lines = (*read.lines.lines, *read.later)
    named = {line.before for line in lines}
    sure = (*read.lines.lines, *(n for n in read.later if has_checksum(n.raw) or n.sha256 in named))
    return tuple(unwrapped(line) for line in sure)


def unwrapped(line: Line) -> Line:
    """Return the line that a :data:`KEPT` line holds, any other as it is."""
    if line.says.get("what") != KEPT:
        return line
    inner = parsed(str(line.says.get("line", "")).encode())
    return line if inner is None else inner


def apart(lines: tuple[Line, ...], others: tuple[Fork, ...]) -> tuple[tuple[str, Line], ...]:
    """Return the lines that only forks hold, each once, with the fork's file name."""
    known = {unwrapped(line).sha256 for line in lines}
    out = []
    for fork in others:
        for line in fork.lines:
            if line.sha256 not in known:
                known.add(line.sha256)
                out.append((fork.file, line))
    return tuple(out)
