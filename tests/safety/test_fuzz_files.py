"""Spoilt files, five hundred with DIVERT_LONG=1: each ends in cells or findings, in time, and never in a traceback."""

from __future__ import annotations

import datetime as dt
import sys
from collections.abc import Sequence
from pathlib import Path

import pytest
from fault_fuzz import write_cases
from hostile import site
from processor import at_most
from rounds import rounds

from divert.convert import work_out
from divert.core.findings import CODES
from divert.factors import FactorSet, load_factors
from divert.ingest.grid import Opened
from divert.ingest.opening import open_folder
from divert.ingest.read import read_opened
from divert.site.model import Site

CASES = rounds(60, 500)
BATCH = 10
AS_OF = dt.date(2025, 7, 1)
SECONDS, BYTES = 10, 1_000_000_000


def _convert(opened: Sequence[Opened], here: Site, factors: FactorSet) -> None:
    findings = work_out(here, read_opened(opened, here, AS_OF), factors).findings
    assert {finding.code for finding in findings} <= set(CODES)


def _convert_all(batch: Sequence[Opened], here: Site, factors: FactorSet) -> None:
    """Read and convert some files together, and one by one only to say which of them fails."""
    try:
        _convert(batch, here, factors)
    except Exception:
        for opened in batch:
            try:
                _convert([opened], here, factors)
            except Exception as problem:
                raise AssertionError(f"{opened.input.file} ended in {problem!r}") from problem
        raise


def test_spoilt_files_end_in_cells_or_findings(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("DIVERT_CACHE", "off")
    write_cases(tmp_path, range(CASES))
    here, factors = site(tmp_path), load_factors(None)
    opening = open_folder(here)
    read = 0
    batch: list[Opened] = []
    for number in range(CASES):
        with at_most(SECONDS, number):
            opened = next(opening)
            case = opened.input.file
        assert opened.grids or opened.findings, case
        read += bool(opened.grids)
        batch.append(opened)
        if len(batch) == BATCH or number == CASES - 1:
            with at_most(SECONDS, case):
                _convert_all(batch, here, factors)
            batch = []
    assert next(opening, None) is None
    # Both ends must have been tried: what is refused, and what is read although it was spoilt.
    assert CASES / 5 < read < CASES * 0.96
    if sys.platform != "win32":
        import resource

        unit = 1 if sys.platform == "darwin" else 1024
        most = resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss * unit
        assert most < BYTES
