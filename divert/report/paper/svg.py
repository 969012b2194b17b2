"""A site's own drawing reduced to shapes and paint: nothing that acts, fetches, or multiplies."""

from __future__ import annotations

from xml.etree import ElementTree

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
    "stop-color stop-opacity gradientUnits gradientTransform clip-path clip-rule mask "
    "maskUnits maskContentUnits clipPathUnits display visibility version"
    # no spreadMethod: a gradient a millionth wide would be repeated a million times
)
_SHAPES = frozenset(_DRAWN.split())
_ATTRIBUTES = frozenset(_SAID.split())
_CUTS = ("mask", "clip-path")  # what draws another element once more for each that names it
_CUTTERS = (f"{{{_SVG}}}mask", f"{{{_SVG}}}clipPath")

MOST_BYTES = 1_000_000
MOST_SHAPES = 5_000
MOST_CUT = 20_000  # shapes drawn for masks and clips, all together
MOST_DEEP = 60


def is_svg(data: bytes) -> bool:
    """Return whether a picture's bytes are a drawing."""
    return b"<svg" in data[:4096]


def stripped(data: bytes) -> tuple[bytes, float, float]:
    """Return a drawing with nothing left but what is safe to print, its width and its height.

    Scripts, styles, text, pictures, entities and every address are dropped. Raises ValueError where
    it is no SVG, has no size, or would take long to draw.
    """
    from defusedxml.common import DefusedXmlException
    from defusedxml.ElementTree import ParseError, fromstring

    if len(data) > MOST_BYTES:
        raise ValueError("too large")
    try:
        root: ElementTree.Element = fromstring(data, forbid_dtd=False)
    except (DefusedXmlException, ParseError) as problem:
        raise ValueError("not plain SVG") from problem
    if root.tag != f"{{{_SVG}}}svg":
        raise ValueError("not SVG")
    _strip(root, depth=0, cuts=False)
    _count(root)
    width, height = _size(root)
    root.set("width", f"{width:g}")
    root.set("height", f"{height:g}")
    ElementTree.register_namespace("", _SVG)
    ElementTree.register_namespace("xlink", _XLINK)
    return ElementTree.tostring(root), width, height


def _strip(element: ElementTree.Element, depth: int, *, cuts: bool) -> None:
    """Keep shapes and paint. What lies in a mask or clip is cut by no other: ten by ten by ten."""
    if depth > MOST_DEEP:
        raise ValueError("nested too deep")
    cuts = cuts or element.tag in _CUTTERS
    for child in list(element):
        tag = child.tag if isinstance(child.tag, str) else ""
        if not tag.startswith(f"{{{_SVG}}}") or tag.split("}")[1] not in _SHAPES:
            element.remove(child)
        else:
            _strip(child, depth + 1, cuts=cuts)
    attributes = element.attrib
    for declared in attributes.pop("style", "").split(";"):
        key, _, value = declared.partition(":")
        attributes.setdefault(key.strip(), value.strip())
    for key in list(attributes):
        value = attributes[key]
        own = key in ("href", f"{{{_XLINK}}}href") and value.startswith("#")
        outside = "url(" in value and not value.strip().startswith("url(#")
        if (not own and (key not in _ATTRIBUTES or outside)) or (cuts and key in _CUTS):
            del attributes[key]


def _count(root: ElementTree.Element) -> None:
    shapes = sum(1 for _ in root.iter())
    within = sum(sum(1 for _ in one.iter()) for one in root.iter() if one.tag in _CUTTERS)
    named = sum(1 for one in root.iter() for key in _CUTS if key in one.attrib)
    if shapes > MOST_SHAPES or within * named > MOST_CUT:
        raise ValueError("too many shapes")


def _size(root: ElementTree.Element) -> tuple[float, float]:
    box = root.get("viewBox", "").replace(",", " ").split()
    try:
        if len(box) == 4:
            width, height = float(box[2]), float(box[3])
        else:
            width, height = (
                float("".join(c for c in root.get(side, "") if c in "0123456789."))
                for side in ("width", "height")
            )
    except ValueError as problem:
        raise ValueError("an SVG picture needs a viewBox, or a width and a height") from problem
    if not (0 < width < 1e6 and 0 < height < 1e6):
        raise ValueError("size")
    return width, height
