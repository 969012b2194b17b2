"""Rows of a CSV or TSV file, whatever its letters and whatever parts its cells."""

from __future__ import annotations

import codecs
import csv
import io
import re
from collections import Counter
from collections.abc import Iterable, Iterator

from divert.sandbox.refusal import Refused

_MARKS = (
    (codecs.BOM_UTF8, "utf-8-sig"),
    (codecs.BOM_UTF32_LE, "utf-32"),
    (codecs.BOM_UTF32_BE, "utf-32"),
    (codecs.BOM_UTF16_LE, "utf-16"),
    (codecs.BOM_UTF16_BE, "utf-16"),
)
_CONTROLS = bytes(code for code in range(32) if code not in (9, 10, 11, 12, 13))
_SEPARATORS = ",;\t|"
_LOOKED_AT = 200  # lines that decide what parts the cells
_LONGEST_QUOTED = 40  # line ends in one quoted cell before its opening quote is taken for a slip


def text_of(data: bytes) -> str:
    """Return the file's text: by its mark, else UTF-16 by its zeros, else UTF-8, else Windows-1252.

    Bytes that Windows-1252 leaves undefined become U+FFFD. Raises Refused where it is not text.
    """
    encoding = next((name for mark, name in _MARKS if data.startswith(mark)), None)
    if encoding is None and b"\x00" in data:
        encoding = _unmarked_utf16(data)
    try:
        text = data.decode(encoding or "utf-8")
    except UnicodeDecodeError as problem:
        if encoding is not None and encoding != "utf-8-sig":
            raise Refused("not text") from problem
        text = data.decode("cp1252", "replace")
    wide = encoding is not None and encoding.startswith(("utf-16", "utf-32"))
    raw = text.encode("utf-8", "surrogatepass") if wide else data
    if len(raw) - len(raw.translate(None, _CONTROLS)) > len(text) // 100 + 2:
        raise Refused("not text")
    return text


def _unmarked_utf16(data: bytes) -> str:
    start = data[:4000]
    even, odd = start[0::2].count(0), start[1::2].count(0)
    if odd > len(start) // 4 and even < odd // 4:
        return "utf-16-le"
    if even > len(start) // 4 and odd < even // 4:
        return "utf-16-be"
    return "utf-8"


def separator(text: str, usual: str = ",") -> str:
    """Return what parts the cells: comma, semicolon, tab or bar; ``usual`` where nothing tells.

    The one that cuts most lines into the same number of cells (at least two) is taken, the one that
    makes more cells where two agree. A first line ``sep=;`` settles it.
    """
    first = text[:20].split("\n", 1)[0].strip().lower()
    if first.startswith("sep=") and len(first) == 5 and first[4] in _SEPARATORS:
        return first[4]
    if text[:20].lower().startswith("sep=\t"):
        return "\t"
    lines = [line for line in text[:400_000].splitlines()[:_LOOKED_AT] if line.strip()]

    def score(mark: str) -> tuple[float, int, bool]:
        rows = _rows(lines, mark, _spaced(text, mark))
        widths = Counter(len(row) for row in rows if len(row) > 1)
        if not widths:
            return 0, 0, mark == usual
        width, agreeing = max(widths.items(), key=lambda item: (item[1] * (item[0] - 1), item[0]))
        return agreeing * min(width - 1, 3), width, mark == usual

    return max(_SEPARATORS, key=score)


def rows_of(data: bytes, suffix: str) -> Iterator[list[str]]:
    """Yield the rows of a CSV or TSV file, every cell as its text ("" where empty).

    A blank line is an empty row and a first line ``sep=;`` is none, so that rows count as they do in
    a spreadsheet program. Where a quote that was never closed would swallow rows, the lines are read
    one by one instead.
    """
    text = text_of(data)
    mark = separator(text, "\t" if suffix == ".tsv" else ",")
    if text[:4].lower() == "sep=":
        text = text.partition("\n")[2]
    if not _swallows_rows(text, mark):
        yield from _rows(io.StringIO(text, newline=""), mark, _spaced(text, mark))
        return
    for line in text.splitlines():
        yield next(_rows([line], mark, _spaced(line, mark)), [])


def _swallows_rows(text: str, mark: str) -> bool:
    if '"' not in text:
        return False
    rows = list(_rows(io.StringIO(text, newline=""), mark, _spaced(text, mark)))
    usual = Counter(map(len, rows)).most_common(1)[0][0] - 1 if rows else 0
    long = [cell for row in rows for cell in row if "\n" in cell]
    if any(cell.count("\n") > _LONGEST_QUOTED for cell in long):
        return True
    if usual > 1 and any(line.count(mark) >= usual for cell in long for line in cell.split("\n")):
        return True
    return bool(rows) and text.count('"') % 2 == 1 and any("\n" in cell for cell in rows[-1])


def _spaced(text: str, mark: str) -> bool:
    """Return whether a space stands between a mark and a quoted cell: the quote counts all the same."""
    return '"' in text and re.search(rf'{re.escape(mark)} +"', text) is not None


def _rows(lines: Iterable[str], mark: str, spaced: bool = False) -> Iterator[list[str]]:
    csv.field_size_limit(1 << 30)  # how long a cell may be is settled where rows are sent
    return csv.reader(lines, delimiter=mark, skipinitialspace=spaced)
