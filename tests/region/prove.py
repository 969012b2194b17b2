"""What the tests of many yards show on a few, shown on many; prints what it finds.

python tests/region/prove.py FOLDER 1000 500     1,000 yards of 500 rows: one process, two workers
python tests/region/prove.py --coverage 200      200 regions of known truth: what their ranges hold

Readings are kept in FOLDER-kept, so that the first pass reads every yard and the others none. Seconds
are those of the processor, with the reader's and the workers' (a busy machine spoils the clock's).
"""

from __future__ import annotations

import os
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path
from resource import RUSAGE_CHILDREN, RUSAGE_SELF, getrusage

HERE = Path(__file__).parent
sys.path[:0] = [str(HERE), str(HERE.parents[1])]

import numpy as np  # noqa: E402 - found only now
from known_truth import held_by_ranges  # noqa: E402
from made_yards import AS_OF, write_region  # noqa: E402

from divert.core.period import read_period  # noqa: E402
from divert.region.addend import Addend, same  # noqa: E402
from divert.region.engine import Work, client_of, here, on_workers  # noqa: E402
from divert.region.listing import Region, read_region  # noqa: E402
from divert.region.result import region_figures  # noqa: E402
from divert.region.together import FIRST_DAY, stamp_of, with_copies  # noqa: E402

YEAR = read_period("2025", as_of=AS_OF, started=FIRST_DAY)
WORK = Work(YEAR, stamp_of(YEAR, AS_OF))


def seconds() -> float:
    """Return the processor seconds of this process and of the children that have ended."""
    return sum(u.ru_utime + u.ru_stime for u in map(getrusage, (RUSAGE_SELF, RUSAGE_CHILDREN)))


def memory_mb() -> float:
    """Return the most memory that this process has held, MB."""
    return getrusage(RUSAGE_SELF).ru_maxrss / 1024


def said(what: str, job: Callable[[Callable[[int], None]], Addend], yards: int) -> Addend:
    """Do a job, and say what it cost at each tenth of its yards, with the slope."""
    began, marks = seconds(), [(0, 0.0, memory_mb())]

    def heard(done: int) -> None:
        if done - marks[-1][0] >= yards / 10:
            marks.append((done, seconds() - began, memory_mb()))

    found = job(heard)
    print(f"{what}: {seconds() - began:.0f} s for {yards} yards, in all", flush=True)
    for done, used, held in marks[1:]:
        print(f"    {done:>7} yards: {used:8.1f} s of this process, most memory {held:.0f} MB")
    if len(marks) > 3:
        (slope, _), counts = np.polyfit(*zip(*(m[:2] for m in marks), strict=True), 1), len(marks)
        print(f"    slope {slope:.4f} s a yard over {counts} points", flush=True)
    return found


def prove(folder: Path, yards: int, rows: int) -> None:
    if not folder.exists():
        write_region(folder, yards, rows)
    os.environ["DIVERT_CACHE"] = str(folder.resolve()) + "-kept"
    region = with_copies(read_region(folder / "yards.toml"))
    count = len(region.yards)
    alone = said("one process", lambda heard: here(region.yards, WORK, heard), count)
    again = said("again, readings kept", lambda heard: here(region.yards, WORK, heard), count)
    print("the same to the bit:", same(alone, again))
    with client_of(None, 2) as client:
        if client is None:
            print("Dask is not installed")
            return
        shared = on_workers(region.yards, WORK, client)
    print("two workers: the same to the bit:", same(alone, shared), flush=True)
    figures = region_figures(alone, region, YEAR)
    print(
        f"diverted {figures.mass.diverted}, shared {figures.shared}, failed {len(figures.failed)}"
    )
    for part in (count // 20, count // 2):
        client_alone(folder, part)


def client_alone(folder: Path, yards: int) -> None:
    """Say how much memory the client alone takes, in a process of its own, for so many yards."""
    subprocess.run([sys.executable, __file__, "--client", str(folder), str(yards)], check=True)


def as_client(folder: Path, yards: int) -> None:
    region = read_region(folder / "yards.toml")
    some = Region(region.name, region.yards[:yards], region.folder)
    with client_of(None, 2) as client:
        before = memory_mb()
        found = on_workers(some.yards, WORK, client)
    print(f"client of {len(found.yards)} yards: {before:.1f} MB before, {memory_mb():.1f} MB at most",
          flush=True)  # fmt: skip


if __name__ == "__main__":
    if sys.argv[1] == "--coverage":
        share = held_by_ranges(int(sys.argv[2]))
        print(f"of {sys.argv[2]} regions {100 * share:.1f} % hold what was true")
    elif sys.argv[1] == "--client":
        as_client(Path(sys.argv[2]), int(sys.argv[3]))
    else:
        prove(Path(sys.argv[1]), int(sys.argv[2]), int(sys.argv[3]))
