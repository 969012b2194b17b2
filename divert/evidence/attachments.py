"""The files inside a report: put in as associated files, and taken out again with care."""

from __future__ import annotations

import zlib
from collections.abc import Mapping
from contextlib import suppress
from io import BytesIO

from divert.core.findings import CannotRun
from divert.core.words import N_, Text

EVIDENCE = "evidence.xlsx"
RECORD = "record.json"
# How a finished report says under which number it was issued, where its bytes alone tell: a key of
# the record's stream, for what describes a stream is never packed.
NUMBER_IN_PDF = "/ReportNumber"
_SPREADSHEET = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"
_LARGEST = {EVIDENCE: 200_000_000, RECORD: 100_000_000}  # bytes; more is not one of our reports


def attach(pdf: bytes, evidence: bytes, record: bytes, number: str = "") -> bytes:
    """Return the PDF with the evidence workbook and the record as associated files of the document.

    ``number``: what the report is issued under, "" where it is not.

    The same three inputs give the same bytes: no clock is asked.
    """
    import pikepdf

    about_record = f"Record of report {number}" if number else "Record"
    with pikepdf.open(BytesIO(pdf)) as document:
        associated = pikepdf.Array()
        for name, data, kind, relationship, about in (
            (EVIDENCE, evidence, _SPREADSHEET, "/Source", "Evidence: ledger, factors and formulas"),
            (
                RECORD,
                record,
                "application/json",
                "/Data",
                f"{about_record}: figures and fingerprints",
            ),
        ):
            spec = pikepdf.AttachedFileSpec(
                document,
                data,
                filename=name,
                description=about,
                mime_type=kind,
                relationship=pikepdf.Name(relationship),
            )
            document.attachments[name] = spec
            if number and name == RECORD:
                spec.obj.EF.F[NUMBER_IN_PDF] = pikepdf.String(number)
            associated.append(spec.obj)
        document.Root.AF = associated
        out = BytesIO()
        document.save(out, deterministic_id=True, fix_metadata_version=False)
    return out.getvalue()


def attached(pdf: bytes) -> Mapping[str, bytes]:
    """Return the report's two attachments by name, as far as they are there.

    Raises CannotRun where one unpacks to more than a report could hold.
    """
    import pikepdf

    found: dict[str, bytes] = {}
    with pikepdf.open(BytesIO(pdf)) as document:
        for name in _LARGEST:
            if name in document.attachments:
                stream = document.attachments[name].obj.EF.F
                found[name] = _unpacked(stream, name)
    return found


def _unpacked(stream: object, name: str) -> bytes:
    import pikepdf

    assert isinstance(stream, pikepdf.Stream)
    raw = stream.read_raw_bytes()
    packed = stream.get("/Filter")
    filters = [str(f) for f in packed] if isinstance(packed, pikepdf.Array) else [str(packed)]
    data = b""
    if packed is None:
        data = raw
    elif filters == ["/FlateDecode"] and stream.get("/DecodeParms") is None:
        with suppress(zlib.error):
            data = zlib.decompressobj().decompress(raw, _LARGEST[name] + 1)
    if not data or len(data) > _LARGEST[name]:
        raise CannotRun(
            Text(N_('The file "{name}" inside this PDF cannot be unpacked safely.'), {"name": name})
        )
    return data
