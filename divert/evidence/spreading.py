"""Removed and residue that came with no load: each load's share, worked out from the lines alone."""

from __future__ import annotations

import datetime as dt
from collections import defaultdict
from collections.abc import Callable, Iterator
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt
import pandas as pd

from divert.convert import Workings
from divert.convert.charges import MONTHS_BACK
from divert.evidence.lines import CHARGED, REMOVED, RESIDUE

Floats = npt.NDArray[np.float64]
KEYS = ["source", "material", "before", "decay_class"]
# Over which loads a row is shared out; "" where its shares stand as values.
OWN_MONTH, MONTH, YEAR = (
    "its source's loads of the month",
    "loads of the month",
    "loads of 12 months",
)
_SAME = 1e-9
# A share's formula looks at every line of the ledger; this many looks take seconds, not hours.
_MOST_LOOKS = 300_000_000

Derive = Callable[[pd.DataFrame], pd.DataFrame]


@dataclass(frozen=True, slots=True)
class Pool:
    """The loads that a charge is shared out over: which, up to which month, of which source."""

    over: str
    month: int  # counted from 1970
    source: str = ""

    @property
    def first_month(self) -> int:
        """Return the first month that the pool looks at."""
        return self.month - MONTHS_BACK + 1 if self.over == YEAR else self.month


@dataclass(frozen=True, slots=True)
class Shares:
    """Of each line its share (NaN where it is not worked out), and what the pools came to.

    ``parts``: for each pool, by the texts of :data:`KEYS`, the kg that stand behind a share.
    """

    share: Floats
    parts: dict[Pool, dict[tuple[str, ...], float]]


def months_of(lines: pd.DataFrame) -> npt.NDArray[np.int64]:
    """Return each line's month, counted from 1970."""
    return lines["date"].to_numpy().astype("datetime64[M]").astype(np.int64)


def pools_of(lines: pd.DataFrame) -> Iterator[tuple[int, Pool, tuple[str, ...]]]:
    """Yield the place of each line that is shared out by formula, its pool and its own keys."""
    asked = np.flatnonzero((lines["spread"] != "").to_numpy())
    month = months_of(lines)[asked]
    columns = [lines[name].to_numpy()[asked] for name in ("spread", *KEYS)]
    for place, at, over, *keys in zip(asked, month, *columns, strict=True):
        source = keys[0] if over == OWN_MONTH else ""
        yield int(place), Pool(over, int(at), source), tuple(keys)


def shared_out(lines: pd.DataFrame, net: Floats, *over: str) -> Shares:
    """Return the shares of the lines that are charged over some kinds of pools.

    ``net``: kg received less removed of each line, as far as the pools look at it.
    """
    share = np.full(len(lines), np.nan)
    if not (lines["spread"] != "").any():
        return Shares(share, {})
    asked = [one for one in pools_of(lines) if one[1].over in over]
    loads = lines[KEYS].assign(kg=net, month=months_of(lines))[net != 0]
    by_month: dict[tuple[str, ...], dict[int, float]] = defaultdict(dict)
    for (*keys, month), kg in loads.groupby([*KEYS, "month"])["kg"].sum().items():
        by_month[tuple(keys)][month] = kg
    parts: dict[Pool, dict[tuple[str, ...], float]] = defaultdict(dict)
    for _, pool, own in asked:
        if own not in parts[pool]:
            months = range(pool.first_month, pool.month + 1)
            parts[pool][own] = sum(by_month[own].get(month, 0.0) for month in months)
    whole = {pool: sum(kg for kg in by_keys.values()) for pool, by_keys in parts.items()}
    for place, pool, keys in asked:
        share[place] = parts[pool][keys] / whole[pool] if whole[pool] else np.nan
    return Shares(share, parts)


def by_formula(lines: pd.DataFrame, derive: Derive) -> pd.DataFrame:
    """Return lines whose ``spread`` says over which loads each charge is shared out.

    It does so only where the lines alone give the very shares they hold; sums over several sources,
    or loads that are not among the lines, give others, and there the shares stand as values.
    ``derive`` works out the lines.
    """
    over = _over(lines)
    # What is removed settles what bears the residue, so it is settled first.
    for kind in (REMOVED, RESIDUE):
        lines = _kept(lines, np.where(lines["kind"] == kind, over, lines["spread"]), derive)
    return lines


def too_many_to_share(lines: pd.DataFrame) -> bool:
    """Return whether a spreadsheet program would be kept too long by formulas for the shares."""
    charged = lines[lines["kind"].isin(CHARGED)]
    parts = len(
        charged.assign(month=months_of(charged))[["kind", "month", *KEYS]].drop_duplicates()
    )
    return parts * len(lines) > _MOST_LOOKS


def _kept(lines: pd.DataFrame, spread: npt.NDArray[np.object_], derive: Derive) -> pd.DataFrame:
    """Return lines with ``spread`` wherever all shares of a row come out as they were given."""
    if not (spread != "").any():
        return lines
    asked = lines.assign(spread=spread)
    off = ~(np.abs(derive(asked)["share"].to_numpy() - lines["share"].to_numpy()) <= _SAME)
    bad = set(lines["from_line"].to_numpy()[off & (spread != "")])
    stands = lines["from_line"].isin(bad).to_numpy()
    return asked.assign(spread=np.where(stands, "", spread))


def _over(lines: pd.DataFrame) -> npt.NDArray[np.object_]:
    """Return over which loads each charge would have been shared out, by what it was and whose."""
    kind, source = lines["kind"].to_numpy(), lines["source"].to_numpy()
    charged = np.isin(kind, CHARGED)
    origin = np.where(charged, lines["from_line"], 1).astype(int) - 1
    elsewhere = pd.Series(source != source[origin]).groupby(origin).transform("any").to_numpy()
    over = np.where(kind == REMOVED, np.where(elsewhere, MONTH, OWN_MONTH), YEAR)
    return np.where(charged, over, "").astype(object)


def whole_months(workings: Workings, until: dt.date) -> dt.date:
    """Return the day up to which lines must reach so that what is shared out by months can be."""
    end = np.datetime64(until, "M") + 1
    first, after = np.datetime64(until, "M").astype("datetime64[D]"), end.astype("datetime64[D]")
    days = workings.charges["date"].to_numpy().astype("datetime64[D]")
    charged = (days >= first) & (days < after)
    return (after - 1).item() if len(days) and charged.any() else until
