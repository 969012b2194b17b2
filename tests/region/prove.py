"""What the tests of many yards show on a few, shown on many; prints what it finds.

python tests/region/prove.py FOLDER 1000 500     1,000 yards of 500 rows: one process, two workers
python tests/region/prove.py --coverage 200      200 regions of known truth: what their ranges hold
"""

from __future__ import annotations

import sys
import time
from pathlib import Path

HERE = Path(__file__).parent
sys.path[:0] = [str(HERE), str(HERE.parents[1])]

from known_truth import held_by_ranges  # noqa: E402 - found only now
from made_yards import AS_OF, write_region  # noqa: E402

from divert.core.period import read_period  # noqa: E402
from divert.region.addend import same  # noqa: E402
from divert.region.engine import Work, client_of, here, on_workers  # noqa: E402
from divert.region.listing import read_region  # noqa: E402
from divert.region.result import region_figures  # noqa: E402
from divert.region.together import FIRST_DAY, stamp_of, with_copies  # noqa: E402


def prove(folder: Path, yards: int, rows: int) -> None:
    if not folder.exists():
        write_region(folder, yards, rows)
    region = with_copies(read_region(folder / "yards.toml"))
    year = read_period("2025", as_of=AS_OF, started=FIRST_DAY)
    work = Work(year, stamp_of(year, AS_OF))
    began = time.process_time(), time.perf_counter()
    alone = here(region.yards, work)
    used = time.process_time() - began[0]
    print(f"one process: {used:.0f} s of it, {time.perf_counter() - began[1]:.0f} s by the clock; "
          f"{used / len(region.yards):.3f} s a yard")  # fmt: skip
    figures = region_figures(alone, region, year)
    print(
        f"diverted {figures.mass.diverted}, shared {figures.shared}, failed {len(figures.failed)}"
    )
    with client_of(None, 2) as client:
        if client is None:
            print("Dask is not installed")
            return
        began_at = time.perf_counter()
        print("two workers: the same to the bit:", same(alone, on_workers(region.yards, work, client)),
              f"{time.perf_counter() - began_at:.0f} s by the clock")  # fmt: skip


if __name__ == "__main__":
    if sys.argv[1] == "--coverage":
        share = held_by_ranges(int(sys.argv[2]))
        print(f"of {sys.argv[2]} regions {100 * share:.1f} % hold what was true")
    else:
        prove(Path(sys.argv[1]), int(sys.argv[2]), int(sys.argv[3]))
