"""A reading as bytes and back again: names, texts and numbers, and nothing that could be run.

A length of eight bytes, that much JSON, then the numbers of the frames as they lie in memory. What
stands in the JSON can only become one of the values named here, whoever wrote it.
"""

from __future__ import annotations

import datetime as dt
import json
from collections.abc import Callable, Sequence
from dataclasses import fields
from typing import Any

import numpy as np
import pandas as pd

from divert.core.findings import Choice, Finding, Where
from divert.core.reading import Claim, InputFile, Reading, SheetTaken
from divert.core.words import Text

_RECORDS: dict[str, type[Any]] = {
    one.__name__: one
    for one in (Reading, Finding, Where, Choice, Text, SheetTaken, Claim, InputFile)
}
_FIELDS = {name: [field.name for field in fields(one)] for name, one in _RECORDS.items()}
_LENGTH_BYTES = 8
_PLAIN = (str, int, float, bool, type(None))
_NUMBERS = "biufM"  # kinds of numpy's numbers and days; never objects, whose bytes are addresses


def written(reading: Reading) -> bytes:
    """Return a reading as bytes; TypeError where it holds what has no place there."""
    blobs: list[bytes] = []
    text = json.dumps(_out(reading, blobs), separators=(",", ":"), check_circular=False).encode()
    return b"".join([len(text).to_bytes(_LENGTH_BYTES, "big"), text, *blobs])


def read_back(data: bytes) -> Reading:
    """Return what :func:`written` was given.

    Whatever else the bytes are raises ValueError, TypeError, KeyError, IndexError or RecursionError.
    """
    start = _LENGTH_BYTES + int.from_bytes(data[:_LENGTH_BYTES], "big")
    reading = _in(json.loads(data[_LENGTH_BYTES:start]), memoryview(data)[start:])
    if not isinstance(reading, Reading):
        raise ValueError("not a reading")
    return reading


def _out(value: Any, blobs: list[bytes]) -> Any:
    """Return a value for JSON: a list is a tuple, a dict of one key anything else."""
    kind = type(value)
    if kind in _PLAIN:
        return value
    if kind is tuple:
        return [_out(one, blobs) for one in value]
    name = kind.__name__
    if _RECORDS.get(name) is kind:
        return {name: [_out(getattr(value, key), blobs) for key in _FIELDS[name]]}
    if kind is dict:
        return {"dict": [[_out(k, blobs), _out(v, blobs)] for k, v in value.items()]}
    if kind is dt.date:
        return {"date": value.isoformat()}
    if isinstance(value, np.generic) and value.dtype.kind in _NUMBERS:
        return {"numbers": [*_numbers_out(np.array([value]), blobs), "one"]}
    if kind is pd.DataFrame:
        columns = [[column, _column_out(value[column], blobs)] for column in value]
        return {"frame": [_index_out(value.index, blobs), columns]}
    raise TypeError(name)


def _in(told: Any, blob: memoryview) -> Any:
    if isinstance(told, list):
        return tuple([_in(one, blob) for one in told])
    if not isinstance(told, dict):
        return told
    ((name, value),) = told.items()
    if name in _RECORDS:
        return _RECORDS[name](*[_in(one, blob) for one in value])
    return _OTHERS[name](value, blob)


def _frame_in(told: Any, blob: memoryview) -> pd.DataFrame:
    index, columns = told
    of = {name: _column_in(column[0], column[1], blob) for name, column in columns}
    frame = pd.DataFrame(of, columns=[name for name, _ in columns])
    frame.index = _index_in(index, blob)
    return frame


def _index_out(index: pd.Index, blobs: list[bytes]) -> Any:
    if isinstance(index, pd.RangeIndex):
        return [index.start, index.stop, index.step]
    return {"numbers": _numbers_out(index.to_numpy(), blobs)}


def _index_in(told: Any, blob: memoryview) -> pd.Index:
    return pd.RangeIndex(*told) if isinstance(told, list) else pd.Index(_in(told, blob))


def _column_out(column: pd.Series[Any], blobs: list[bytes]) -> list[Any]:
    """Return a column as ["codes" of names | "numbers" | the name of a type of text, what it holds]."""
    if isinstance(column.dtype, pd.CategoricalDtype):
        names = column.cat.categories
        codes = _numbers_out(column.cat.codes.to_numpy(), blobs)
        return ["codes", [codes, _texts_out(names), bool(column.cat.ordered)]]
    if isinstance(column.dtype, np.dtype) and column.dtype.kind in _NUMBERS:
        return ["numbers", _numbers_out(column.to_numpy(), blobs)]
    return ["texts", _texts_out(column)]


def _column_in(kind: str, told: Any, blob: memoryview) -> Any:
    if kind == "codes":
        codes, names, ordered = told
        return pd.Categorical.from_codes(
            _numbers_in(codes, blob), categories=_texts_in(names, pd.Index), ordered=ordered
        )
    return _numbers_in(told, blob) if kind == "numbers" else _texts_in(told, pd.Series)


def _texts_out(texts: pd.Series[Any] | pd.Index) -> list[Any]:
    """Return the name of a column's type and its values: each a text, a number or none."""
    values = [None if one is None or one != one else one for one in texts.tolist()]
    if not {type(one) for one in values} <= set(_PLAIN):
        raise TypeError("a column of more than texts")
    gap = next((str(one) for one in texts.tolist() if one is None or one != one), "")
    return [str(texts.dtype), gap, values]


def _texts_in(told: Sequence[Any], of: Callable[..., Any]) -> Any:
    kind, gap, values = told
    if not {type(one) for one in values} <= set(_PLAIN):
        raise ValueError("a column of more than texts")
    if kind == "object":
        values = [np.nan if one is None and gap == "nan" else one for one in values]
    elif kind not in ("str", "string", "int64", "float64"):
        raise ValueError(kind)
    return of(values, dtype=kind)  # told, for pandas would guess another


def _numbers_out(numbers: Any, blobs: list[bytes]) -> list[Any]:
    if numbers.dtype.kind not in _NUMBERS:
        raise TypeError(str(numbers.dtype))
    start = sum(map(len, blobs))
    blobs.append(numbers.tobytes())
    return [numbers.dtype.str, start, len(numbers)]


def _numbers_in(told: Sequence[Any], blob: memoryview) -> Any:
    kind, start, length, *one = told
    dtype = np.dtype(str(kind))
    if dtype.kind not in _NUMBERS or start < 0 or length < 0:
        raise ValueError(str(kind))
    got = np.frombuffer(blob, dtype=dtype, count=length, offset=start).copy()
    return got[0] if one else got


def _pairs_in(told: Any, blob: memoryview) -> dict[Any, Any]:
    return {_in(key, blob): _in(value, blob) for key, value in told}


_OTHERS: dict[str, Callable[[Any, memoryview], Any]] = {
    "dict": _pairs_in,
    "date": lambda told, _: dt.date.fromisoformat(told),
    "numbers": _numbers_in,
    "frame": _frame_in,
}
