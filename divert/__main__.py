"""The program itself, and ``python -m divert``: Ctrl-C is one word from the first moment on."""

from __future__ import annotations

import atexit
import gc
import os
import signal

_STOPPED = 2


def _stopped(*_: object) -> None:
    os.write(2, b"Stopped.\n")
    os._exit(_STOPPED)


def run() -> None:
    """Run the command line, which answers Ctrl-C itself while it works.

    Before and after, while libraries are imported and let go, Python's own answer would be a page of
    where they were. Where Ctrl-C is ignored, as in the background of a script, it stays so.
    """
    heard = signal.getsignal(signal.SIGINT) is signal.default_int_handler
    if heard:
        signal.signal(signal.SIGINT, _stopped)
    status: object = None
    # The first to be registered is the last to be called. Python ends itself by the signal, whatever
    # status it was given, where the key came while a library made code of a text.
    atexit.register(lambda: os._exit(_STOPPED) if status == _STOPPED else None)
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
        gc.freeze()  # what is left goes with the process: looking it through for cycles is in vain


if __name__ == "__main__":
    run()
