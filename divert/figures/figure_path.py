"""How one figure is named: ``mass.diverted.central``, ``by_material[kitchen scraps].diverted``.

A path addresses the JSON object of the figures (divert.figures.as_json.to_json). An element of a list is
named by its place (``by_month[0]``) or by what it is about (``by_month[2025-04]``).
"""

from __future__ import annotations

import difflib
import re
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from divert.core.findings import CannotRun
from divert.core.names import plain
from divert.core.words import N_, Text

_BY_PLACES = re.compile(r"\w+(?:\[[0-9]+\])?(?:\.\w+(?:\[[0-9]+\])?)*")
_STEPS = re.compile(r"(\w+)(?![0-9]*\])|\[([0-9]+)\]")
RANGE_KEYS = frozenset({"central", "low", "high"})
MEAN = "mean"  # stands beside them where the figure is one of emissions


@dataclass(frozen=True, slots=True)
class Figure:
    """A figure that was found: its ``path`` by places, its ``spoken`` path by names, its value."""

    path: str
    spoken: str
    value: Any


def is_range(value: Any) -> bool:
    """Return whether a JSON value is a range: central, low and high."""
    return isinstance(value, Mapping) and set(value) - {MEAN} == RANGE_KEYS


def element_name(item: Any) -> str | None:
    """Return what an element of a list is about: its first value (material, month, year ...)."""
    if isinstance(item, Mapping) and item:
        first = next(iter(item.values()))
        if isinstance(first, str | int):
            return str(first)
    return None


def find(figures: Mapping[str, Any], path: str) -> Figure:
    """Return the figure that a path names; raises CannotRun with the nearest names otherwise."""
    found = _step(figures, path.strip().removeprefix("$").lstrip("."), "", "")
    if found is None:
        raise CannotRun(_unknown(figures, path))
    return found


def get(figures: Mapping[str, Any], path: str) -> Any:
    """Return the value at a path, or None where the path names nothing."""
    if _BY_PLACES.fullmatch(path):  # the usual case, many thousand times a report
        here: Any = figures
        for key, place in _STEPS.findall(path):
            if key and isinstance(here, Mapping) and key in here:
                here = here[key]
            elif place and isinstance(here, list | tuple) and int(place) < len(here):
                here = here[int(place)]
            else:
                break
        else:
            return here
    found = _step(figures, path, "", "")
    return None if found is None else found.value


def _step(here: Any, rest: str, path: str, spoken: str) -> Figure | None:
    if not rest:
        return Figure(path, spoken, here)
    if rest.startswith("["):
        # A name may hold "]" itself, so every closing bracket is tried in turn.
        for end in (i for i, c in enumerate(rest) if c == "]"):
            after = rest[end + 1 :]
            if after and after[0] not in ".[":
                continue
            found = _enter(here, rest[1:end], after.removeprefix("."), path, spoken)
            if found is not None:
                return found
        return None
    ends = [i for i, c in enumerate(rest) if c in ".["] + [len(rest)]
    for end in ends:
        after = rest[end:]
        found = _enter(here, rest[:end], after.removeprefix("."), path, spoken)
        if found is not None:
            return found
    return None


def _enter(here: Any, key: str, rest: str, path: str, spoken: str) -> Figure | None:
    if isinstance(here, Mapping):
        match = key if key in here else _named(here, key)
        if match is None:
            return None
        return _step(here[match], rest, _join(path, match), _join(spoken, match))
    if isinstance(here, list | tuple):
        place = _place(here, key)
        if place is None:
            return None
        name = _names(here)[place]
        return _step(here[place], rest, f"{path}[{place}]", f"{spoken}[{name}]")
    return None


def _named(here: Mapping[str, Any], key: str) -> str | None:
    close = [name for name in here if plain(name) == plain(key)]
    return close[0] if len(close) == 1 else None


def _names(items: Sequence[Any]) -> list[str]:
    """Return what each element is called: its name, or its place where that is no clear name.

    A name that several share, or that would be taken for a place, is none.
    """
    names = [element_name(item) for item in items]
    counts = Counter(names)
    return [
        name if name and counts[name] == 1 and not _is_place(name, items) else str(place)
        for place, name in enumerate(names)
    ]


def _is_place(key: str, items: Sequence[Any]) -> bool:
    return key.isascii() and key.isdecimal() and int(key) < len(items)


def _place(items: Sequence[Any], key: str) -> int | None:
    if _is_place(key, items):
        return int(key)
    names = _names(items)
    if names.count(key) == 1:
        return names.index(key)
    near = [place for place, name in enumerate(names) if plain(name) == plain(key)]
    return near[0] if len(near) == 1 else None


def _join(path: str, key: str) -> str:
    if "." in key or "[" in key or "]" in key:
        return f"{path}[{key}]"
    return f"{path}.{key}" if path else key


def leaves(figures: Any, path: str = "", spoken: str = "") -> Iterator[Figure]:
    """Yield every number among the figures, in order, with its paths."""
    if isinstance(figures, Mapping):
        for key, value in figures.items():
            yield from leaves(value, _join(path, str(key)), _join(spoken, str(key)))
    elif isinstance(figures, list | tuple):
        for place, (value, name) in enumerate(zip(figures, _names(figures), strict=True)):
            yield from leaves(value, f"{path}[{place}]", f"{spoken}[{name}]")
    elif isinstance(figures, int | float) and not isinstance(figures, bool):
        yield Figure(path, spoken, figures)


def nearest(figures: Mapping[str, Any], path: str, count: int = 3) -> list[str]:
    """Return the spoken paths most like what was typed, nearest first."""
    known: dict[str, None] = {}
    for leaf in leaves({k: v for k, v in figures.items() if k != "findings"}):
        for suffix in (".central", ".low", ".high", ".mean"):
            if leaf.spoken.endswith(suffix):
                known.setdefault(leaf.spoken.removesuffix(suffix))
        known.setdefault(leaf.spoken)
    wanted = path.casefold()
    holding = [name for name in known if wanted and name.casefold().endswith(f".{wanted}")]
    by_end = {name.casefold(): name for name in known}
    close = difflib.get_close_matches(wanted, by_end, n=count, cutoff=0.5)
    return list(dict.fromkeys([*holding, *(by_end[c] for c in close)]))[:count]


def _unknown(figures: Mapping[str, Any], path: str) -> Text:
    close = nearest(figures, path)
    if close:
        return Text(
            N_('There is no figure "{path}" here. Did you mean {names}?'),
            {"path": path, "names": ", ".join(close)},
        )
    return Text(
        N_('There is no figure "{path}" here. Write one as "mass.diverted" or '
           '"by_material[kitchen scraps].diverted"; "divert figures --json" shows them all.'),
        {"path": path},
    )  # fmt: skip
