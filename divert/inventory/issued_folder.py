"""The folder of issued reports, as far as it is a second memory of what the site folder held."""

from __future__ import annotations

import datetime as dt
import json
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

FOLDER = "issued"
LEDGER = "ledger.csv.gz"
LINE = "line.json"  # the register's own line, as written


@dataclass(frozen=True, slots=True)
class LastIssued:
    """The newest issue that is kept: its day, the inputs' fingerprints by name, and its ledger."""

    day: dt.date
    inputs: Mapping[str, str]
    ledger: Path
    ledger_sha256: str


def last_issued(site_folder: Path) -> LastIssued | None:
    """Return the issue of the highest number that ``issued/`` holds, None where there is none.

    One whose line cannot be read is passed over: the register says that.
    """
    try:
        names = sorted(p.name for p in (site_folder / FOLDER).iterdir() if p.name[:1] != ".")
    except OSError:
        return None
    for name in reversed(names):
        folder = site_folder / FOLDER / name
        if folder.is_symlink():
            continue
        try:
            says = json.loads((folder / LINE).read_text(encoding="utf-8"))
            return LastIssued(
                dt.date.fromisoformat(says["issued"]), dict(says["inputs"]), folder / LEDGER,
                str(says["fingerprints"][LEDGER]),
            )  # fmt: skip
        except (OSError, ValueError, KeyError, TypeError):
            continue
    return None
