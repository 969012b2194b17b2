"""Plans added to the text of a reading.toml, without touching what stands there already."""

from __future__ import annotations

import re
from collections.abc import Iterable
from itertools import pairwise
from pathlib import Path

from divert.ingest.plan.read_file import read_plans
from divert.ingest.plan.sheet_plan import SheetPlan
from divert.ingest.plan.write_file import plans_text, sheet_text

_START = re.compile(r"(?m)^[ \t]*\[\[[ \t]*sheet[ \t]*\]\]")
_ABOVE = """\
# How each sheet is read, as kept by `divert read --keep`. A sheet that stands here is read just so, by
# every version of divert, until its headings change. What [[sheet]] in site.toml says outdoes it.

"""


def not_kept(plans: Iterable[SheetPlan], text: str, folder: Path) -> list[SheetPlan]:
    """Return the plans that a reading.toml does not hold as they are. Raises CannotRun."""
    kept = set(read_plans(text, folder))
    return [plan for plan in plans if plan not in kept]


def with_plans(text: str, plans: Iterable[SheetPlan], folder: Path) -> str:
    """Return the text of a reading.toml with some plans added, those of the same sheets replaced.

    Comments and what stands there of other sheets is left as it is. Raises CannotRun.
    """
    before = read_plans(text, folder)
    new = {(p.file, p.sheet): p for p in plans}
    wanted = {(p.file, p.sheet): p for p in before} | new
    starts = [m.start() for m in _START.finditer(text)]
    if len(starts) != len(before):  # written in a way we do not write: all of it anew
        return _ABOVE + plans_text(wanted.values())
    blocks = [text[a:b] for a, b in pairwise([*starts, len(text)])]
    head = text[: starts[0]] if starts else text or _ABOVE
    changed = {place for place, p in enumerate(before) if wanted[p.file, p.sheet] != p}
    while True:  # a sheet that was like a replaced one is written out as it was
        for place in changed:
            old = before[place]
            blocks[place] = sheet_text(wanted[old.file, old.sheet]) + "\n"
        added = [p for key, p in new.items() if key not in {(b.file, b.sheet) for b in before}]
        body = head + "".join(blocks)
        body = body if not body or body.endswith("\n\n") else f"{body.rstrip()}\n\n"
        out = body + plans_text(added, [wanted[b.file, b.sheet] for b in before])
        now = {(p.file, p.sheet): p for p in read_plans(out, folder)}
        strayed = {
            i for i, b in enumerate(before) if now[b.file, b.sheet] != wanted[b.file, b.sheet]
        }
        if not strayed - changed:
            return out
        changed |= strayed
