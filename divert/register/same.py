"""Whether a report says anything new: its figures, and the settings that a reader could see."""

from __future__ import annotations

import datetime as dt
import hashlib
import json
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from divert.core.findings import CannotRun
from divert.core.safe_files import inside
from divert.figures.as_json import to_json
from divert.figures.contract import Figures
from divert.register.plain import to_plain
from divert.site.model import Site

# What differs between two days on which no figure changed (later entries are counted too).
_NOT_SAID = ("as_of", "findings", "factors", "rows", "absent")
# Where the site lies, how its file is written, and how its sheets are read: what they lead to shows
# in the figures.
_NOT_SEEN = ("folder", "toml", "sheets")
_NOT_SEEN_OF_A_THING = ("also", "email")


@dataclass(frozen=True, slots=True)
class Said:
    """What a report says, before it has a number: for whom, from which day, and the figures."""

    audience: str
    name: str
    as_of: dt.date
    figure_sets: Mapping[str, Figures]
    withdraws: str | None = None


def said_fingerprint(said: Said, site: Site) -> str:
    """Return a SHA-256 of all that a report says: figures to nine digits, settings, pictures.

    A comment in site.toml, another spelling of a source or an address for mail changes nothing.
    """
    figures = {
        name: {k: _rounded(v) for k, v in to_json(one).items() if k not in _NOT_SAID}
        for name, one in said.figure_sets.items()
    }
    plain = json.dumps([figures, _seen(site), _pictures(site)], sort_keys=True, ensure_ascii=False)
    return hashlib.sha256(plain.encode()).hexdigest()


def _seen(site: Site) -> dict[str, Any]:
    settings = {k: v for k, v in to_plain(site).items() if k not in _NOT_SEEN}
    for name in ("containers", "materials", "sources", "sponsors"):
        settings[name] = [
            {k: v for k, v in thing.items() if k not in _NOT_SEEN_OF_A_THING}
            for thing in settings[name]
        ]
    return settings


def _pictures(site: Site) -> list[str]:
    """Return the SHA-256 of the logo and the picture, "" where one cannot be read."""
    out = []
    for name in (site.logo, site.report.picture):
        try:
            data = inside(site.folder, site.folder / name).read_bytes() if name else b""
        except (OSError, CannotRun):  # a picture that cannot be used is not in the report either
            data = b""
        out.append(hashlib.sha256(data).hexdigest() if data else "")
    return out


def _rounded(value: Any) -> Any:
    """Return JSON with every float to nine digits: another machine's last digits are no change."""
    if isinstance(value, float):
        return float(f"{value:.9g}")
    if isinstance(value, Mapping):
        return {k: _rounded(v) for k, v in value.items()}
    if isinstance(value, list | tuple):
        return [_rounded(v) for v in value]
    return value
