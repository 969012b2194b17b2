"""Files spoilt at random: sound ones of each format with bytes changed, taken out or put in twice."""

from __future__ import annotations

import datetime as dt
import io
import os
import random
import sys
import traceback
import zipfile
from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path

from hostile import site
from ingest.corpus import writers
from processor import used_s

from divert.convert import work_out
from divert.factors import load_factors
from divert.ingest.opening import open_folder
from divert.ingest.read import read_opened

AS_OF = dt.date(2025, 7, 1)
BATCH = 50
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


def write_cases(folder: Path, numbers: Iterable[int]) -> None:
    """Write the spoilt files of some numbers; the same number gives the same file."""
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
    for number in numbers:
        chance = random.Random(number)
        suffix, data = sound[number % len(sound)]
        inside = suffix in ("xlsx", "ods") and chance.random() < 0.6
        spoilt = (_flipped_inside if inside else _flipped)(data, chance)
        (folder / f"case {number:06}.{suffix}").write_bytes(spoilt)


@dataclass(frozen=True)
class Told:
    """How many files were tried, how many of them were read in part, and how many ended in an exception."""

    tries: int
    read: int
    failed: int


def fuzzed(folder: Path, seconds: float, first: int = 1_000_000) -> Told:
    """Spoil, open, read and convert files, a batch at a time, for so much processor time."""
    os.environ["DIVERT_DEBUG"] = "1"  # what fails in a sheet is raised, and counts
    factors, began = load_factors(None), used_s()
    tries = read = failed = 0
    while used_s() - began < seconds:
        here = folder / str(tries)
        here.mkdir(parents=True)
        write_cases(here, range(first + tries, first + tries + BATCH))
        for opened in open_folder(site(here)):
            read += bool(opened.grids)
            try:
                work_out(site(here), read_opened([opened], site(here), AS_OF), factors)
            except Exception:
                failed += 1
                print(opened.input.file, traceback.format_exc(), file=sys.stderr)
        tries += BATCH
    return Told(tries, read, failed)
