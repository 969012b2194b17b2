"""On which line of a TOML text a key stands, so that a mistake can be pointed at.

The standard library's reader keeps no places. This scan only follows headings, keys, strings and
brackets of a text that reader has already accepted, so it need not check anything.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Mapping

Place = tuple[str, int, str]  # table, which one of that name (from 0), key ("" for the heading)

_HEADING = re.compile(r"\s*(\[\[?)\s*([^\]]+?)\s*\]")
_KEY = re.compile(r"""\s*("[^"]*"|'[^']*'|[\w-]+)\s*[.=]""")
_TOKEN = re.compile(r'"""|\'\'\'|"(?:\\.|[^"\\])*"|\'[^\']*\'|#.*|[\[\]{}]')


def key_lines(text: str) -> Mapping[Place, int]:
    """Return the line (from 1) of every table heading and of every key straight under one."""
    places: dict[Place, int] = {}
    counts: Counter[str] = Counter()
    table, which = "", 0
    depth, long_string = 0, ""
    for number, line in enumerate(text.splitlines(), start=1):
        if depth == 0 and not long_string:
            if heading := _HEADING.match(line):
                parts = [part.strip().strip("\"'") for part in heading[2].split(".")]
                table = parts[0]
                if heading[1] == "[[" and len(parts) == 1:
                    counts[table] += 1
                which = max(counts[table] - 1, 0)
                if len(parts) > 1:  # [landfill.gas_captured] says a key of [landfill]
                    places.setdefault((table, which, parts[1]), number)
                    table = ".".join(parts)
                    counts[table] += heading[1] == "[["
                    which = max(counts[table] - 1, 0)
                    places.setdefault((table, which, ""), number)
                else:
                    places.setdefault((table, which, ""), number)
                continue
            if key := _KEY.match(line):
                places.setdefault((table, which, key[1].strip("\"'")), number)
        depth, long_string = _state_after(line, depth, long_string)
    return places


def _state_after(line: str, depth: int, long_string: str) -> tuple[int, str]:
    """Return the bracket depth and the open long string's mark once a line has been passed."""
    at = 0
    while at < len(line):
        if long_string:
            end = line.find(long_string, at)
            if end < 0:
                return depth, long_string
            at, long_string = end + 3, ""
            continue
        token = _TOKEN.search(line, at)
        if token is None or token[0].startswith("#"):
            break
        at = token.end()
        if token[0] in ('"""', "'''"):
            long_string = token[0]
        elif token[0] in "[{":
            depth += 1
        elif token[0] in "]}":
            depth -= 1
    return max(depth, 0), long_string
