"""Reports made for tests of recheck, and the ways somebody might alter one."""

from __future__ import annotations

import io
import json
import re
import zipfile
from collections.abc import Callable
from functools import lru_cache
from pathlib import Path
from typing import Any

import pikepdf
from made_up import AS_OF, SITE, reading, rows, site

from divert.convert import work_out
from divert.core.period import read_period
from divert.evidence.attachments import EVIDENCE, RECORD, attach, attached
from divert.evidence.columns import ledger_columns
from divert.evidence.page_text import page_words
from divert.evidence.record import seal
from divert.factors import load_factors
from divert.publish.write import write_reports
from divert.workbook.cells import letter

PERIOD = read_period("2025-Q2", as_of=AS_OF, started=SITE.started)
SCHOOL = "Quillmarsh School"


@lru_cache
def issued(folder: Path) -> Path:
    """Issue the school's report of the quarter in a site folder; return its PDF."""
    return issued_with(folder, 1.0)


def issued_with(folder: Path, times: float) -> Path:
    """Issue the school's report in a site folder, every load so many times as heavy or as large."""
    loads = rows(count=150)
    for load in loads:
        for amount in ("mass_kg", "gross_kg", "volume_m3", "count"):
            if isinstance(value := load.get(amount), float):
                load[amount] = value * times
    workings = work_out(site(folder=folder), reading(loads), load_factors())
    paths = write_reports(
        workings, "sponsor", PERIOD, AS_OF, names=(SCHOOL,), formats=("pdf",), issue=True
    )
    return next(path for path in paths if path.suffix == ".pdf")


def saved(document: pikepdf.Pdf, **how: Any) -> bytes:
    """Return the bytes of a PDF that was changed."""
    out = io.BytesIO()
    document.save(out, **how)
    return out.getvalue()


def parts(pdf: bytes) -> tuple[bytes, bytes, dict[str, object]]:
    """Return a report without its attachments, its evidence and its record."""
    files = attached(pdf)
    with pikepdf.open(io.BytesIO(pdf)) as document:
        for name in (EVIDENCE, RECORD):
            del document.attachments[name]
        if "/AF" in document.Root:
            del document.Root.AF
        pages = saved(document)
    return pages, files[EVIDENCE], json.loads(files[RECORD])


def with_evidence(pdf: bytes, change: Callable[[bytes], bytes]) -> bytes:
    """Return the report with its evidence changed and nothing else."""
    pages, evidence, record = parts(pdf)
    return attach(pages, change(evidence), json.dumps(record, ensure_ascii=False).encode())


def with_record(
    pdf: bytes, change: Callable[[dict[str, object]], None], sealed: bool = False
) -> bytes:
    """Return the report with its record changed; ``sealed``: by one who knows of the seal."""
    pages, evidence, record = parts(pdf)
    change(record)
    if sealed:
        for name in ("key", "signature", "head"):  # nobody else can sign
            record.pop(name, None)
        record["seal"] = seal(record)
    return attach(pages, evidence, json.dumps(record, ensure_ascii=False).encode())


def in_sheet(evidence: bytes, name: str, change: Callable[[str], str]) -> bytes:
    """Return a workbook with the XML of one sheet changed."""
    with zipfile.ZipFile(io.BytesIO(evidence)) as book:
        names = re.findall(r'<sheet name="([^"]*)"', book.read("xl/workbook.xml").decode())
    number = names.index(name) + 1
    return in_part(evidence, f"xl/worksheets/sheet{number}.xml", change)


def in_part(evidence: bytes, part: str, change: Callable[[str], str]) -> bytes:
    """Return a workbook with one of its parts changed."""
    out = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(evidence)) as old, zipfile.ZipFile(out, "w") as new:
        for name in old.namelist():
            data = old.read(name)
            if name == part:
                changed = change(data.decode())
                assert changed != data.decode(), "nothing was changed"
                data = changed.encode()
            new.writestr(name, data)
    return out.getvalue()


def weighed_cell(line: int) -> str:
    """Return the place of the weight on a line (from 0) of the ledger sheet of a sponsor's report."""
    keys = [c.key for c in ledger_columns(for_sponsor=True, notes=False)]
    return f"{letter(keys.index('weighed_kg'))}{line + 5}"


def cell(xml: str, place: str, value: str) -> str:
    """Return a sheet's XML with another number in one cell."""
    return re.sub(rf'(<c r="{place}"[^>]*>(?:<f>[^<]*</f>)?<v>)[^<]*', rf"\g<1>{value}", xml)


def one_digit_redrawn(pdf: bytes, number: str) -> tuple[bytes, str]:
    """Return a report whose page draws another digit in a number, and how the number reads then.

    Everything else stays: one glyph of one piece of text is swapped for another digit's.
    """
    words = page_words(pdf)[0]
    with pikepdf.open(io.BytesIO(pdf)) as document:
        content = document.pages[0].Contents
        drawn = content.read_bytes()
        for piece in re.finditer(rb"\[[^\]]{0,200}\]\s*TJ", drawn):
            codes = re.findall(rb"<([0-9a-f]{4})>", piece[0])
            if len(codes) != len(number):
                continue
            for old, new in ((a, b) for a in set(codes) for b in set(codes) if a != b):
                at = piece.start() + piece[0].index(b"<" + old)
                content.write(drawn[:at] + b"<" + new + drawn[at + 5 :])
                changed = saved(document)
                reads = _reads_now(words, page_words(changed)[0], number)
                if reads is not None:
                    return changed, reads
    raise AssertionError(f"no digit of {number} could be redrawn")


def _reads_now(was: str, now: str, number: str) -> str | None:
    """Return how a number reads after a change, None where the change was another one."""
    at = was.find(number)
    reads = now[at : at + len(number)]
    same = was[:at] == now[:at] and was[at + len(number) :] == now[at + len(number) :]
    is_number = re.fullmatch(r"\d[\d,.]*\d", reads) is not None
    return reads if same and is_number and reads != number else None


def overdrawn(pdf: bytes) -> bytes:
    """Return a report with a white box drawn over part of its first page; its words stay."""
    with pikepdf.open(io.BytesIO(pdf)) as document:
        page = document.pages[0]
        page.Contents = document.make_stream(
            page.Contents.read_bytes() + b"\nq 1 1 1 rg 100 500 200 60 re f Q\n"
        )
        return saved(document)
