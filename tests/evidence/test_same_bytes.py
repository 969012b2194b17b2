"""The same data give the same bytes in another process, whatever surrounds it."""

import hashlib
import os
import subprocess
import sys
from pathlib import Path

HERE = Path(__file__).parent
# The sample site: two years in four files, read anew in each process.
PROGRAM = """
import datetime as dt, hashlib, json
from divert.figures.as_json import to_json
from divert.workbook.book import evidence_workbook
from divert.core.shipped import sample_folder
from divert.inventory.open_site import open_site, period_of
from divert.figures.compute import figures_for
day = dt.date(2026, 7, 1)
site = open_site(sample_folder(), as_of=day)
figures = figures_for(site, period_of(site, "2025", day), day)
print(hashlib.sha256(json.dumps(to_json(figures)).encode()).hexdigest())
print(hashlib.sha256(evidence_workbook(site, {"period": figures}, "board")).hexdigest())
"""


def prints(cwd, **around):
    """Return the SHA-256 of figures and workbook, made by a process of its own."""
    run = subprocess.run(
        [sys.executable, "-c", PROGRAM], cwd=cwd, capture_output=True, text=True,
        check=True, timeout=120,
        env={**os.environ, "PYTHONPATH": str(HERE.parents[1]), **around},
    )  # fmt: skip
    return run.stdout.split()


def test_hash_seed_cores_time_zone_and_folder_change_no_byte(tmp_path):
    """On one thread and on two, linear algebra sums in another order: nothing may rest on that."""
    one = prints(HERE, PYTHONHASHSEED="1", OPENBLAS_NUM_THREADS="1", TZ="UTC", LC_ALL="C.UTF-8")
    two = prints(
        tmp_path, PYTHONHASHSEED="7", OPENBLAS_NUM_THREADS="2", TZ="Asia/Tokyo", LC_ALL="C"
    )
    assert one == two
    assert all(len(p) == len(hashlib.sha256().hexdigest()) for p in one)
