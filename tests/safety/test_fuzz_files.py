"""Spoilt files, five hundred with DIVERT_LONG=1: each ends in cells or findings, in time, and never in a traceback."""

from __future__ import annotations

import datetime as dt
import io
import random
import sys
import zipfile
from collections.abc import Sequence
from pathlib import Path

import pytest
from hostile import site
from ingest.corpus import writers
from processor import at_most
from rounds import rounds

from divert.convert import work_out
from divert.core.findings import CODES
from divert.factors import FactorSet, load_factors
from divert.ingest.grid import Opened
from divert.ingest.opening import open_folder
from divert.ingest.read import read_opened
from divert.site.model import Site

CASES = rounds(120, 500)
BATCH = 10
AS_OF = dt.date(2025, 7, 1)
SECONDS, BYTES = 10, 1_000_000_000
ROWS: list[list[object]] = [
    ["Date", "Source", "Material", "Container", "Qty", "How full", "Weight (lb)", "Notes"],
    [dt.date(2025, 3, 1), "Quillmarsh School", "food scraps", "pail", 3.0, 0.75, None, "½ wet"],
    [dt.date(2025, 3, 2), "Two Oaks", "leaves", None, None, None, 41.5, None],
    [dt.date(2025, 3, 4), "Quillmarsh School", "food scraps", "tote", 2.0, None, 118.0, "=1+1"],
    [None, None, "Total", None, 5.0, None, 159.5, None],
]


def _flipped(data: bytes, chance: random.Random) -> bytes:
    """Return bytes with a few changed, taken out or put in twice."""
    spoilt = bytearray(data)
    for _ in range(chance.choice((1, 1, 2, 5, 20))):
        at = chance.randrange(len(spoilt))
        deed = chance.random()
        if deed < 0.6:
            spoilt[at] = chance.randrange(256)
        elif deed < 0.8:
            spoilt[at] ^= 1 << chance.randrange(8)
        elif deed < 0.9:
            del spoilt[at : at + chance.randrange(1, 40)]
        else:
            spoilt[at:at] = spoilt[at : at + chance.randrange(1, 40)]
        if not spoilt:
            break
    return bytes(spoilt)


def _flipped_inside(data: bytes, chance: random.Random) -> bytes:
    """Return a zip archive that is sound but for one part, whose bytes are spoilt.

    Bytes flipped in the archive itself mostly end at its checksums; these get through to what reads
    the parts.
    """
    out = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(data)) as old, zipfile.ZipFile(out, "w", 8) as new:
        names = [name for name in old.namelist() if old.getinfo(name).file_size]
        wanted = [n for n in names if "sheet1" in n or "content" in n] or names
        chosen = chance.choice(names + 3 * wanted)
        for name in old.namelist():
            part = old.read(name)
            new.writestr(name, _flipped(part, chance) if name == chosen else part)
    return out.getvalue()


def _cases(folder: Path) -> None:
    made = folder / "sound"
    summed = [[], [*[None] * 6, ("=SUM(G2:G4)", 159.5)], ["checked"]]
    writers.xlsx(made, {"March": [*ROWS, *summed]}, merge={"March": ["A8:C9"]})
    sound = [("xlsx", made.read_bytes())]
    writers.ods(made, {"March": ROWS})
    sound.append(("ods", made.read_bytes()))
    writers.xls(made, {"March": ROWS})
    sound.append(("xls", made.read_bytes()))
    writers.text(made, ROWS, encoding="utf-8-sig")
    sound.append(("csv", made.read_bytes()))
    made.unlink()
    for number in range(CASES):
        chance = random.Random(number)
        suffix, data = sound[number % len(sound)]
        inside = suffix in ("xlsx", "ods") and chance.random() < 0.6
        spoilt = (_flipped_inside if inside else _flipped)(data, chance)
        (folder / f"case {number:03}.{suffix}").write_bytes(spoilt)


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
    _cases(tmp_path)
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
