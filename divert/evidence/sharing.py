"""What leaves the house with a report: whose rows in full, whose only as monthly sums, which names."""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Literal

import numpy as np
import numpy.typing as npt
import pandas as pd

from divert.convert import Workings
from divert.convert.unknown import NOT_RECORDED
from divert.core.words import N_, Text
from divert.evidence.lines import CHARGED, COLUMNS, NUMBER, TEXT
from divert.evidence.names import NameHider, in_text, naming, short_names
from divert.evidence.notes import without_notes

Audience = Literal["sponsor", "grant", "board"]
# What a line may keep when it becomes part of a monthly sum: what the formulas need.
_SUMMED_BY = [
    "kind", "material", "before", "decay_class", "landfill", "basis", "factor", "teaches", "funded",
    "unit", "name", "destination", "screening", "assumed",
]  # fmt: skip
# Kinds of entries of which a sponsor's evidence holds nothing at all.
_HOUSE_ONLY = ("sale", "activity", "process")


_NEEDED = frozenset((*COLUMNS, "net_kg", "volume_m3", "removed", "mass_kg"))
_SOURCE, _FILE, _SHEET = N_("source {number}"), N_("file {number}"), N_("sheet {number}")
_DESTINATION, _ACTIVITY = N_("destination {number}"), N_("activity {number}")
_OTHERS = N_("other sources")


@dataclass(frozen=True)
class Sharing:
    """The rules of one report.

    ``own``: the sources shown in full (None: all are); ``others``: what all others are called
    together; ``alias``: what a source is called, where its name stays in the house; ``hider``: takes
    such names out of free text; ``renamed``: what stands for a destination or an activity that names
    such a source; ``notes``: whether crews' notes and initials may leave.
    """

    audience: Audience
    own: frozenset[str] | None = None
    others: str = ""
    alias: Mapping[str, str] = field(default_factory=dict)
    hider: NameHider = field(default_factory=NameHider)
    renamed: Mapping[str, str] = field(default_factory=dict)
    notes: bool = False
    language: str = "en"

    @property
    def destinations(self) -> frozenset[str]:
        """Return the destinations and activities that name a source of the house."""
        return frozenset(self.renamed)

    def source(self, name: str) -> str:
        """Return what a source is called in this report."""
        if self.own is not None and name and name not in self.own:
            return self.others
        return self.alias.get(name, name)

    def said(self, name: str) -> str:
        """Return what a destination or an activity is called in this report."""
        return self.renamed.get(name, name)

    def text(self, words: str) -> str:
        """Return free text with the names that stay in the house taken out."""
        return self.hider.cut(words)

    def file(self, number: int) -> str:
        """Return what a file is called whose name stays in the house."""
        return Text(_FILE, {"number": number}).say(self.language)

    def sheet(self, number: int) -> str:
        """Return what a sheet is called whose name stays in the house."""
        return Text(_SHEET, {"number": number}).say(self.language)


def sharing(workings: Workings, audience: Audience, sponsor: str | None) -> Sharing:
    """Return the rules for a report: a sponsor sees its own rows, a grant names unless told not to."""
    kept: dict[tuple[str, str | None], Sharing] = workings.kept.setdefault(sharing, {})
    if (audience, sponsor) not in kept:
        kept.clear()  # a report asks for its own a few times, and the next one for others
        kept[audience, sponsor] = _rules(workings, audience, sponsor)
    return kept[audience, sponsor]


def _rules(workings: Workings, audience: Audience, sponsor: str | None) -> Sharing:
    notes, language = workings.site.report.share_notes, workings.site.language
    if audience == "sponsor":
        own = {s for one in workings.site.sponsors if one.name == sponsor for s in one.supplies}
        others = Text(_OTHERS).say(language)
        hidden = {
            spelling: others
            for name, spelling in _spellings(workings)
            if name not in own and not _part_of(spelling, own)
        }
        return Sharing(
            audience, frozenset(own), others, {}, in_text(hidden),
            _renamed(workings, hidden, language), notes, language,
        )  # fmt: skip
    if audience == "grant" and not workings.site.report.name_sources:
        spellings = _spellings(workings)
        alias = _numbered(_SOURCE, (name for name, _ in spellings), language)
        hidden = {spelling: alias[name] for name, spelling in spellings}
        return Sharing(
            audience, None, "", alias, in_text(hidden), _renamed(workings, hidden, language), notes,
            language,
        )  # fmt: skip
    return Sharing(audience, notes=notes, language=language)


def _spellings(workings: Workings) -> list[tuple[str, str]]:
    """Return every source's name with each of its spellings; found once for all reports."""
    if _spellings not in workings.kept:
        workings.kept[_spellings] = _found_spellings(workings)
    found: list[tuple[str, str]] = workings.kept[_spellings]
    return found


def _found_spellings(workings: Workings) -> list[tuple[str, str]]:
    met = [str(c) for c in workings.ledger["source"].cat.categories]
    met += [str(s) for s in workings.charges["source"].dropna().unique()]
    stated = [(s.name, t) for s in workings.site.sources for t in (s.name, *s.also)]
    pairs = [*stated, *((name, name) for name in met if name != NOT_RECORDED)]
    ordinary = [
        word
        for names in ((m.name, *m.also) for m in workings.site.materials)
        for name in names
        for word in name.split()
    ]
    pairs += [(name, word) for name, _ in pairs for word in short_names(name, ordinary)]
    return list(dict.fromkeys(pairs))


def _renamed(workings: Workings, hidden: Iterable[str], language: str) -> dict[str, str]:
    """Return a number for each destination or activity that names a source of the house."""
    names_one = naming(hidden)
    out: dict[str, str] = {}
    for column, message in (("destination", _DESTINATION), ("name", _ACTIVITY)):
        said = [str(c) for c in workings.ledger[column].cat.categories]
        if column == "destination":
            said += [bed.name for bed in workings.site.beds]
        out |= _numbered(message, (text for text in said if names_one(text)), language)
    return out


def _part_of(spelling: str, names: Iterable[str]) -> bool:
    return any(spelling.casefold() in name.casefold() for name in names)


def _numbered(message: str, names: Iterable[str], language: str) -> dict[str, str]:
    return {
        name: Text(message, {"number": n}).say(language)
        for n, name in enumerate(dict.fromkeys(names), start=1)
    }


def share_lines(derived: pd.DataFrame, rules: Sharing, cuts: Sequence[dt.date]) -> pd.DataFrame:
    """Return the lines that may leave, numbered anew, as inputs only.

    ``derived`` are lines, for a sponsor with their masses (derived.derive): those of others become
    sums by month, cut also at ``cuts`` (first days of the spans that figures are asked for), so that
    every figure can still be added up from them.
    """
    lines = derived[[name for name in derived.columns if name in _NEEDED]]
    if not rules.notes:
        lines = lines.assign(found=without_notes(lines["found"], lines["note"]), note="")
    if rules.hider:
        free = ("found", "note", "file", "sheet", "container", "condition")
        lines = lines.assign(**{c: _each(lines[c], rules.text) for c in free})
        for name in ("destination", "name"):
            lines[name] = _each(derived[name], rules.said)
    if rules.alias:
        lines = lines.assign(source=lines["source"].map(rules.source))
        for name, message in (("file", _FILE), ("sheet", _SHEET)):
            numbers = _numbered(message, derived[name].unique(), rules.language)
            lines[name] = derived[name].map({**numbers, "": ""})
    if rules.own is None:
        return lines[list(COLUMNS)]
    lines = lines[~lines["kind"].isin(_HOUSE_ONLY)]
    lines = lines.assign(stretch=_stretch_starts(lines["date"].to_numpy(), cuts))
    is_charge = lines["kind"].isin(CHARGED)
    entries, charges = lines[~is_charge], lines[is_charge]
    sums, place_of = _entry_sums(entries, rules.others)
    charged = _charge_sums(charges, place_of, rules.others)
    out = pd.concat([sums, charged], ignore_index=True) if len(charged) else sums
    out["line"] = np.arange(1.0, len(out) + 1)
    return out[list(COLUMNS)]


def _each(texts: pd.Series, change: Callable[[str], str]) -> pd.Series:
    """Return texts changed, each different one once."""
    return texts.map({text: change(text) for text in texts.unique()})


def _stretch_starts(
    days: npt.NDArray[np.datetime64], cuts: Sequence[dt.date]
) -> npt.NDArray[np.datetime64]:
    """Return the first day of the stretch each day lies in: its month, cut at the given days."""
    months = days.astype("datetime64[M]").astype("datetime64[D]")
    starts = np.unique(np.concatenate([months, np.array(list(cuts), dtype="datetime64[D]")]))
    return starts[np.searchsorted(starts, days.astype("datetime64[D]"), side="right") - 1]


def _entry_sums(entries: pd.DataFrame, others: str) -> tuple[pd.DataFrame, dict[int, int]]:
    """Return the sponsor's own entries and the sums of all others, and where each entry went.

    The second is the place in the first (from 0) by the line's former number.
    """
    own = (entries["own"] == "yes").to_numpy()
    rest = entries[~own]
    keys = rest[["stretch", *_SUMMED_BY]].copy()
    # What a load was called or where it went is not needed to add loads up.
    keys.loc[rest["kind"].isin(["intake", "weigh-in", "removed", "moved", "rejected"]), "name"] = ""
    keys.loc[rest["kind"] != "harvest", "destination"] = ""
    # What was removed from one source's loads is not shared out over everyone's.
    keys["of_all"] = (rest["source"] == "") & (rest["kind"] == "removed")
    group = keys.groupby(list(keys.columns), dropna=False, sort=True).ngroup().to_numpy()
    is_load = rest["kind"].isin(["intake", "weigh-in"])
    summed = pd.DataFrame(
        {
            "rows": rest["rows"],
            "weighed_kg": rest["net_kg"],
            "given_m3": rest["volume_m3"].where(
                rest["net_kg"].isna() | (rest["teaches"] != "") | ~is_load
            ),
            "removed_given_kg": rest["removed"].where(rest["removed"] != 0),
            "amount": rest["amount"],
        }
    )
    sums = summed.groupby(group).sum(min_count=1)
    first = keys.assign(group=group).drop_duplicates("group").set_index("group").loc[sums.index]
    first = first.drop(columns="of_all").rename(columns={"stretch": "date"})
    table = pd.concat([first, sums], axis=1)
    table["source"] = np.where(table["kind"].isin(["intake", "moved", "rejected"]), others, "")
    out = pd.concat([entries[own], _with_blanks(table)], ignore_index=True)[list(COLUMNS)]
    place = np.empty(len(entries), dtype=np.int64)
    place[own] = np.arange(own.sum())
    place[~own] = own.sum() + group
    out["date"] = out["date"].astype("datetime64[s]")
    return out, dict(zip(entries["line"].astype(int), place.tolist(), strict=True))


def _charge_sums(charges: pd.DataFrame, place_of: Mapping[int, int], others: str) -> pd.DataFrame:
    """Return the charges by source of the sponsor, or all others, and by the line they come from."""
    if not len(charges):
        return charges
    origin = charges["from_line"].astype(int).map(dict(place_of))
    mine = charges["own"] == "yes"
    keys = charges[["kind", "stretch", "material", "before", "decay_class", "landfill", "own",
                    "funded", "screening", "spread"]].assign(
        source=charges["source"].where(mine, others), from_line=origin + 1.0
    )  # fmt: skip
    names = list(keys.columns)
    kg = keys.assign(kg=charges["mass_kg"]).groupby(names, dropna=False, sort=True)["kg"].sum()
    table = kg.reset_index()
    whole = keys.assign(kg=charges["mass_kg"]).groupby("from_line")["kg"].sum()
    table["share"] = table["kg"] / table["from_line"].map(whole)
    return _with_blanks(table).assign(date=table["stretch"], rows=0.0)[list(COLUMNS)]


def _with_blanks(table: pd.DataFrame) -> pd.DataFrame:
    """Return sums with the columns of a line that they lack: no text, no number."""
    blank = {c: "" for c in TEXT if c not in table} | {c: np.nan for c in NUMBER if c not in table}
    return table.assign(**blank)
