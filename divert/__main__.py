"""The program itself, and ``python -m divert``: Ctrl-C is one word from the first moment on."""

from __future__ import annotations

import atexit
import contextlib
import os
import signal
import sys

_STOPPED = 2


def _stopped(*_: object) -> None:
    os.write(2, b"Stopped.\n")
    os._exit(_STOPPED)


def _ended(status: object) -> None:
    """End at once with a status: for Python, letting go of every module and row is a long way round."""
    if not isinstance(status, int):
        return
    for stream in (sys.stdout, sys.stderr):
        with contextlib.suppress(OSError, ValueError, AttributeError):
            stream.flush()  # the command has flushed them: this is for what was said on the way out
    os._exit(status)


def run() -> None:
    """Run the command line, which answers Ctrl-C itself while it works.

    Before and after, while libraries are imported and let go, Python's own answer would be a page of
    where they were. Where Ctrl-C is ignored, as in the background of a script, it stays so.
    """
    heard = signal.getsignal(signal.SIGINT) is signal.default_int_handler
    if heard:
        signal.signal(signal.SIGINT, _stopped)
    status: object = None
    # The first to be registered is the last to be called. Python would end itself by the signal, whatever
    # status it was given, where the key came while a library made code of a text.
    atexit.register(lambda: _ended(status))
    # numpy's library of matrices starts a thread for each core, with memory of its own, which costs more
    # than all it ever does for us.
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
    from divert.cli.commands import main

    try:
        if heard:
            signal.signal(signal.SIGINT, signal.default_int_handler)
        main()
    except SystemExit as end:
        status = end.code
        raise
    finally:
        if heard:
            signal.signal(signal.SIGINT, _stopped)


if __name__ == "__main__":
    run()
