"""The parent's side of the held child: hand over bytes, take back cells, never wait for ever."""

from __future__ import annotations

import contextlib
import json
import os
import subprocess
import sys
from collections.abc import Iterator, Sequence
from pathlib import Path
from types import TracebackType
from typing import IO

from divert.core.findings import CannotRun
from divert.core.words import N_, Text
from divert.ingest.clock import Clock
from divert.sandbox import frames, limits
from divert.sandbox.frames import Frame

with contextlib.suppress(ImportError):  # not on Windows
    import fcntl

_ENDED_BY = {24: "time", 9: "crash", 6: "memory"}  # SIGXCPU; SIGKILL; SIGABRT (no memory, in Rust)
_WITHOUT_LIMITS = os.name == "nt"


class Reader:
    """One child process, reused for file after file and started again when it has died.

    :meth:`ask` hands a file over, :meth:`answer` takes its frames; the child works in between, so
    asking for the next file before dealing with the last one uses a second core. Use as a context
    manager. ``command`` stands in for the child in tests.
    """

    def __init__(self, command: Sequence[str] | None = None, seconds: float | None = None) -> None:
        self._command = command or [sys.executable, "-P", "-m", "divert.sandbox.child"]
        self._seconds = seconds
        self._child: subprocess.Popen[bytes] | None = None
        self._clock: Clock | None = None
        self._size = 0

    def __enter__(self) -> Reader:
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        self.close()

    def start(self) -> None:
        """Start the child before there is a file for it."""
        if self._child is None or self._child.poll() is not None:
            self.close()
            self._child = self._start()
            self._clock = Clock(self._child, self._allowed_s(0))

    def ask(self, data: bytes, suffix: str) -> None:
        """Hand over one file's bytes; ``suffix`` is its extension, lower-case, with its dot."""
        self._size = len(data)
        request = {
            "suffix": suffix,
            "size": len(data),
            "seconds": limits.seconds(len(data)) if self._seconds is None else self._seconds,
            "memory": limits.memory_bytes(len(data)),
        }
        self.start()
        assert self._child is not None and self._child.stdin is not None
        assert self._clock is not None
        message = json.dumps(request).encode() + b"\n"
        at_once = len(message) + len(data) <= _held_by(self._child.stdin)
        # A dead child shows in the answer.
        with (
            contextlib.nullcontext()
            if at_once
            else self._clock.waiting(self._allowed_s(self._size)),
            contextlib.suppress(OSError),
        ):
            self._child.stdin.write(message)
            self._child.stdin.write(data)
            self._child.stdin.flush()

    def answer(self) -> Iterator[Frame]:
        """Yield the frames of the file last asked for, as they come.

        The last is ``E``, or ``X`` with the reason: the child's own, or "time", "memory" or "crash"
        where it had to be ended or died.
        """
        child = self._child
        assert child is not None and child.stdout is not None and self._clock is not None
        last: Frame | None = None
        with self._clock.timed(self._allowed_s(self._size)) as clock:
            try:
                answer = frames.frames(child.stdout, 2 * limits.ANSWER_BYTES)
                while True:
                    with clock.waiting():  # and not while the parent deals with what it got
                        last = next(answer, None)
                    if last is None:
                        break
                    yield last
                    if last[0] in frames.ENDS:
                        break
            except (EOFError, OSError, ValueError):
                last = None
                reason = "time" if clock.late.is_set() else _why_it_ended(child)
                yield b"X", frames.note(reason)
            finally:
                # A child that was left in the middle of an answer, or that ran out of memory and
                # has it in pieces, is of no more use; the next file gets a fresh one.
                if last is None or last[0] != b"E":
                    self.close()

    def close(self) -> None:
        """End the child."""
        child, self._child = self._child, None
        clock, self._clock = self._clock, None
        if child is None or clock is None:
            return
        clock.stop()
        with contextlib.suppress(OSError):
            child.kill()
        for pipe in (child.stdin, child.stdout):
            if pipe is not None:
                with contextlib.suppress(OSError):
                    pipe.close()
        child.wait()

    def _start(self) -> subprocess.Popen[bytes]:
        here = str(Path(__file__).parents[2])
        where = [here, *(entry for entry in sys.path if entry and Path(entry).is_absolute())]
        try:
            return subprocess.Popen(
                self._command,
                stdin=subprocess.PIPE,
                stdout=subprocess.PIPE,
                stderr=subprocess.DEVNULL,
                env=os.environ | {"PYTHONPATH": os.pathsep.join(where)},
                creationflags=getattr(subprocess, "CREATE_NO_WINDOW", 0),
            )
        except OSError as problem:
            raise CannotRun(
                Text(
                    N_("The process that reads spreadsheets cannot be started: {why}."),
                    {"why": problem.strerror or str(problem)},
                )
            ) from problem

    def _allowed_s(self, size: int) -> float:
        allowed = limits.seconds(size) if self._seconds is None else self._seconds
        return 3 * allowed if _WITHOUT_LIMITS else allowed  # there the wall alone counts


def _held_by(pipe: IO[bytes]) -> int:
    """Return how many bytes a pipe with nothing in it takes at once; 0 where the system does not say."""
    try:
        return int(fcntl.fcntl(pipe, fcntl.F_GETPIPE_SZ))
    except (NameError, AttributeError, OSError):
        return 0


def _why_it_ended(child: subprocess.Popen[bytes]) -> str:
    child.kill()
    return _ENDED_BY.get(-child.wait(), "crash")
