"""A report's file taken apart: pages, record and evidence cells, or one line that says why not."""

from __future__ import annotations

import hashlib
import json
import os
import stat
import subprocess
import sys
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from divert.core.findings import CannotRun
from divert.core.words import N_, Text

LARGEST_BYTES = 300_000_000
_SECONDS = 240
_PROBLEMS = {
    "no pdf": N_("{file} is not a PDF. Give the report as it was sent, a .pdf file."),
    "damaged": N_("{file} is damaged: it cannot be read to its end. Ask for it again."),
    "locked": N_("{file} opens with a password only. Save it without one, or ask for it again."),
    "unsafe": N_("{file} would unpack to far more than a report holds; it was not opened."),
    "no evidence": N_(
        "{file} carries no evidence: it is no report of this tool, or it was saved again by a "
        "program that dropped what was inside."
    ),
    "record": N_("{file}: the record inside cannot be read, so there is nothing to check against."),
}


@dataclass(frozen=True, slots=True)
class Opened:
    """A report's parts: words and drawing of each page, record, cells of the evidence (or None).

    ``structure``: the fingerprint of what is told beside the drawing; ``strange``: what no report
    holds.
    """

    sha256: str
    pages: tuple[str, ...]
    drawings: tuple[str, ...]
    structure: str
    strange: tuple[str, ...]
    record: Mapping[str, Any]
    record_sha256: str
    evidence: Mapping[str, list[list[Any]]] | None
    evidence_sha256: str


def open_report(path: Path) -> Opened:
    """Return the parts of a report. Raises CannotRun, with one line, where it is none."""
    try:
        about = path.stat()
        if not stat.S_ISREG(about.st_mode):
            raise CannotRun(Text(_PROBLEMS["no pdf"], {"file": str(path)}))
        if about.st_size > LARGEST_BYTES:
            raise CannotRun(Text(_PROBLEMS["unsafe"], {"file": str(path)}))
        pdf = path.read_bytes()
    except OSError as error:
        raise CannotRun(
            Text(N_("{file} cannot be read: {reason}."),
                 {"file": str(path), "reason": error.strerror or ""})
        ) from error  # fmt: skip
    parts = _apart(pdf, path)
    if "problem" in parts:
        raise CannotRun(Text(_PROBLEMS[parts["problem"]], {"file": str(path)}))
    try:
        record = json.loads(parts["record"], object_pairs_hook=_once)
        if not isinstance(record, dict) or not isinstance(record["printed"], list):
            raise ValueError
    except (ValueError, KeyError, RecursionError) as error:
        raise CannotRun(Text(_PROBLEMS["record"], {"file": str(path)})) from error
    return Opened(
        hashlib.sha256(pdf).hexdigest(),
        tuple(parts["pages"]),
        tuple(parts["drawings"]),
        parts["structure"],
        tuple(parts["strange"]),
        record,
        parts["record_sha256"],
        parts["evidence"],
        parts["evidence_sha256"],
    )


def _once(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    """Refuse a key that stands twice: who reads it another way would read another record."""
    out = dict(pairs)
    if len(out) != len(pairs):
        raise ValueError("a key stands twice")
    return out


def _apart(pdf: bytes, path: Path) -> dict[str, Any]:
    here = str(Path(__file__).parents[2])
    where = [here, *(entry for entry in sys.path if entry and Path(entry).is_absolute())]
    try:
        run = subprocess.run(
            [sys.executable, "-P", "-m", "divert.recheck.child"],
            input=pdf,
            capture_output=True,
            timeout=_SECONDS,
            check=False,
            env=os.environ | {"PYTHONPATH": os.pathsep.join(where)},
        )
        parts: dict[str, Any] = json.loads(run.stdout)
    except subprocess.TimeoutExpired:
        return {"problem": "unsafe"}
    except ValueError:  # it died: a crash, or a limit
        return {"problem": "damaged"}
    except OSError as error:
        raise CannotRun(
            Text(N_("{file} cannot be taken apart here: {reason}."),
                 {"file": str(path), "reason": error.strerror or ""})
        ) from error  # fmt: skip
    return parts
