"""Reports made and issued from the page: by the same command, in a process of its own."""

from __future__ import annotations

import os
import subprocess
import sys
import threading
from collections.abc import Callable
from dataclasses import dataclass, field, replace
from pathlib import Path


@dataclass(frozen=True, slots=True)
class Order:
    """One report that is asked for; ``extra`` are further words of the command, such as --issue."""

    audience: str
    name: str
    period: str
    as_of: str
    extra: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Made:
    """What became of an order: still busy, or its files, or what the command said instead."""

    busy: bool
    files: tuple[Path, ...] = ()
    said: str = ""
    failed: bool = False


@dataclass
class Making:
    """The orders of this server and what became of each."""

    _made: dict[tuple[Path, Order], Made] = field(default_factory=dict)
    _lock: threading.Lock = field(default_factory=threading.Lock)

    def begin(self, folder: Path, order: Order, then: Callable[[], None] | None = None) -> None:
        """Begin an order, unless it is being made already; ``then`` is called when it is done."""
        with self._lock:
            if (now := self._made.get((folder, order))) is not None and now.busy:
                return
            self._made[folder, order] = Made(busy=True)
        threading.Thread(target=self._make, args=(folder, order, then), daemon=True).start()

    def of(self, folder: Path, order: Order) -> Made | None:
        """Return what became of an order, None where it was never given."""
        return self._made.get((folder, order))

    def _make(self, folder: Path, order: Order, then: Callable[[], None] | None) -> None:
        made = run(folder, order)
        with self._lock:
            self._made[folder, order] = made
        if then is not None:
            then()


def run(folder: Path, order: Order) -> Made:
    """Make a report by the command that anyone can type; return its files or what it said."""
    words = ["report", str(folder), f"--for={order.audience}", f"--period={order.period}",
             f"--as-of={order.as_of}"]  # fmt: skip
    if order.audience in ("sponsor", "grant") and order.name:
        words.append(f"--{order.audience}={order.name}")
    here = str(Path(__file__).parents[2])
    where = [here, *(entry for entry in sys.path if entry and Path(entry).is_absolute())]
    try:
        done = subprocess.run(
            [sys.executable, "-P", "-m", "divert", *words, *order.extra],
            stdin=subprocess.DEVNULL, capture_output=True, text=True, encoding="utf-8",
            errors="replace", check=False,
            env=os.environ | {"PYTHONPATH": os.pathsep.join(where), "PYTHONIOENCODING": "utf-8"},
            creationflags=getattr(subprocess, "CREATE_NO_WINDOW", 0),
        )  # fmt: skip
    except OSError as problem:
        return Made(busy=False, said=problem.strerror or str(problem), failed=True)
    files = tuple(
        path for line in done.stdout.splitlines() if (path := Path(line)).suffix and path.is_file()
    )
    return replace(
        Made(busy=False), files=files, said=done.stderr.strip(), failed=done.returncode == 2
    )
