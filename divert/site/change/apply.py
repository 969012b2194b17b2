"""Edits made on the text of site.toml so that every comment and blank line stays."""

from __future__ import annotations

import pickle
from collections.abc import Iterable, Mapping
from functools import lru_cache
from typing import Any

import tomlkit
from tomlkit.items import AoT, Array, Comment, InlineTable, Item, Table, Whitespace

from divert.core.findings import CannotRun
from divert.core.words import N_, Text
from divert.site.change.edits import AddTo, Drop, Edit, NewEntry, SetKey, Value
from divert.site.keys import LISTED


def edited(text: str, edits: Iterable[Edit]) -> str:
    """Return the text with the edits made, in order; raises CannotRun where it is no TOML."""
    try:
        document = pickle.loads(_parsed(text))
        for edit in edits:
            match edit:
                case SetKey():
                    _set(document, edit)
                case AddTo():
                    _add_to(document, edit)
                case NewEntry():
                    _append(document, edit.table, edit.values)
                case Drop():
                    _drop(document, edit)
        out = tomlkit.dumps(document)
    except (tomlkit.exceptions.TOMLKitError, TypeError, AttributeError) as problem:
        raise CannotRun(
            Text(
                N_("site.toml is written in a way that cannot be changed from here ({why}). "
                   "Change it by hand, then go on."),
                {"why": str(problem)},
            )
        ) from problem  # fmt: skip
    return out


@lru_cache(maxsize=4)
def _parsed(text: str) -> bytes:
    """Return a text's document, packed: unpacked anew for each change, at a seventh of a parsing.

    Raises ParseError.
    """
    return pickle.dumps(tomlkit.parse(text))


def _set(document: tomlkit.TOMLDocument, edit: SetKey) -> None:
    table = _entry(document, edit.table, edit.name, edit.besides)
    key, _, part = edit.key.partition(".")
    if part and key in table:
        inner = table[key]
        if not isinstance(inner, InlineTable | Table):
            raise TypeError(key)
        inner[part] = _item(edit.value)
    elif part:
        assert isinstance(edit.value, str | float)
        _put(table, key, {part: edit.value})
    elif key in table:
        table[key] = _item(edit.value)
    else:
        _put(table, key, edit.value)


def _add_to(document: tomlkit.TOMLDocument, edit: AddTo) -> None:
    table = _entry(document, edit.table, edit.name, edit.besides)
    if edit.key not in table:
        _put(table, edit.key, list(edit.values))
        return
    array = table[edit.key]
    if not isinstance(array, Array):
        raise TypeError(edit.key)
    for value in edit.values:
        if value not in list(array):
            array.append(value)


def _entry(
    document: tomlkit.TOMLDocument,
    table: str,
    name: str | Mapping[str, Value],
    besides: Mapping[str, Value],
) -> Table:
    """Return the entry of a name, its first version where there are several; made if missing."""
    if table not in LISTED:
        if table not in document:
            document[table] = tomlkit.table()
        found = document[table]
        if isinstance(found, AoT):  # [[landfill]]: the one in force from the beginning
            found = found[0]
        if not isinstance(found, Table):
            raise TypeError(table)
        return found
    known = {"name": name} if isinstance(name, str) else name
    for one in document.get(table, ()):
        if isinstance(one, Table) and all(one.get(key) == value for key, value in known.items()):
            return one
    return _append(document, table, {**known, **besides})


def _append(document: tomlkit.TOMLDocument, table: str, values: Mapping[str, Value]) -> Table:
    """Add an entry behind the others of its kind, before the comments that head what follows."""
    made = tomlkit.table()
    for key, value in values.items():
        made.add(key, _item(value))
    others = document.get(table)
    if isinstance(others, AoT) and len(others):
        last = others[len(others) - 1]
        kept = _taken_off(last)
        if not _ends_blank(last):
            last.add(tomlkit.nl())
        others.append(made)
        made = others[len(others) - 1]
        made.trivia.indent = made.trivia.indent.lstrip("\n")  # the blank line stands already
        _put_back(made, kept)
        return made
    if others is not None:
        raise TypeError(table)
    several = tomlkit.aot()
    several.append(made)
    if document.as_string().strip() and not document.as_string().endswith("\n\n"):
        document.add(tomlkit.nl())
    document.append(table, several)
    return several[0]


def _put(table: Table, key: str, value: Value) -> None:
    """Add a key behind the others of a table, before the comments that head what follows it."""
    kept = _taken_off(table)
    table.add(key, _item(value))
    _put_back(table, kept)


def _taken_off(table: Table) -> list[Item]:
    """Take off what follows a table's last key from the first blank line on, and return it."""
    body = table.value.body
    last = max((place for place, (key, _) in enumerate(body) if key is not None), default=-1)
    blank = next(
        (p for p in range(last + 1, len(body)) if isinstance(body[p][1], Whitespace)), len(body)
    )
    kept = [item for _, item in body[blank:]]
    del body[blank:]
    return kept


def _put_back(table: Table, kept: Iterable[Item]) -> None:
    for item in kept:
        if isinstance(item, Whitespace | Comment):
            table.value.body.append((None, item))


def _ends_blank(table: Table) -> bool:
    return table.as_string().endswith("\n\n")


def _drop(document: tomlkit.TOMLDocument, edit: Drop) -> None:
    entries = document.get(edit.table)
    if not isinstance(entries, AoT):
        return
    for place in reversed(range(len(entries))):
        one = entries[place]
        if all(one.get(key) == value for key, value in edit.where.items()):
            kept = _taken_off(one)
            del entries[place]
            if place:
                before = entries[place - 1]
                if _ends_blank(before):  # what parted the two is there already
                    kept = kept[1:]
                _put_back(before, kept)
    if not len(entries):
        del document[edit.table]


def _item(value: Value) -> Any:
    if isinstance(value, Mapping):
        inline = tomlkit.inline_table()
        for key, part in value.items():
            inline.append(key, part)
        return inline
    return tomlkit.item(value)
