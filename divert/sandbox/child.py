"""The child's loop: take one file's bytes, answer with its cells or a refusal, wait for the next.

Request: one line of JSON {"suffix", "size", "seconds", "memory"}, then that many bytes. Answer: the
frames of divert.sandbox.frames.
"""

from __future__ import annotations

import contextlib
import datetime as dt
import gc
import io
import json
import os
import sys
import zipfile
from collections.abc import Iterator
from typing import Any, BinaryIO

from divert.sandbox import csv_text, frames, kind, limits, specimen, workbook
from divert.sandbox.frames import Frame
from divert.sandbox.refusal import Refused

with contextlib.suppress(ImportError):  # not on Windows: there the parent's clock alone holds it
    import resource


_SELDOM = 100_000  # objects between two looks for cycles: rows of cells make none


def serve(requests: BinaryIO, answers: BinaryIO) -> None:
    """Answer requests until there are no more."""
    _shut_in()
    fit = specimen.reads_well(read)
    gc.freeze()
    gc.set_threshold(_SELDOM)
    while line := requests.readline():
        request = json.loads(line)
        data = requests.read(request["size"])
        _hold(request)
        if not fit:
            answers.write(frames.packed(b"X", frames.note("unfit")))
            answers.flush()
            continue
        for body, last in _answer(data, request["suffix"]):
            answers.write(body)
            if last:
                answers.flush()


def _answer(data: bytes, suffix: str) -> Iterator[tuple[bytes, bool]]:
    sent = 0
    reason = "damaged"
    try:
        for letter, body in read(data, suffix):
            sent += len(body)
            if sent > limits.ANSWER_BYTES:
                raise Refused("too much text")
            yield frames.packed(letter, body), False
    except Refused as refused:
        reason = refused.reason
    except MemoryError:
        reason = "memory"
    except (GeneratorExit, KeyboardInterrupt):
        raise
    except BaseException:  # a panic in calamine's Rust is no Exception; the file is at fault
        pass
    else:
        yield frames.packed(b"E", b""), True
        return
    yield frames.packed(b"X", frames.note(reason)), True


def read(data: bytes, suffix: str) -> Iterator[Frame]:
    """Yield the frames of one file, but for the last; Refused where it cannot be read."""
    if kind.is_workbook(data, suffix):
        yield from workbook.read_workbook(data)
    else:
        yield b"S", frames.note(["", False, [], []])
        yield from frames.row_frames(csv_text.rows_of(data, suffix))


def _shut_in() -> None:
    """Give up what no reader needs: from here on the process can open no file and no socket."""
    _load_everything()
    if "resource" in globals():
        for what in ("RLIMIT_CORE", "RLIMIT_FSIZE", "RLIMIT_NOFILE"):
            with contextlib.suppress(OSError, ValueError, AttributeError):
                resource.setrlimit(getattr(resource, what), (0, 0))


def _load_everything() -> None:
    """Have Python load what it loads at first use, while its files can still be opened."""
    for encoding in ("utf-8-sig", "utf-16", "utf-16-le", "utf-16-be", "utf-32", "cp1252", "cp437"):
        "".encode(encoding)
    for form in ("xl/workbook.xml", "xl/workbook.bin", "content.xml"):
        specimen = io.BytesIO()
        with zipfile.ZipFile(specimen, "w", zipfile.ZIP_DEFLATED) as archive:
            archive.writestr("mimetype", "spreadsheet")
            archive.writestr(form, '<a -spanned=""/>')
        list(_answer(specimen.getvalue(), ".xlsx"))
    for suffix, data in ((".csv", b'a,b\n"c",1\n'), (".csv", b"<html>"), (".xls", kind.OLD_OFFICE)):
        list(_answer(data, suffix))
    frames.rows_out([[dt.datetime(2000, 1, 1), dt.date(2000, 1, 1), dt.time(0), dt.timedelta(0)]])


def _hold(request: dict[str, Any]) -> None:
    """Set this file's share of processor time and memory; the system ends the process beyond it."""
    if "resource" not in globals():
        return
    usage = resource.getrusage(resource.RUSAGE_SELF)
    until = int(usage.ru_utime + usage.ru_stime + request["seconds"]) + 1
    for what, most in ((resource.RLIMIT_CPU, until), (resource.RLIMIT_AS, request["memory"])):
        with contextlib.suppress(OSError, ValueError):
            resource.setrlimit(what, (most, resource.getrlimit(what)[1]))


if __name__ == "__main__":
    # Only frames may reach the pipe: a stray print would be taken for one.
    pipe = os.fdopen(os.dup(1), "wb", buffering=1 << 18)
    os.dup2(2, 1)
    serve(sys.stdin.buffer, pipe)
