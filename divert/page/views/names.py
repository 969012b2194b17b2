"""All names that are not known, beside the known ones: same as, new, or left for the sheet."""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
from flask import Blueprint, request
from werkzeug.wrappers import Response

from divert.convert.columns import of_names
from divert.convert.unknown import name_books
from divert.core.findings import CannotRun, Finding, Where
from divert.core.names import NameBook, plain
from divert.core.words import N_, Text
from divert.page.house import house
from divert.page.names_said import Said, said_of_names
from divert.page.open_yard import needs_reading, the_desk
from divert.page.questions import Field, Signed
from divert.page.questions.asked import NAMES
from divert.page.questions.names import (
    KINDS,
    known_names,
    left_out_names,
    named,
    new_entry,
    new_fields,
    same_as,
)
from divert.page.screen import screen
from divert.page.views.changing import change
from divert.site.change import Edit

if TYPE_CHECKING:
    from divert.convert import Workings
    from divert.page.desk import Seen

blueprint = Blueprint("names", __name__)


@dataclass(frozen=True, slots=True)
class Unknown:
    """A name that nobody has told about: how many lines have it, their mass, the nearest known."""

    kind: str
    name: str
    rows: int
    kg: float
    near: str
    where: Where
    counted: bool


@blueprint.get("/names")
def names() -> str:
    """Show the unknown names of each kind."""
    return _names({}, None)


@blueprint.post("/names")
def say() -> str | Response:
    """Take what was said of many names at once; ask first what something new must be known for."""
    seen = needs_reading()
    assert seen.workings is not None
    chosen = _said()
    lacking = {
        key: new_fields(seen.workings, kind)
        for key, (kind, _, what) in chosen.items()
        if what == "new" and not any(n.startswith(f"{key}.") for n in request.form)
    }
    if lacking:
        return _names(lacking, None)
    title = Text(N_("Names: {count}"), {"count": sum(w != "" for _, _, w in chosen.values())})
    return change(lambda: _edits(chosen), "/names", title)


def _names(lacking: dict[str, tuple[Field, ...]], problem: Text | None) -> str:
    seen = needs_reading()
    assert seen.workings is not None
    unknown = _unknown(seen.workings, house().weighing.findings(seen))
    known = {kind: known_names(seen.workings, kind) for kind in KINDS}
    chosen = {key: what for key, (_, _, what) in _said().items()}
    site = seen.workings.site
    own = {
        "material": [(m.name, m.also) for m in site.materials],
        "source": [(s.name, s.also) for s in site.sources],
        "container": [(c.name, c.also) for c in site.containers],
    }
    return screen(
        "names.html", unknown=unknown, known=known, kinds=KINDS, lacking=lacking, chosen=chosen,
        problem=problem, own=own,
    )  # fmt: skip


def _said() -> Said:
    return said_of_names(request.form, KINDS)


def _edits(chosen: Said) -> list[Edit]:
    seen = needs_reading()
    assert seen.workings is not None
    signed = Signed("", the_desk().today)
    edits: list[Edit] = []
    new = {(kind, name) for kind, name, what in chosen.values() if what == "new"}
    for number, (kind, name, what) in chosen.items():
        if what == "new":
            said = {
                key.partition(".")[2]: value
                for key, value in request.form.items()
                if key.startswith(f"{number}.")
            }
            edits += new_entry(kind, name)(said, signed)
    for kind, name, what in chosen.values():
        if what == "out":
            edits += _left_out(seen, kind, name)
        elif what.startswith("same: "):
            with_it = [n for k, n in new if k == kind]
            edits += same_as(seen.workings, kind, name, what.removeprefix("same: "), with_it)
    if not edits:
        raise CannotRun(Text(N_("Nothing was chosen for any name.")))
    return edits


def _left_out(seen: Seen, kind: str, name: str) -> tuple[Edit, ...]:
    """Return the answers that leave the lines of a name uncounted for good."""
    assert seen.workings is not None
    findings = house().weighing.findings(seen)
    mine = [
        f for f in findings
        if f.code == f"unknown {kind}" and f.level == "refused" and plain(named(f)) == plain(name)
    ]  # fmt: skip
    return left_out_names(seen.workings, mine)({}, Signed("", seen.today))


def _unknown(workings: Workings, findings: tuple[Finding, ...]) -> list[Unknown]:
    books = name_books(workings.site, workings.factors)
    spelt: dict[tuple[str, str], list[Finding]] = {}
    for finding in findings:
        if finding.code in NAMES and finding.answer is None and (name := named(finding)):
            kind = finding.code.removeprefix("unknown ")
            spelt.setdefault((kind, plain(name) or name), []).append(finding)
    gathered = {(kind, _commonest(group)): group for (kind, _), group in spelt.items()}
    out = []
    for (kind, name), group in gathered.items():
        spellings = {named(f) for f in group}
        out.append(
            Unknown(
                kind, name, sum(f.rows for f in group), _mass(workings, kind, spellings),
                books[kind].nearest(name) or _like_another(name, kind, gathered), group[0].where,
                any(f.level == "query" for f in group),
            )
        )  # fmt: skip
    return sorted(out, key=lambda u: (KINDS.index(u.kind), -u.rows, u.name))


def _like_another(name: str, kind: str, gathered: Mapping[tuple[str, str], list[Finding]]) -> str:
    """Return another unknown name that this one may be a slip of: one that more lines have."""
    rows = sum(f.rows for f in gathered[kind, name])
    others = [
        n for (k, n), group in gathered.items() if k == kind and sum(f.rows for f in group) > rows
    ]
    return NameBook(dict.fromkeys(others, ())).nearest(name) or ""


def _commonest(findings: list[Finding]) -> str:
    """Return the spelling that most lines have, of a name that is the same but for its case."""
    rows: Counter[str] = Counter()
    for finding in findings:
        rows[named(finding)] += finding.rows
    return rows.most_common(1)[0][0]


def _mass(workings: Workings, kind: str, names: Collection[str]) -> float:
    ledger = workings.ledger
    mask = of_names(ledger[kind], names) & of_names(ledger["kind"], ("intake",))
    return float(np.nansum(ledger["mass_kg"].to_numpy(dtype=float)[mask]))
