"""Read one table into what is gathered, wherever its cells stand."""

from __future__ import annotations

from divert.ingest.entries.gathered import Counted, Gathered, rows_skipped
from divert.ingest.entries.job import TableJob
from divert.ingest.entries.restated import Loads
from divert.ingest.entries.table import read_entries
from divert.ingest.turned.back import put_back
from divert.ingest.turned.closed_up import closed_up, opened_again


def read_table(job: TableJob, out: Gathered, loads: Loads | None = None) -> Counted:
    """Read one table into what is gathered, a turned one with the places of the user's sheet.

    ``loads``: those read already, where this table may only sum them.
    """
    closed = closed_up(job) if job.sheet.origin is None else None
    if closed is not None:
        found = Gathered()
        counted = read_entries(closed.job, found, loads)
        before = len(out.skipped)
        opened_again(found, closed, out)
        return Counted(counted.used, counted.set_aside, rows_skipped(out.skipped[before:]))
    if job.sheet.origin is None:
        return read_entries(job, out, loads)
    found = Gathered()
    counted = read_entries(job, found, loads)
    before = len(out.skipped)
    put_back(found, job.sheet, out)
    return Counted(counted.used, counted.set_aside, rows_skipped(out.skipped[before:]))
