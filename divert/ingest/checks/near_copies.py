"""Files and sheets that say again what others say, found by their entries and not by their bytes.

A backup, a copy that a sync service left, an export of one tab as CSV or ODS: most of its entries
stand elsewhere, with the same day, source, material and amount. It is set aside whole and asked
about. Groups are gone through one after another, the likeliest originals first, and each is held
against the entries kept so far, so that the cost grows with rows and not with pairs of files.
"""

from __future__ import annotations

import re
from collections import Counter, defaultdict
from collections.abc import Collection, Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from pathlib import PurePosixPath

import numpy as np
import numpy.typing as npt
import pandas as pd

from divert.core.ledger import sheets_of
from divert.core.marks import Marks, mixed, rounded

Places = npt.NDArray[np.int64]

LEAST_SHARED = 2  # entries; one entry that stands twice is asked about as a repeated row
IN_ONE = 0.5  # more than this of a group's entries in one other file: it says that file again
IN_ALL = 0.8  # of its entries in several: it gathers them
_DIGITS = 6  # significant, of an amount: a format may round what it writes
_FEW = 5  # entries; below this days and amounts alone, without names, prove nothing
_AMOUNTS = ("count", "volume_m3", "mass_kg", "gross_kg", "amount")
_COPY_NAME = re.compile(
    r"(?i)(?<![a-z])(?:copy|conflict(?:ed)?|copie|copia|conflit|en conflit|backup|bak|old|ancien|"
    r"sauvegarde|archive|export)(?![a-z])|\(\d+\)$"
)
_TEXT_FORMATS = (".csv", ".tsv")


@dataclass(frozen=True, slots=True, eq=False)
class NearCopy:
    """A file, or one sheet of it, whose entries stand elsewhere.

    ``rows``: the places of its entries among all; ``differs``: those of them that stand nowhere
    else; ``lacks``: the places of the entries of ``of_file`` that it does not say. ``sheet`` is None
    where the whole file is a copy.
    """

    file: str
    sheet: str | None
    of_file: str
    of_sheet: str | None
    shared: int
    rows: Places
    differs: Places
    lacks: Places


@dataclass(frozen=True, slots=True, eq=False)
class Copies:
    """What says again what others say.

    ``by_order``: whether it may hang on the order in which originals are taken; where it does not,
    nothing is a copy in any order.
    """

    found: list[NearCopy]
    by_order: bool


def near_copies(
    entries: pd.DataFrame, first: Collection[str] = (), apart: Collection[str] = ()
) -> Copies:
    """Return the files, then the sheets, most of whose entries stand in another.

    ``entries``: a ledger frame. ``first``: files to be taken for originals before any other;
    ``apart``: files and ``file!sheet`` that somebody has said are no copies.
    """
    if entries.empty:
        return Copies([], by_order=False)
    number, pairs = sheets_of(entries)
    if len(pairs) < 2:
        return Copies([], by_order=False)
    file, sheet, both = (
        np.array(names, dtype=object)[number]
        for names in (*zip(*pairs, strict=True), [f"{file}!{sheet}" for file, sheet in pairs])
    )
    order = _Order(first)
    whole = _Pass(entries, file, order, apart)
    found = [
        NearCopy(c.name, None, c.of, None, c.shared, c.rows, c.differs, c.lacks)
        for c in whole.copies()
    ]
    gone = {c.file for c in found}
    if _sheets_are_files([pair for pair in pairs if pair[0] not in gone]):
        return Copies(found, whole.by_order())
    left = np.array([f not in gone for f, _ in pairs])[number]
    where = np.flatnonzero(left)
    by_sheet = _Pass(entries.iloc[where], both[left], order, apart)
    for c in by_sheet.copies():
        here, there = where[c.rows[0]], c.of.split("!", 1)
        found.append(
            NearCopy(str(file[here]), str(sheet[here]), there[0], there[1] or None, c.shared,
                     where[c.rows], where[c.differs], where[c.lacks])
        )  # fmt: skip
    return Copies(found, whole.by_order() or by_sheet.by_order())


def _sheets_are_files(pairs: Sequence[tuple[str, str]]) -> bool:
    """Return whether files of one sheet each are left, which were held against one another already.

    A sheet's name may tell of a copy as well, and settle which of two comes first.
    """
    files = sorted(file for file, _ in pairs)
    return (
        len(set(files)) == len(files)
        and not any(_COPY_NAME.search(sheet) for _, sheet in pairs)
        and files == [file for file, _ in sorted(pairs, key="!".join)]
    )


class _Order:
    """Which of two that say the same is taken for the original."""

    def __init__(self, first: Collection[str]) -> None:
        self._first = {name: place for place, name in enumerate(first)}

    def __call__(self, name: str, size: int) -> tuple[int, bool, bool, int, int, str]:
        file, _, sheet = name.partition("!")
        path = PurePosixPath(file)
        copied = _COPY_NAME.search(path.stem) or _COPY_NAME.search(sheet)
        return (
            self._first.get(file, len(self._first)),
            copied is not None,
            path.suffix.lower() in _TEXT_FORMATS,
            len(path.parts),
            -size,
            name,
        )


@dataclass(frozen=True, slots=True, eq=False)
class _Copy:
    name: str
    of: str
    shared: int
    rows: Places
    differs: Places
    lacks: Places


class _Pass:
    """One way through all groups, each held against those kept before it."""

    def __init__(
        self,
        entries: pd.DataFrame,
        groups: npt.NDArray[np.object_],
        order: _Order,
        apart: Collection[str],
    ) -> None:
        self._named, self._bare = _marks(entries)
        codes, names = pd.factorize(groups)
        self._names = [str(n) for n in names]
        by_group = np.argsort(codes, kind="stable")
        cuts = np.searchsorted(codes[by_group], np.arange(len(names) + 1))
        self._rows = [by_group[a:b] for a, b in pairwise(cuts)]
        sizes = [len(r) for r in self._rows]
        self._order = sorted(range(len(names)), key=lambda g: order(self._names[g], sizes[g]))
        self._apart = apart
        nameless = entries["source"].isna().to_numpy()
        self._nameless = [bool(nameless[r].all()) for r in self._rows]
        # Where every group has names, those without them prove nothing.
        self._held = (self._named, self._bare) if any(self._nameless) else (self._named,)
        self._met_twice = {id(marks): _in_two_groups(marks, codes) for marks in self._held}

    def by_order(self) -> bool:
        """Return whether any group has enough entries in others to be a copy of those before it.

        Which groups come before it settles how many of them count (:meth:`_Kept.holder`), and never
        makes them more.
        """
        return any(
            shared >= max(LEAST_SHARED, in_one * len(rows))
            for marks, in_one in zip(self._held, (IN_ONE, IN_ALL), strict=False)
            for rows in self._rows
            if (shared := int(self._met_twice[id(marks)][rows].sum()))
        )

    def copies(self) -> Iterator[_Copy]:
        """Yield the groups that say others again, the likeliest originals having been kept."""
        named, bare = _Kept(), _Kept()
        for group in self._order:
            found = None if self._is_apart(group) else self._copied(group, named, bare)
            if found is not None:
                yield found
                continue
            for kept, marks in zip((named, bare), self._held, strict=False):
                kept.add(group, self._shared(marks, group))

    def _is_apart(self, group: int) -> bool:
        name = self._names[group]
        return name in self._apart or name.partition("!")[0] in self._apart

    def _shared(self, marks: Marks, group: int) -> list[int]:
        rows = self._rows[group]
        found: list[int] = marks[rows[self._met_twice[id(marks)][rows]]].tolist()
        return found

    def _copied(self, group: int, named: _Kept, bare: _Kept) -> _Copy | None:
        size = len(self._rows[group])
        of = named.holder(self._shared(self._named, group), size, IN_ONE)
        if of is not None:
            return self._copy(group, of, self._named)
        if size < _FEW or len(self._held) < 2:  # too few, or all of them with names
            return None
        of = bare.holder(self._shared(self._bare, group), size, IN_ALL)
        if of is None or not (self._nameless[group] or self._nameless[of]):
            return None
        return self._copy(group, of, self._bare)

    def _copy(self, group: int, of: int, marks: Marks) -> _Copy:
        rows, others = self._rows[group], self._rows[of]
        differs, lacks = _only_in(marks, rows, others), _only_in(marks, others, rows)
        return _Copy(self._names[group], self._names[of], len(rows) - len(differs), rows, differs,
                     lacks)  # fmt: skip


class _Kept:
    """The entries of the groups kept so far: each mark with the groups that hold it."""

    _MOST_HOLDERS = 16  # of one entry: more tell nothing, and would cost by pairs of files

    def __init__(self) -> None:
        self._held: defaultdict[int, Counter[int]] = defaultdict(Counter)

    def add(self, group: int, marks: Iterable[int]) -> None:
        """Keep a group's entries."""
        for mark in marks:
            held = self._held[mark]
            if group in held or len(held) < self._MOST_HOLDERS:
                held[group] += 1

    def holder(self, marks: Iterable[int], size: int, in_one: float) -> int | None:
        """Return the group that holds most of some entries, where they say others again; or None."""
        by_group: Counter[int] = Counter()
        anywhere = 0
        for mark, count in Counter(marks).items():
            held = self._held.get(mark)
            if held is None:
                continue
            anywhere += min(count, held.total())
            for group, times in held.items():
                by_group[group] += min(count, times)
        if anywhere < LEAST_SHARED:
            return None
        best, shared = min(by_group.items(), key=lambda item: (-item[1], item[0]))
        in_another = shared >= LEAST_SHARED and shared > in_one * size
        return best if in_another or anywhere >= max(_FEW, IN_ALL * size) else None


def _only_in(marks: Marks, here: Places, there: Places) -> Places:
    """Return the places whose entry the others do not say, each of several alike counted."""
    left = Counter(marks[there].tolist())
    out = []
    for place, mark in zip(here.tolist(), marks[here].tolist(), strict=True):
        if left[mark] > 0:
            left[mark] -= 1
        else:
            out.append(place)
    return np.array(out, dtype=np.int64)


def _in_two_groups(marks: Marks, codes: Places) -> npt.NDArray[np.bool_]:
    """Return the rows whose entry stands in two groups or more."""
    entries = np.unique(marks, return_inverse=True)[1]
    groups = np.int64(codes.max(initial=0) + 1)
    groups_of = np.bincount(np.unique(entries * groups + codes) // groups)
    return np.asarray(groups_of[entries] > 1)


def _marks(entries: pd.DataFrame) -> tuple[Marks, Marks]:
    """Return a number for each entry, equal where day, names and amounts are; and one without names."""
    bare = entries["date"].to_numpy().astype("datetime64[D]").astype(np.int64).view(np.uint64)
    for name in ("kind", "container"):
        bare = mixed(bare, _codes(entries[name]))
    for name in _AMOUNTS:
        bare = mixed(bare, rounded(entries[name].to_numpy(), _DIGITS))
    named = bare
    for name in ("source", "material", "name"):
        named = mixed(named, _codes(entries[name]))
    return named, bare


def _codes(column: pd.Series[str]) -> Marks:
    return column.cat.codes.to_numpy().astype(np.int64).view(np.uint64)
