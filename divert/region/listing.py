"""Which yards make up a region: every folder below one that holds a site.toml, or a list of folders."""

from __future__ import annotations

import os
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from divert.core.findings import CannotRun
from divert.core.words import N_, Text, languages
from divert.site.document import FILE_NAME, parsed
from divert.site.table import Document, Table

LANGUAGES = languages()
KEYS = {
    "region": ("name", "units", "language", "country", "year_starts"),
    "yard": ("folder", "group"),
}
MONTHS = (
    "January", "February", "March", "April", "May", "June", "July", "August", "September",
    "October", "November", "December",
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Yard:
    """One yard to read: its place in the region's order, its folder, how it is shown, its group."""

    place: int
    folder: Path
    shown: str
    group: str = ""
    inside: str = ""  # the yard whose folder it lies in
    copy_of: str = ""  # an earlier yard with the same id


@dataclass(frozen=True, slots=True)
class Region:
    """The yards of a region, and how its statement prints; "" takes what the yards have in common."""

    name: str
    yards: tuple[Yard, ...]
    folder: Path
    units: str = ""
    language: str = ""
    country: str = ""
    year_starts: int = 1


def read_region(where: Path) -> Region:
    """Return the region that a folder or a list of yards (``.toml``) stands for.

    Raises CannotRun where there is neither, where the list has a mistake, or where it names no yard.
    """
    if where.is_dir():
        region = Region(where.resolve().name, tuple(_below(where)), where)
    elif where.suffix.lower() == ".toml":
        region = _listed(where)
    else:
        raise CannotRun(
            Text(
                N_("{path} is neither a folder nor a list of yards. Name a folder that holds the yards' "
                   "folders, or a .toml file with a [[yard]] for each."),
                {"path": str(where)},
            )
        )  # fmt: skip
    if not region.yards:
        raise CannotRun(
            Text(
                N_("There is no yard in {path}: no folder below it holds a site.toml."),
                {"path": str(where)},
            )
        )
    return region


def _below(top: Path) -> Iterator[Yard]:
    """Yield every folder that holds a site.toml, in an order that is the same on every machine."""
    found: list[Path] = []
    for here, below, files in os.walk(top):
        below[:] = sorted(
            n for n in below if not n.startswith(".") and n not in ("reports", "issued")
        )
        if FILE_NAME in files:
            found.append(Path(here))
    shown = {folder: folder.relative_to(top).as_posix() for folder in found}
    for place, (folder, name) in enumerate(shown.items()):
        around = next((shown[f] for f in folder.parents if f in shown), "")
        group = name.rsplit("/", 1)[0] if "/" in name and not around else ""
        yield Yard(place, folder, name, group, around)


def _listed(path: Path) -> Region:
    own, listed = _tables(path)
    yards = tuple(_yard(place, table, path) for place, table in enumerate(listed))
    _once(listed, yards)
    month = own.choice("year_starts", MONTHS, MONTHS[0])
    return Region(
        own.text("name") or path.stem,
        yards,
        path.parent,
        own.choice("units", ("us", "metric"), ""),
        own.choice("language", LANGUAGES, ""),
        own.text("country"),
        MONTHS.index(month) + 1,
    )


def _tables(path: Path) -> tuple[Table, list[Table]]:
    """Return the [region] table of a list, empty where there is none, and its [[yard]] tables."""
    try:
        text = path.read_text(encoding="utf-8-sig")
    except (OSError, UnicodeDecodeError) as problem:
        raise CannotRun(
            Text(N_("{file} cannot be read ({reason}). Check that you may open it."),
                 {"file": str(path), "reason": getattr(problem, "strerror", "") or str(problem)})
        ) from None  # fmt: skip
    raw, document = parsed(path, text)
    for name, value in raw.items():
        good = isinstance(value, dict) if name == "region" else _is_list_of_tables(value)
        if name not in KEYS or not good:
            raise CannotRun(
                Text(N_("{file}, line {line}: a list of yards holds one [region] table and a [[yard]] for "
                        "each yard; “{name}” is neither."),
                     {"file": str(path), "line": str(_line(document, name)), "name": name})
            )  # fmt: skip
    own = Table(document, "region", None, raw.get("region", {}))
    listed = [Table(document, "yard", n, one) for n, one in enumerate(raw.get("yard", ()))]
    for table in (own, *listed):
        table.check_keys(KEYS[table.name], KEYS)
    return own, listed


def _is_list_of_tables(value: object) -> bool:
    return isinstance(value, list) and all(isinstance(one, dict) for one in value)


def _line(document: Document, name: str) -> int:
    return document.lines.get((name, 0, "")) or document.lines.get(("", 0, name), 1)


def _yard(place: int, table: Table, path: Path) -> Yard:
    shown = table.required_text("folder", "north-yard")
    return Yard(place, path.parent / shown, shown, table.text("group"))


def _once(tables: list[Table], yards: tuple[Yard, ...]) -> None:
    met: dict[Path, Yard] = {}
    for table, yard in zip(tables, yards, strict=True):
        folder = yard.folder.resolve()
        if folder in met:
            raise table.wrong(
                "folder",
                Text(N_("This folder is listed before; list each yard once.")),
            )
        met[folder] = yard
