"""The site's logo and picture, made safe to print: inside the site folder, bounded, stripped."""

from __future__ import annotations

import base64
import io
from dataclasses import dataclass
from pathlib import Path

from divert.core.findings import CannotRun
from divert.core.safe_files import inside
from divert.core.words import N_, Text
from divert.report.paper.svg import is_svg, stripped

_MOST_BYTES = 40_000_000
# A photograph is decoded small; a PNG stands in memory whole, at four bytes a pixel.
_MOST_PIXELS = {"JPEG": 120_000_000, "PNG": 40_000_000}
_LONGEST_SIDE = {"logo": 900, "picture": 1800}  # pixels: 300 per inch at the largest printed size


@dataclass(frozen=True, slots=True)
class Picture:
    """A picture ready to stand in a page: a ``data:`` address and its size in pixels."""

    address: str
    width: float
    height: float

    @property
    def upright(self) -> bool:
        """Return whether it stands higher than it is wide."""
        return self.height > self.width


def load(folder: Path, name: str, use: str) -> tuple[Picture | None, Text | None]:
    """Return the picture ``name`` of the site folder, or None with a sentence on what to do.

    ``use`` is "logo" or "picture". A link that leads out of the folder, a file that is no PNG, JPEG
    or SVG, and one too large are refused. Photographs are turned upright, brought to print size
    and lose their camera data (which may tell where they were taken).
    """
    values = {"file": name, "use": use}
    try:
        path = inside(folder, folder / name)
        if not path.is_file():
            return None, Text(
                N_('The {use} "{file}" is not in the site folder; the reports go without it.'),
                values,
            )
        if path.stat().st_size > _MOST_BYTES:
            raise ValueError("too large")
        data = path.read_bytes()
        if is_svg(data):
            drawing, width, height = stripped(data)
            return Picture(_address("image/svg+xml", drawing), width, height), None
        return _raster(data, _LONGEST_SIDE[use]), None
    except CannotRun:
        return None, Text(
            N_('The {use} "{file}" leads out of the site folder; the reports go without it.'),
            values,
        )
    except (OSError, ValueError, SyntaxError):
        return None, Text(
            N_('The {use} "{file}" is not a PNG, JPEG or SVG picture that can be read; '
               "the reports go without it."), values,
        )  # fmt: skip


def _raster(data: bytes, longest: int) -> Picture:
    from PIL import Image, ImageOps

    with Image.open(io.BytesIO(data), formats=("PNG", "JPEG")) as opened:
        if opened.width * opened.height > _MOST_PIXELS[opened.format or "PNG"]:
            raise ValueError("too many pixels")
        opened.draft("RGB", (longest, longest))  # no smaller than that
        upright = ImageOps.exif_transpose(opened)
        upright.thumbnail((longest, longest))
        clear = upright.mode in ("RGBA", "LA", "PA") or "transparency" in upright.info
        out = io.BytesIO()
        if clear or opened.format == "PNG":
            kept = upright.convert("RGBA" if clear else "RGB")
            kept.info = {}
            kept.save(out, "PNG", optimize=True)
        else:
            kept = upright.convert("RGB")
            kept.info = {}
            kept.save(out, "JPEG", quality=84, optimize=True)
        kind = "image/png" if clear or opened.format == "PNG" else "image/jpeg"
        return Picture(_address(kind, out.getvalue()), upright.width, upright.height)


def _address(kind: str, data: bytes) -> str:
    return f"data:{kind};base64,{base64.b64encode(data).decode('ascii')}"
