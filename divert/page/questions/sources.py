"""Whom did it come from: what may be answered where a sheet names no source."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from typing import TYPE_CHECKING

from divert.convert.columns import of_names
from divert.convert.unknown import NOT_RECORDED, name_books
from divert.core.findings import CannotRun, Finding
from divert.core.ledger import sheets_of
from divert.core.names import plain
from divert.core.words import N_, Text
from divert.page.questions.question import Choice, Field, Makes, Signed
from divert.site.change import Edit, NewEntry, SetKey
from divert.site.change.edits import Value

if TYPE_CHECKING:
    from divert.convert import Workings

_BUTTONS = 3  # known sources that have one of their own


def source_choices(workings: Workings, finding: Finding) -> tuple[Choice, ...]:
    """Return the answers that say of a file's sheets whom their loads came from; none without a file."""
    file = finding.where.file
    if not file:
        return ()
    sheets = sheets_without(workings, file)
    which = (_which(sheets),) if len(sheets) > 1 else ()
    known = _known(workings)
    choices = [
        Choice(f"from-{n}", Text(N_("All came from {source}"), {"source": name}),
               _writes(workings, file, sheets, name), which)
        for n, name in enumerate(known[:_BUTTONS])
    ]  # fmt: skip
    if others := tuple((name, name) for name in known[_BUTTONS:]):
        other = Field("source", Text(N_("Which one?")), choices=others)
        choices.append(
            Choice(
                "other",
                Text(N_("From another one")),
                _writes(workings, file, sheets, ""),
                (other, *which),
            )
        )
    new = Field("source", Text(N_("Name, as it is printed")))
    choices.append(
        Choice(
            "new", Text(N_("From somebody new")), _writes(workings, file, sheets, ""), (new, *which)
        )
    )
    return tuple(choices)


def _known(workings: Workings) -> list[str]:
    """Return the site's sources, those that most lines name first."""
    rows = Counter(workings.ledger["source"].astype(object).dropna().tolist())
    names = dict.fromkeys(s.name for s in workings.site.sources)
    return sorted(names, key=lambda name: (-rows[name], plain(name)))


def sheets_without(workings: Workings, file: str) -> list[str]:
    """Return the sheets of a file in which loads name no source ("" in a text file)."""
    entries = workings.reading.entries
    mine = of_names(entries["file"], (file,)) & of_names(entries["kind"], ("intake",))
    blank = entries["source"].isna() | of_names(entries["source"], (NOT_RECORDED,))
    return [sheet for _, sheet in sheets_of(entries[mine & blank.to_numpy()])[1]]


def _which(sheets: list[str]) -> Field:
    every = Text(N_("all {count} that name nobody"), {"count": len(sheets)})
    return Field(
        "sheet", Text(N_("In which sheet?")), choices=(("*", every), *((s, s) for s in sheets))
    )


def _writes(workings: Workings, file: str, sheets: list[str], source: str) -> Makes:
    def makes(said: Mapping[str, str], signed: Signed) -> tuple[Edit, ...]:
        name = source or " ".join(said.get("source", "").split())
        if not name:
            raise CannotRun(Text(N_("Say whom it came from.")))
        known = name_books(workings.site, workings.factors)["source"].find(name)
        edits: list[Edit] = [] if known else [NewEntry("source", {"name": name})]
        chosen = said.get("sheet", "*")
        for sheet in sheets:
            if chosen in ("*", sheet):
                place: dict[str, Value] = {"file": file, **({"sheet": sheet} if sheet else {})}
                edits.append(SetKey("sheet", place, "source", known or name))
        return tuple(edits)

    return makes
