"""What the last report that was issued was made from: a second memory beside the inventory.

``issued/<number>/`` keeps the ledger of the day of issue. An inventory that was deleted, or that a
sync service put back as it was, must not make the rows of a sent report go unmissed.
"""

from __future__ import annotations

import gzip
import hashlib
from dataclasses import replace

from divert.convert import Workings, work_out
from divert.core.ledger_file import ledger_of
from divert.core.reading import InputFile, reading_of
from divert.inventory.issued_folder import LastIssued
from divert.inventory.model import FileKept
from divert.inventory.record import files_now


def files_of(issue: LastIssued, now: Workings) -> dict[str, FileKept]:
    """Return what each file held on the day of an issue, in the masses of today's settings.

    Empty where the kept ledger is gone or was changed: the register says that.
    """
    try:
        packed = issue.ledger.read_bytes()
        if hashlib.sha256(packed).hexdigest() != issue.ledger_sha256:
            return {}
        entries = ledger_of(gzip.decompress(packed))
    except (OSError, EOFError, ValueError, KeyError):
        return {}
    inputs = tuple(InputFile(name, sha256, 0) for name, sha256 in issue.inputs.items())
    then = work_out(now.site, replace(reading_of(entries), inputs=inputs), now.factors)
    return files_now(then, issue.day)
