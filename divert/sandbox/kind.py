"""What a file is by its first bytes, whatever its name says."""

from __future__ import annotations

from divert.sandbox.package import Package
from divert.sandbox.refusal import Refused

ZIP = b"PK\x03\x04"
OLD_OFFICE = b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1"  # the container of .xls and of locked workbooks
_UTF16 = (b"\xff\xfe", b"\xfe\xff")
_TEXT_SUFFIXES = (".csv", ".tsv")


def is_workbook(data: bytes, suffix: str) -> bool:
    """Say whether to read a file as a workbook (else as text); Refused where name and bytes differ.

    ``suffix`` is the file's, lower-case with its dot. Workbooks of one kind under another kind's
    name are read for what they are.
    """
    if not data.strip(b"\x00 \t\r\n"):
        raise Refused("empty")
    workbook = data.startswith((ZIP, OLD_OFFICE))
    if suffix in _TEXT_SUFFIXES:
        if workbook:
            raise Refused("workbook named as text")
        if _looks_like_html(data):
            raise Refused("html")
        return False
    if workbook:
        return True
    if _looks_like_html(data):
        raise Refused("html")
    if data[:8] in (b"PK\x05\x06\x00\x00\x00\x00", b"PK\x07\x08PK\x03\x04"):
        raise Refused("not a workbook")
    if b"\x00" in data[:2000] and not data.startswith(_UTF16):
        raise Refused("damaged")
    raise Refused("text named as workbook")


def of_package(package: Package) -> str:
    """Return xlsx, xlsb or ods for a zip archive; Refused where it is no workbook."""
    if "xl/workbook.xml" in package.parts:
        return "xlsx"
    if "xl/workbook.bin" in package.parts:
        return "xlsb"
    if "content.xml" in package.parts and b"spreadsheet" in package.read("mimetype") + package.read(
        "META-INF/manifest.xml"
    ):
        return "ods"
    raise Refused("not a workbook")


def _looks_like_html(data: bytes) -> bool:
    start = data[:1000].replace(b"\x00", b"").lstrip(b"\xef\xbb\xbf\xff\xfe \t\r\n").lower()
    return start.startswith((b"<!doctype html", b"<html", b"<table", b"<?xml", b"<!--", b"<meta"))
