"""The plain form in which cells travel between the child and its parent, and lie in the cache.

A frame is one letter, a length of eight bytes, and that many bytes of JSON: ``S`` begins a sheet,
``R`` holds rows of it (before them ``{"e": n}``: n empty ones, and ``{"k": [0]}``: whole numbers in these
columns are days since 1 January of the year 1), ``F`` says something about a sheet or the file, ``X``
refuses the file, ``E`` ends it. JSON, because reading it back can make nothing but values, whoever wrote
it.
"""

from __future__ import annotations

import datetime as dt
import json
import sys
from collections.abc import Iterable, Iterator
from functools import lru_cache
from itertools import islice
from typing import IO, Any, NamedTuple

from divert.sandbox import limits
from divert.sandbox.refusal import Refused

Frame = tuple[bytes, bytes]
ENDS = (b"E", b"X")
_LENGTH_BYTES = 8
_ROWS_A_FRAME = 256


def packed(kind: bytes, body: bytes) -> bytes:
    """Return one frame as bytes."""
    return kind + len(body).to_bytes(_LENGTH_BYTES, "big") + body


def frames(stream: IO[bytes], at_most: int) -> Iterator[Frame]:
    """Yield (kind, body) up to and with the frame that ends the file.

    Raises EOFError where the stream breaks off, and ValueError where more than ``at_most`` bytes are
    announced.
    """
    left = at_most
    while True:
        head = _exactly(stream, 1 + _LENGTH_BYTES)
        length = int.from_bytes(head[1:], "big")
        left -= length
        if left < 0:
            raise ValueError("more bytes than allowed")
        body = _exactly(stream, length)
        yield head[:1], body
        if head[:1] in ENDS:
            return


def _exactly(stream: IO[bytes], length: int) -> bytes:
    data = stream.read(length)
    if len(data) != length:
        raise EOFError
    return data


def note(value: object) -> bytes:
    """Return the JSON of anything but rows."""
    return json.dumps(value, separators=(",", ":")).encode("ascii")


def rows_out(rows: list[list[Any]]) -> bytes:
    """Return the JSON of rows; an empty string becomes an empty cell (null)."""
    days = _columns_of_days(rows)
    if days:
        rows = [row.copy() for row in rows]
        for row in rows:
            for place in days:
                if len(row) > place and type(row[place]) is dt.date:
                    row[place] = row[place].toordinal()
    text = json.dumps(rows, default=_date_out, separators=(",", ":"), check_circular=False)
    # An unescaped quote only ever opens or closes a string and a closing one is followed by one of
    # ``,]:}``, so these two patterns can be nothing but empty strings. (Replacing them here costs a
    # tenth of looking at every cell.)
    body = text.replace(',""', ",null").replace('[""', "[null").encode("ascii")
    return b'[{"k":%s},%s' % (note(days), body[1:]) if days else body


def _columns_of_days(rows: list[list[Any]]) -> list[int]:
    """Return the columns with a day in the last row and nothing but days and texts above it.

    A log's days are most of the cells that are no text and no number: each as an object of its own took
    as long as all others together.
    """
    last = rows[-1] if rows else []
    return [
        place
        for place, cell in enumerate(last)
        if type(cell) is dt.date
        and {type(row[place]) for row in rows if len(row) > place} <= {dt.date, str}
    ]


def row_frames(rows: Iterator[list[Any]], gaps: Iterable[tuple[int, int]] = ()) -> Iterator[Frame]:
    """Yield frames of rows without their empty ends ("" is empty); the rows are used up.

    ``gaps``: (row, how many) empty rows more before some rows, from 0, in order.
    Raises Refused where one cell holds more text than any spreadsheet program would, or where there
    are more cells than would fit in memory twice.
    """
    cells = 0
    empty = 0  # rows met since the last filled one
    for missing, chunk in _chunks(rows, gaps):
        empty += missing
        if _is_blank(chunk):
            empty += len(chunk)
            if empty > limits.EMPTY_ROWS:
                raise Refused("too many cells")
            continue
        for row in chunk:
            if row and row[-1] == "" and row.count("") == len(row):
                row.clear()
            while row and row[-1] == "":
                row.pop()
        if max(map(len, chunk)) > limits.COLUMNS:
            raise Refused("too many columns")
        cells += sum(map(len, chunk))
        if cells > limits.CELLS:
            raise Refused("too many cells")
        filled = len(chunk)
        while filled and not chunk[filled - 1]:
            filled -= 1
        body = rows_out(chunk[:filled])
        if empty:  # said once, however many there are
            body = b'[{"e":%d},%s' % (empty, body[1:])
        if len(body) > limits.CELL_CHARACTERS and _longest(chunk) > limits.CELL_CHARACTERS:
            raise Refused("long cell")
        yield b"R", body
        empty = len(chunk) - filled


def _chunks(
    rows: Iterator[list[Any]], gaps: Iterable[tuple[int, int]]
) -> Iterator[tuple[int, list[list[Any]]]]:
    """Yield some rows at a time, each with the number of empty ones left out before them."""
    at = left_out = 0
    for start, missing in (*gaps, (sys.maxsize, 0)):
        while chunk := list(islice(rows, min(_ROWS_A_FRAME, start - at))):
            at += len(chunk)
            yield left_out, chunk
            left_out = 0
        left_out += missing


def _is_blank(chunk: list[list[Any]]) -> bool:
    """Return whether all rows are empty; rows of one width are compared at once, others one by one."""
    first = chunk[0]
    if first.count("") < len(first):
        return False
    return chunk.count(first) == len(chunk) or all(row.count("") == len(row) for row in chunk)


def _longest(rows: list[list[Any]]) -> int:
    return max((len(cell) for row in rows for cell in row if isinstance(cell, str)), default=0)


def rows_in(body: bytes) -> list[list[Any]]:
    """Return the rows that :func:`rows_out` was given, None for each empty cell."""
    rows = json.loads(body, object_hook=_date_in)
    if not isinstance(rows, list):
        raise ValueError("not rows")
    told = [one for one in rows[:2] if isinstance(one, _Empty | _Days)]
    rows = rows[len(told) :]
    if not set(map(type, rows)) <= {list}:
        raise ValueError("not rows")
    for one in told:
        if isinstance(one, _Days):
            _put_days(rows, one.columns)
    # One and the same: a million lists would take a second.
    return [[]] * sum(one.rows for one in told if isinstance(one, _Empty)) + rows


def _put_days(rows: list[list[Any]], columns: Iterable[int]) -> None:
    for place in columns:
        for row in rows:
            if len(row) > place and type(row[place]) is int:
                row[place] = _day_of(row[place])


@lru_cache(maxsize=4096)
def _day_of(number: int) -> dt.date:
    if not 0 < number <= dt.date.max.toordinal():
        raise ValueError("no day")
    return dt.date.fromordinal(number)


class _Empty(NamedTuple):
    """So many empty rows, before the others of a frame."""

    rows: int


class _Days(NamedTuple):
    """The columns of a frame whose whole numbers are days."""

    columns: list[int]


def _date_out(value: object) -> dict[str, object]:
    if isinstance(value, dt.datetime):
        return {"m": value.isoformat()}
    if isinstance(value, dt.date):
        return {"d": value.isoformat()}
    if isinstance(value, dt.time):
        return {"t": value.isoformat()}
    if isinstance(value, dt.timedelta):
        return {"s": [value.days, value.seconds, value.microseconds]}
    raise TypeError(type(value).__name__)


def _date_in(tagged: dict[str, Any]) -> object:
    ((tag, value),) = tagged.items()
    if tag == "d":
        return dt.date.fromisoformat(value)
    if tag == "m":
        return dt.datetime.fromisoformat(value)
    if tag == "t":
        return dt.time.fromisoformat(value)
    if tag == "s":
        return dt.timedelta(*value)
    if tag == "e" and 0 < value <= limits.EMPTY_ROWS:
        return _Empty(int(value))
    if tag == "k" and set(map(type, value)) == {int} and min(value) >= 0:
        return _Days(value)
    raise ValueError(tag)
