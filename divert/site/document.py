"""site.toml from disk: its text, its tables, and one clear message where it is no TOML."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from divert.core.findings import CannotRun
from divert.core.words import N_, Text
from divert.site.keys import KEYS, LISTED, PLAIN
from divert.site.lines import key_lines
from divert.site.table import Document, Table, nearest

FILE_NAME = "site.toml"
SIZE_LIMIT = 1_000_000  # bytes; a site of two hundred sources takes about 20,000
# A key of forty names joined by dots describes nothing, and the parser's memory grows with the square
# of their number: a short file could ask for all there is.
TOO_DEEP = re.compile(r"(?<![\w.-])(?:(?:[\w-]+|\"[^\"\n]*\"|'[^'\n]*')[ \t]*\.[ \t]*){40}")


def load(folder: Path, text: str | None = None) -> tuple[str, Mapping[str, tuple[Table, ...]]]:
    """Return the text of ``folder/site.toml`` and its tables by name, in the order written.

    ``text``: what the file would say, to look at it before it is written. Raises CannotRun where
    folder or file is missing or unreadable, or is not TOML, or holds a table that site.toml does not
    have.
    """
    path = folder / FILE_NAME
    text = read_text(folder, path) if text is None else text
    raw, document = parsed(path, text)
    return text, {name: _tables(document, name, value) for name, value in raw.items()}


def parsed(path: Path, text: str) -> tuple[Mapping[str, Any], Document]:
    """Return what a TOML text says, and where each key of it stands.

    Raises CannotRun with the line where it is no TOML.
    """
    try:
        if TOO_DEEP.search(text):
            raise RecursionError
        raw = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise not_toml(path, text, str(error)) from None
    except (ValueError, RecursionError):
        raise CannotRun(
            Text(N_("{file} cannot be read as TOML: a value is too long or too deep."), _at(path))
        ) from None
    return raw, Document(path, key_lines(text), _writes_decimal_commas(raw))


def _at(path: Path) -> dict[str, object]:
    return {"file": str(path)}


def there_is_a_folder(folder: Path) -> None:
    """Raise CannotRun where a site's folder is none."""
    if not folder.exists():
        raise CannotRun(
            Text(
                N_("There is no folder {folder}. `divert begin {folder}` makes one."),
                {"folder": str(folder)},
            )
        )
    if not folder.is_dir():
        raise CannotRun(
            Text(
                N_("{folder} is a file. Name the site's folder, the one that holds site.toml."),
                {"folder": str(folder)},
            )
        )


def read_text(folder: Path, path: Path) -> str:
    """Return the text of a site's settings; raises CannotRun where it cannot be read."""
    there_is_a_folder(folder)
    try:
        if not path.exists():
            raise CannotRun(
                Text(
                    N_("There is no site.toml in {folder}. `divert begin {folder}` writes one."),
                    {"folder": str(folder)},
                )
            )
        if not path.is_file():
            raise CannotRun(Text(N_("{file} is not a file."), _at(path)))
        if path.stat().st_size > SIZE_LIMIT:
            raise CannotRun(
                Text(N_("{file} is larger than 1 MB, too large to describe a site."), _at(path))
            )
        data = path.read_bytes()
    except OSError as error:
        raise CannotRun(
            Text(
                N_("{file} cannot be read ({reason}). Check that you may open it."),
                {**_at(path), "reason": error.strerror or type(error).__name__},
            )
        ) from None
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError:
        raise CannotRun(
            Text(N_("{file} is not UTF-8 text. Save it again as UTF-8."), _at(path))
        ) from None


def not_toml(path: Path, text: str, reason: str) -> CannotRun:
    """Return the message for a text that is no TOML: the line, what stands there, and what is wrong."""
    place = re.search(r"\(at line (\d+), column (\d+)\)", reason)
    lines = text.splitlines()
    number = int(place[1]) if place else len(lines)
    # a reader that meets the end of a line too soon stands at the start of the next one
    if place and place[2] == "1" and number > 1 and "Expected" not in reason:
        number -= 1
    stands = lines[number - 1].strip()[:80] if 0 < number <= len(lines) else ""
    why = re.sub(r"\s*\(at [^)]*\)", "", reason).strip()
    return CannotRun(
        Text(
            N_("{file}, line {line} is not TOML ({why}): {stands} - texts stand in quotes, "
               "dates and numbers do not, lists in [ ], and a key or table is written once."),
            {**_at(path), "line": str(number), "why": why, "stands": stands},
        )
    )  # fmt: skip


def _tables(document: Document, name: str, value: object) -> tuple[Table, ...]:
    if name not in KEYS:
        raise _no_table(document, name, value)
    if name in PLAIN:
        if isinstance(value, dict):
            return (Table(document, name, None, value),)
        raise _wrong_brackets(document, name, f"[{name}]")
    if isinstance(value, dict) and name not in LISTED:
        return (Table(document, name, None, value),)
    if isinstance(value, list) and all(isinstance(item, dict) for item in value):
        return tuple(Table(document, name, which, item) for which, item in enumerate(value))
    raise _wrong_brackets(document, name, f"[[{name}]]" if name in LISTED else f"[{name}]")


def _no_table(document: Document, name: str, value: object) -> CannotRun:
    line = document.lines.get((name, 0, "")) or document.lines.get(("", 0, name), 1)
    values = {**_at(document.path), "line": str(line), "name": name}
    if isinstance(value, dict | list):
        close = nearest(name, KEYS)
        known = ", ".join(f"[[{key}]]" if key in LISTED else f"[{key}]" for key in KEYS)
        if close:
            message = N_('{file}, line {line}: there is no table "{name}"; did you mean "{near}"?')
            return CannotRun(Text(message, {**values, "near": close}))
        message = N_('{file}, line {line}: there is no table "{name}". The tables are {known}.')
        return CannotRun(Text(message, {**values, "known": known}))
    home = next((table for table, keys in KEYS.items() if name in keys), "site")
    message = N_('{file}, line {line}: "{name}" stands before any table; it belongs in [{home}].')
    return CannotRun(Text(message, {**values, "home": home}))


def _wrong_brackets(document: Document, name: str, right: str) -> CannotRun:
    line = document.lines.get((name, 0, "")) or document.lines.get(("", 0, name), 1)
    return CannotRun(
        Text(
            N_('{file}, line {line}: write the table "{name}" as {right}, with its keys beneath.'),
            {**_at(document.path), "line": str(line), "name": name, "right": right},
        )
    )


def _writes_decimal_commas(raw: Mapping[str, Any]) -> bool:
    site = raw.get("site")
    return isinstance(site, Mapping) and site.get("language") == "fr"
