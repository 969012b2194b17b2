"""What may be done to site.toml, as values: one key, one item of a list, one entry."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping
from dataclasses import dataclass, field

Value = str | int | float | bool | dt.date | list[str] | Mapping[str, str | float]


@dataclass(frozen=True, slots=True)
class SetKey:
    """Give a key a value.

    ``name`` is that of the entry in ``[[table]]`` ("" for a plain ``[table]``), or the values by
    which the entry is known ({"file": ..., "sheet": ...}); an entry that is not there is added with
    these, then ``besides``, then the key. A key ``"columns.date"`` is that of a table in braces.
    """

    table: str
    name: str | Mapping[str, Value]
    key: str
    value: Value
    besides: Mapping[str, Value] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class AddTo:
    """Add texts to a key's list, those that are there already left alone; the rest as SetKey."""

    table: str
    name: str | Mapping[str, Value]
    key: str
    values: tuple[str, ...]
    besides: Mapping[str, Value] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class NewEntry:
    """Add an entry ``[[table]]`` with these keys, after the others of its kind."""

    table: str
    values: Mapping[str, Value]


@dataclass(frozen=True, slots=True)
class Drop:
    """Take out every entry of ``[[table]]`` whose keys have these values."""

    table: str
    where: Mapping[str, Value]


Edit = SetKey | AddTo | NewEntry | Drop
