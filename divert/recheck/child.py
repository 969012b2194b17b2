"""Takes a PDF apart in a process of its own, held to time and memory: PDFs may come from anyone.

The bytes of the PDF come on standard input; one JSON object goes out, or {"problem": code}.
"""

from __future__ import annotations

import contextlib
import datetime as dt
import json
import sys
from io import BytesIO
from typing import Any

MEMORY_BYTES = 3_000_000_000
CPU_SECONDS = 120

with contextlib.suppress(ImportError):  # not on Windows: there the parent's clock alone holds it
    import resource


def apart(pdf: bytes) -> dict[str, Any]:
    """Return pages, drawings, attachments' fingerprints, record and evidence cells of a PDF."""
    import hashlib

    from divert.core.findings import CannotRun
    from divert.evidence.attachments import EVIDENCE, RECORD, attached
    from divert.evidence.form import strange_parts, structure
    from divert.evidence.page_text import page_drawings, page_words

    if b"%PDF-" not in pdf[:1024]:
        return {"problem": "no pdf"}
    import pikepdf

    try:
        files = attached(pdf)
        words, drawings = page_words(pdf), page_drawings(pdf)
        form, strange = structure(pdf), strange_parts(pdf)
    except CannotRun:
        return {"problem": "unsafe"}
    except pikepdf.PasswordError:
        return {"problem": "locked"}
    except Exception:  # whatever a damaged file makes a parser do, the file is at fault
        return {"problem": "damaged"}
    if EVIDENCE not in files or RECORD not in files:
        return {"problem": "no evidence"}
    return {
        "pages": words,
        "drawings": drawings,
        "structure": form,
        "strange": strange,
        "evidence_sha256": hashlib.sha256(files[EVIDENCE]).hexdigest(),
        "record_sha256": hashlib.sha256(files[RECORD]).hexdigest(),
        "record": files[RECORD].decode("utf-8", "replace"),
        "evidence": _cells(files[EVIDENCE]),
    }


def _cells(evidence: bytes) -> dict[str, list[list[Any]]] | None:
    """Return the cells of the sheets that are computed from; None where it is no workbook."""
    from python_calamine import CalamineWorkbook

    from divert.sandbox.package import look_through
    from divert.workbook.cells import EVERY_FIGURE, FACTORS, LEDGER, SUMMARY

    try:
        look_through(evidence)
        workbook = CalamineWorkbook.from_filelike(BytesIO(evidence))
        # Reports issued before had every figure on the sheet that is now a summary.
        figures = EVERY_FIGURE if EVERY_FIGURE in workbook.sheet_names else SUMMARY
        return {
            name: workbook.get_sheet_by_name(sheet).to_python(skip_empty_area=False)
            for name, sheet in ((EVERY_FIGURE, figures), (LEDGER, LEDGER), (FACTORS, FACTORS))
        }
    except BaseException:  # a panic in calamine's Rust is no Exception
        return None


def _plain(value: object) -> str:
    if isinstance(value, dt.datetime | dt.date | dt.time):
        return value.isoformat()
    return str(value)


def _hold() -> None:
    if "resource" in globals():
        for what, most in (
            (resource.RLIMIT_AS, MEMORY_BYTES), (resource.RLIMIT_CPU, CPU_SECONDS),
            (resource.RLIMIT_CORE, 0), (resource.RLIMIT_FSIZE, 0),
        ):  # fmt: skip
            with contextlib.suppress(OSError, ValueError):
                resource.setrlimit(what, (most, most))


def main() -> None:
    """Answer for one PDF."""
    _hold()
    try:
        answer = apart(sys.stdin.buffer.read())
    except (MemoryError, RecursionError):
        answer = {"problem": "unsafe"}
    sys.stdout.buffer.write(json.dumps(answer, default=_plain).encode())


if __name__ == "__main__":
    main()
