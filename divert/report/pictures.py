"""The site's logo and picture, made safe to print: inside the site folder, bounded, stripped."""

from __future__ import annotations

import base64
import io
from dataclasses import dataclass
from pathlib import Path

from divert.findings import CannotRun
from divert.safe_files import inside
from divert.words import N_, Text

_MOST_BYTES = 40_000_000
_MOST_PIXELS = 120_000_000
_LONGEST_SIDE = {"logo": 900, "picture": 1800}  # pixels: 300 per inch at the largest printed size

_SVG = "http://www.w3.org/2000/svg"
_XLINK = "http://www.w3.org/1999/xlink"
_DRAWN = (
    "svg g path rect circle ellipse line polyline polygon defs linearGradient radialGradient stop "
    "clipPath mask title desc"  # no use: a few nested ones stand for millions of shapes
)
_SAID = (
    "id d x y x1 y1 x2 y2 cx cy r rx ry fx fy width height viewBox preserveAspectRatio points "
    "transform fill fill-opacity fill-rule stroke stroke-width stroke-linecap stroke-linejoin "
    "stroke-miterlimit stroke-dasharray stroke-dashoffset stroke-opacity opacity color offset "
    "stop-color stop-opacity gradientUnits gradientTransform spreadMethod clip-path clip-rule mask "
    "maskUnits maskContentUnits clipPathUnits display visibility version"
)
_SHAPES = frozenset(_DRAWN.split())
_ATTRIBUTES = frozenset(_SAID.split())


@dataclass(frozen=True, slots=True)
class Picture:
    """A picture ready to stand in a page: a ``data:`` address and its size in pixels."""

    address: str
    width: float
    height: float


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
        return (_vector(data) if _is_svg(data) else _raster(data, _LONGEST_SIDE[use])), None
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


def _is_svg(data: bytes) -> bool:
    return b"<svg" in data[:4096]


def _raster(data: bytes, longest: int) -> Picture:
    from PIL import Image, ImageOps

    with Image.open(io.BytesIO(data), formats=("PNG", "JPEG")) as opened:
        if opened.width * opened.height > _MOST_PIXELS:
            raise ValueError("too many pixels")
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


def _vector(data: bytes) -> Picture:
    from xml.etree import ElementTree

    from defusedxml.common import DefusedXmlException
    from defusedxml.ElementTree import ParseError, fromstring

    try:
        root = fromstring(data, forbid_dtd=False)
    except (DefusedXmlException, ParseError) as problem:
        raise ValueError("not plain SVG") from problem
    if root.tag != f"{{{_SVG}}}svg":
        raise ValueError("not SVG")
    _strip(root, depth=0)
    width, height = _size(root)
    root.set("width", f"{width:g}")
    root.set("height", f"{height:g}")
    ElementTree.register_namespace("", _SVG)
    ElementTree.register_namespace("xlink", _XLINK)
    return Picture(_address("image/svg+xml", ElementTree.tostring(root)), width, height)


def _strip(element: object, depth: int) -> None:
    """Keep shapes and paint; drop scripts, styles, text, pictures and every address."""
    if depth > 60:
        raise ValueError("nested too deep")
    for child in list(element):  # type: ignore[call-overload]
        tag = child.tag if isinstance(child.tag, str) else ""
        if not tag.startswith(f"{{{_SVG}}}") or tag.split("}")[1] not in _SHAPES:
            element.remove(child)  # type: ignore[attr-defined]
        else:
            _strip(child, depth + 1)
    attributes = element.attrib  # type: ignore[attr-defined]
    for declared in attributes.pop("style", "").split(";"):
        key, _, value = declared.partition(":")
        attributes.setdefault(key.strip(), value.strip())
    for key in list(attributes):
        value = attributes[key]
        own = key in ("href", f"{{{_XLINK}}}href") and value.startswith("#")
        outside = "url(" in value and not value.strip().startswith("url(#")
        if not own and (key not in _ATTRIBUTES or outside):
            del attributes[key]


def _size(root: object) -> tuple[float, float]:
    box = root.get("viewBox", "").replace(",", " ").split()  # type: ignore[attr-defined]
    try:
        if len(box) == 4:
            width, height = float(box[2]), float(box[3])
        else:
            width, height = (
                float("".join(c for c in root.get(side, "") if c in "0123456789."))  # type: ignore[attr-defined]
                for side in ("width", "height")
            )
    except ValueError as problem:
        raise ValueError("an SVG picture needs a viewBox, or a width and a height") from problem
    if not (0 < width < 1e6 and 0 < height < 1e6):
        raise ValueError("size")
    return width, height


def _address(kind: str, data: bytes) -> str:
    return f"data:{kind};base64,{base64.b64encode(data).decode('ascii')}"
