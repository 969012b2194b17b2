"""A workbook that is a zip archive, looked through before anything else touches it."""

from __future__ import annotations

import zipfile
import zlib
from collections.abc import Callable, Iterator
from io import BytesIO
from typing import NamedTuple

from divert.sandbox import limits
from divert.sandbox.refusal import Refused

_ENTRY = b"PK\x01\x02"
_STEP_IN = 1 << 18
_STEP_OUT = 1 << 22


class Package(NamedTuple):
    """The parts of a zip archive whose sizes have been found acceptable, by name."""

    data: bytes
    parts: dict[str, zipfile.ZipInfo]

    def pieces(self, name: str) -> Iterator[bytes]:
        """Yield a part's bytes a few megabytes at a time.

        Raises Refused where it holds more than the archive's directory announced.
        """
        part = self.parts[name]
        at = part.header_offset
        head = self.data[at : at + 30]
        start = (
            at + 30 + int.from_bytes(head[26:28], "little") + int.from_bytes(head[28:30], "little")
        )
        packed = memoryview(self.data)[start : start + part.compress_size]
        if part.compress_type == zipfile.ZIP_STORED:
            yield bytes(packed)
            return
        if part.compress_type != zipfile.ZIP_DEFLATED:
            raise Refused("damaged")
        left = part.file_size
        inflate = zlib.decompressobj(-15)
        for at in range(0, len(packed), _STEP_IN):
            rest: bytes | memoryview = packed[at : at + _STEP_IN]
            while rest and not inflate.eof:
                try:
                    piece = inflate.decompress(rest, _STEP_OUT)
                except zlib.error as problem:
                    raise Refused("damaged") from problem
                rest = inflate.unconsumed_tail
                left -= len(piece)
                if left < 0:
                    raise Refused("expands")
                if piece:
                    yield piece

    def read(self, name: str, at_most: int = 20_000_000) -> bytes:
        """Return a small part whole; b"" where there is none of that name."""
        if name not in self.parts or self.parts[name].file_size > at_most:
            return b""
        return b"".join(self.pieces(name))

    def holds(self, name: str, tests: list[bytes]) -> list[bool]:
        """Say which of some byte strings a part holds, without holding the part."""
        seen = [False] * len(tests)
        for window in self.windows(name):
            seen = [s or t in window for s, t in zip(seen, tests, strict=True)]
        return seen

    def windows(self, name: str, overlap: int = 200) -> Iterator[bytes]:
        """Yield a part's pieces, each with the end of the one before, so that no tag is cut."""
        tail = b""
        for piece in self.pieces(name):
            window = tail + piece if tail else piece  # most parts are one piece, and not copied
            yield window
            tail = window[-overlap:]

    def names(self, test: Callable[[str], bool]) -> list[str]:
        """Return the names of the parts that pass a test, in the archive's order."""
        return [name for name in self.parts if test(name)]


def look_through(data: bytes) -> Package:
    """Return the archive's parts; Refused where it is damaged, locked, or would expand too far."""
    if data.count(_ENTRY) > limits.PARTS:
        raise Refused("too many parts")
    try:
        with zipfile.ZipFile(BytesIO(data)) as archive:
            parts = archive.infolist()
    except (
        zipfile.BadZipFile,
        ValueError,
        OverflowError,
        NotImplementedError,
        EOFError,
    ) as problem:
        raise Refused("damaged") from problem
    expanded = sum(part.file_size for part in parts)
    if expanded > limits.EXPANDED_BYTES or (
        expanded > limits.UNQUESTIONED_BYTES and expanded > limits.EXPANSION * len(data)
    ):
        raise Refused("expands")
    if sum(part.compress_size for part in parts) > len(data):  # parts that share their bytes
        raise Refused("expands")
    if any(part.flag_bits & 1 for part in parts):
        raise Refused("password")
    by_name = {part.filename: part for part in parts}
    if len(by_name) < len(parts):  # two parts of one name: which is the sheet is anyone's guess
        raise Refused("damaged")
    return Package(data, by_name)
