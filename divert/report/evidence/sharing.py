"""What leaves the house with a report: whose rows in full, whose only as monthly sums, which names."""

from __future__ import annotations

import datetime as dt
import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from functools import lru_cache
from typing import Literal

import numpy as np
import numpy.typing as npt
import pandas as pd

from divert.convert import Workings
from divert.convert.unknown import NOT_RECORDED
from divert.report.evidence.lines import CHARGED, COLUMNS, NUMBER, TEXT

Audience = Literal["sponsor", "grant", "board"]
OTHERS = "other sources"
_SHORTEST = 3  # a spelling shorter than this is no name that could give anyone away
# What a line may keep when it becomes part of a monthly sum: what the formulas need.
_SUMMED_BY = [
    "kind", "material", "before", "decay_class", "landfill", "basis", "factor", "teaches", "funded",
    "unit", "name", "destination", "screening",
]  # fmt: skip
# Kinds of entries of which a sponsor's evidence holds nothing at all.
_HOUSE_ONLY = ("sale", "activity")


@dataclass(frozen=True)
class Sharing:
    """The rules of one report.

    ``own``: the sources shown in full (None: all are); ``alias``: what a source is called, where its
    name stays in the house; ``hidden``: what stands in free text for each spelling of such a name,
    by its lower case; ``destinations``: what stands for a destination that names such a source;
    ``notes``: whether crews' notes and initials may leave.
    """

    audience: Audience
    own: frozenset[str] | None = None
    alias: Mapping[str, str] = field(default_factory=dict)
    hidden: Mapping[str, str] = field(default_factory=dict)
    destinations: Mapping[str, str] = field(default_factory=dict)
    notes: bool = False

    def source(self, name: str) -> str:
        """Return what a source is called in this report."""
        if self.own is not None and name and name not in self.own:
            return OTHERS
        return self.alias.get(name, name)

    def destination(self, place: str) -> str:
        """Return what a destination is called in this report."""
        return self.destinations.get(place, place)

    def text(self, words: str) -> str:
        """Return free text with the names that stay in the house taken out."""
        if not self.hidden or not words:
            return words
        return _any_of(tuple(self.hidden)).sub(lambda m: self.hidden[m[0].casefold()], words)


@lru_cache
def _any_of(spellings: tuple[str, ...]) -> re.Pattern[str]:
    longest_first = sorted(spellings, key=len, reverse=True)
    return re.compile(
        r"(?<!\w)(?:" + "|".join(re.escape(s) for s in longest_first) + r")(?!\w)", re.IGNORECASE
    )


def sharing(workings: Workings, audience: Audience, sponsor: str | None) -> Sharing:
    """Return the rules for a report: a sponsor sees its own rows, a grant names unless told not to."""
    notes = workings.site.report.share_notes
    if audience == "sponsor":
        own = {s for one in workings.site.sponsors if one.name == sponsor for s in one.supplies}
        hidden = {
            spelling: OTHERS
            for name, spelling in _spellings(workings)
            if name not in own and not _part_of(spelling, own)
        }
        others = [name for name, _ in _spellings(workings) if name not in own]
        places = _places(workings, others)
        return Sharing(audience, frozenset(own), hidden=hidden, destinations=places, notes=notes)
    if audience == "grant" and not workings.site.report.name_sources:
        alias = _numbered("source", (name for name, _ in _spellings(workings)))
        hidden = {spelling: alias[name] for name, spelling in _spellings(workings)}
        return Sharing(audience, None, alias, hidden, _places(workings, alias), notes)
    return Sharing(audience, notes=notes)


def _spellings(workings: Workings) -> list[tuple[str, str]]:
    """Return every source's name with each of its spellings in lower case."""
    met = [str(c) for c in workings.ledger["source"].cat.categories]
    met += [str(s) for s in workings.charges["source"].dropna().unique()]
    stated = [(s.name, t) for s in workings.site.sources for t in (s.name, *s.also)]
    pairs = [*stated, *((name, name) for name in met if name != NOT_RECORDED)]
    return list(dict.fromkeys((n, t.casefold()) for n, t in pairs if len(t) >= _SHORTEST))


def _places(workings: Workings, names: Iterable[str]) -> dict[str, str]:
    """Return a number for each destination that names one of some sources."""
    taken = {name.casefold() for name in names}
    said = [str(c) for c in workings.ledger["destination"].cat.categories]
    telling = [place for place in said if any(name in place.casefold() for name in taken)]
    return _numbered("destination", telling)


def _part_of(spelling: str, names: Iterable[str]) -> bool:
    return any(spelling in name.casefold() for name in names)


def _numbered(word: str, names: Iterable[str]) -> dict[str, str]:
    return {name: f"{word} {n}" for n, name in enumerate(dict.fromkeys(names), start=1)}


def share_lines(derived: pd.DataFrame, rules: Sharing, cuts: Sequence[dt.date]) -> pd.DataFrame:
    """Return the lines that may leave, numbered anew, as inputs only.

    ``derived`` are lines with their masses (derived.derive). Lines that are not the sponsor's become
    sums by month, cut also at ``cuts`` (first days of the spans that figures are asked for), so that
    every figure can still be added up from them.
    """
    lines = derived
    if not rules.notes:
        lines = lines.assign(found=without_notes(lines["found"], lines["note"]), note="")
    if rules.hidden:
        free = ("found", "name", "note", "file", "sheet")
        lines = lines.assign(**{c: [rules.text(t) for t in lines[c]] for c in free})
        lines["destination"] = lines["destination"].map(rules.destination)
    if rules.alias:
        lines = lines.assign(source=lines["source"].map(rules.source))
        for name, word in (("file", "file"), ("sheet", "sheet")):
            lines[name] = lines[name].map({"": "", **_numbered(word, lines[name].unique())})
    if rules.own is None:
        return lines[list(COLUMNS)]
    lines = lines[~lines["kind"].isin(_HOUSE_ONLY)]
    lines = lines.assign(stretch=_stretch_starts(lines["date"].to_numpy(), cuts))
    is_charge = lines["kind"].isin(CHARGED)
    entries, charges = lines[~is_charge], lines[is_charge]
    sums, place_of = _entry_sums(entries)
    charged = _charge_sums(charges, place_of)
    out = pd.concat([sums, charged], ignore_index=True) if len(charged) else sums
    out["line"] = np.arange(1.0, len(out) + 1)
    return out[list(COLUMNS)]


def without_notes(found: pd.Series[str], note: pd.Series[str]) -> npt.NDArray[np.object_]:
    """Return the words of quantity cells without the notes that trailed behind them."""
    words = [
        text.replace(more, "").rstrip(" ,;:-(") if more and more in text else text
        for text, more in zip(found, note, strict=True)
    ]
    return np.array(words, dtype=object)


def _stretch_starts(
    days: npt.NDArray[np.datetime64], cuts: Sequence[dt.date]
) -> npt.NDArray[np.datetime64]:
    """Return the first day of the stretch each day lies in: its month, cut at the given days."""
    months = days.astype("datetime64[M]").astype("datetime64[D]")
    starts = np.unique(np.concatenate([months, np.array(list(cuts), dtype="datetime64[D]")]))
    return starts[np.searchsorted(starts, days.astype("datetime64[D]"), side="right") - 1]


def _entry_sums(entries: pd.DataFrame) -> tuple[pd.DataFrame, dict[int, int]]:
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
    table["source"] = np.where(table["kind"].isin(["intake", "moved", "rejected"]), OTHERS, "")
    blank = {c: "" for c in TEXT if c not in table} | {c: np.nan for c in NUMBER if c not in table}
    table = table.assign(**blank)
    out = pd.concat([entries[own], table], ignore_index=True)[list(COLUMNS)]
    place = np.empty(len(entries), dtype=np.int64)
    place[own] = np.arange(own.sum())
    place[~own] = own.sum() + group
    out["date"] = out["date"].astype("datetime64[s]")
    return out, dict(zip(entries["line"].astype(int), place.tolist(), strict=True))


def _charge_sums(charges: pd.DataFrame, place_of: Mapping[int, int]) -> pd.DataFrame:
    """Return the charges by source of the sponsor, or all others, and by the line they come from."""
    if not len(charges):
        return charges
    origin = charges["from_line"].astype(int).map(dict(place_of))
    mine = charges["own"] == "yes"
    keys = charges[["kind", "stretch", "material", "before", "decay_class", "landfill", "own",
                    "funded", "screening", "spread"]].assign(
        source=charges["source"].where(mine, OTHERS), from_line=origin + 1.0
    )  # fmt: skip
    names = list(keys.columns)
    kg = keys.assign(kg=charges["mass_kg"]).groupby(names, dropna=False, sort=True)["kg"].sum()
    table = kg.reset_index()
    whole = keys.assign(kg=charges["mass_kg"]).groupby("from_line")["kg"].sum()
    table["share"] = table["kg"] / table["from_line"].map(whole)
    blank = {c: "" for c in TEXT if c not in table} | {c: np.nan for c in NUMBER if c not in table}
    return table.assign(date=table["stretch"], **blank).assign(rows=0.0)[list(COLUMNS)]
