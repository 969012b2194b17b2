"""Frozen dataclasses as JSON and back: what was kept on the day of issue reads back as it was."""

from __future__ import annotations

import dataclasses
import datetime as dt
import types
import typing
from collections.abc import Mapping
from pathlib import Path
from typing import Any, TypeVar

T = TypeVar("T")


def to_plain(value: Any) -> Any:
    """Return dataclasses, tuples, dates and paths as JSON values."""
    if dataclasses.is_dataclass(value) and not isinstance(value, type):
        return {f.name: to_plain(getattr(value, f.name)) for f in dataclasses.fields(value)}
    if isinstance(value, Mapping):
        return {str(k): to_plain(v) for k, v in value.items()}
    if isinstance(value, tuple | list):
        return [to_plain(v) for v in value]
    if isinstance(value, dt.date):
        return value.isoformat()
    return str(value) if isinstance(value, Path) else value


def from_plain(kind: type[T], plain: Any) -> T:
    """Return the value of a kind that :func:`to_plain` was given.

    A field that was not known then takes its default; one no longer known is passed over. Raises
    TypeError or ValueError for JSON that does not fit.
    """
    made: T = _read(kind, plain)
    return made


def _read(kind: Any, plain: Any) -> Any:
    origin, inner = typing.get_origin(kind), typing.get_args(kind)
    if origin in (typing.Union, types.UnionType):
        if plain is None:
            return None
        if isinstance(plain, bool) and bool in inner:
            return plain
        return _read(next(k for k in inner if k not in (type(None), bool)), plain)
    if origin is tuple:
        if len(inner) == 2 and inner[1] is Ellipsis:
            return tuple(_read(inner[0], v) for v in plain)
        return tuple(_read(k, v) for k, v in zip(inner, plain, strict=True))
    if dataclasses.is_dataclass(kind) and isinstance(kind, type):
        hints = typing.get_type_hints(kind)
        fields = {f.name for f in dataclasses.fields(kind) if f.init}
        return kind(**{k: _read(hints[k], v) for k, v in plain.items() if k in fields})
    if kind is dt.date:
        return dt.date.fromisoformat(plain)
    if kind is float:
        return float(plain)
    return Path(plain) if kind is Path else plain
