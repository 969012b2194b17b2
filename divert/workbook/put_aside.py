"""A folder for the text of a workbook too long for memory, gone again whatever happens."""

from __future__ import annotations

import errno
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from traceback import clear_frames

from divert.core.findings import CannotRun
from divert.core.words import N_, Text

_NO_ROOM = (errno.ENOSPC, errno.EDQUOT, errno.EFBIG)


@contextmanager
def put_aside() -> Iterator[str | None]:
    """Give a folder of this run's own, None where no file can be put aside on this machine.

    Raises CannotRun where its disk is full before the workbook is whole.
    """
    from xlsxwriter.exceptions import XlsxWriterException

    try:
        folder = tempfile.TemporaryDirectory(prefix="divert-", ignore_cleanup_errors=True)
    except OSError:
        yield None
        return
    with folder as place:
        try:
            yield place
        except (OSError, XlsxWriterException) as problem:
            if _errno_of(problem) not in _NO_ROOM:
                raise
            _let_go(problem)
            values = {"folder": tempfile.gettempdir()}
            raise CannotRun(Text(_FULL, values)) from problem


def _errno_of(problem: Exception) -> int | None:
    """Return what the system said; XlsxWriter puts its error into one of its own."""
    within = problem if isinstance(problem, OSError) else next(iter(problem.args), None)
    return within.errno if isinstance(within, OSError) else None


def _let_go(problem: BaseException | None) -> None:
    """Close what was being packed here and now, and not wherever memory is next cleared."""
    while problem is not None:
        clear_frames(problem.__traceback__)
        problem = problem.__context__


_FULL = N_(
    "The disk of temporary files is full: {folder} has no room for the evidence workbook, so this report "
    "was not written. Make room there, or name a folder with room in TMPDIR."
)
