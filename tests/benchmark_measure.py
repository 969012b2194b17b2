"""How the benchmark measures: jobs in turn beside a yardstick, or by the processor against what was asked."""

from __future__ import annotations

import gc
import os
import resource
import subprocess
import sys
import time
from collections.abc import Callable
from pathlib import Path

WITHOUT_CACHE = dict(os.environ) | {
    "DIVERT_CACHE": "off",
    "PYTHONPATH": str(Path(__file__).parents[1]),
}
OF_PROCESSOR = "--processor" in sys.argv  # on a machine that does other things beside


def used() -> float:
    """Return the seconds of the processor of this process and its children that have ended."""
    both = (resource.getrusage(w) for w in (resource.RUSAGE_SELF, resource.RUSAGE_CHILDREN))
    return sum(one.ru_utime + one.ru_stime for one in both)


def timed(job: Callable[[], object], now: Callable[[], float] | None = None) -> float:
    """Return how long a job takes: by the clock, or by the processor where that was asked for."""
    now = now or (used if OF_PROCESSOR else time.perf_counter)
    gc.collect()  # what the job before has left is not to be paid for by this one
    began = now()
    job()
    return now() - began


def quickest(turns: int, *jobs: Callable[[], object]) -> list[float]:
    """Return each job's quickest time in seconds, the jobs taken in turn."""
    times = [[timed(job) for job in jobs] for _ in range(turns)]
    return [min(column) for column in zip(*times, strict=True)]


def say(what: str, ours: float, yardstick: float, limit: float, was: str = "") -> None:
    ratio = ours / yardstick
    verdict = ("" if ratio <= limit else "   OVER") + (f"   was {was}" if was else "")
    print(
        f"{what:<58}{ours:9.3f} s /{yardstick:8.3f} s = {ratio:6.2f}   at most {limit}{verdict}",
        flush=True,
    )


def say_used(
    what: str, ours: float, asked: float, was: str = "", of: str = "the processor"
) -> None:
    """Print seconds beside those asked for, which no yardstick moves."""
    verdict = ("" if ours <= asked else "   OVER") + (f"   was {was}" if was else "")
    print(f"{what:<58}{ours:9.3f} s of {of}   at most {asked}{verdict}", flush=True)


def python(*arguments: str, env: dict[str, str] = WITHOUT_CACHE) -> Callable[[], object]:
    def run() -> None:
        done = subprocess.run(
            [sys.executable, *arguments],
            env=env,
            capture_output=True,
            text=True,
            check=False,
        )
        if done.returncode not in (0, 1):
            raise RuntimeError(done.stderr)

    return run
