"""The site's one colour, kept readable whatever it is.

Contrast and relative luminance follow WCAG 2.2, success criteria 1.4.3 and 1.4.11.
"""

from __future__ import annotations

import colorsys
import re
from dataclasses import dataclass

TEXT_CONTRAST = 4.5  # WCAG 2.2, 1.4.3 (AA)
_DEFAULT = "#2f6b4f"

RGB = tuple[float, float, float]


@dataclass(frozen=True, slots=True)
class Colours:
    """The colours of a report as ``#rrggbb``.

    ``strong`` carries text and solid bars, on white and under white; ``pale`` fills what came before.
    """

    strong: str
    pale: str


def colours_of(given: str) -> Colours:
    """Return a site's colours; a colour too light for text on white is darkened, its hue kept."""
    rgb = parse(given) or parse(_DEFAULT)
    assert rgb is not None
    strong = darkened(rgb, TEXT_CONTRAST)
    return Colours(strong=as_hex(strong), pale=as_hex(mixed(strong, (1.0, 1.0, 1.0), 0.34)))


def parse(text: str) -> RGB | None:
    """Return red, green and blue (0-1) of ``#rgb`` or ``#rrggbb``, or None."""
    match = re.fullmatch(r"#?([0-9a-fA-F]{3}|[0-9a-fA-F]{6})", text.strip())
    if match is None:
        return None
    digits = match[1] if len(match[1]) == 6 else "".join(c * 2 for c in match[1])
    red, green, blue = (int(digits[i : i + 2], 16) / 255 for i in (0, 2, 4))
    return red, green, blue


def as_hex(rgb: RGB) -> str:
    """Return ``#rrggbb``."""
    return "#" + "".join(f"{round(255 * part):02x}" for part in rgb)


def mixed(rgb: RGB, other: RGB, share: float) -> RGB:
    """Return ``share`` of the first colour with the rest of the other."""
    red, green, blue = (share * a + (1 - share) * b for a, b in zip(rgb, other, strict=True))
    return red, green, blue


def darkened(rgb: RGB, least_contrast: float) -> RGB:
    """Return the colour with its lightness lowered until it stands off white by ``least_contrast``."""
    hue, lightness, saturation = colorsys.rgb_to_hls(*rgb)
    shown = parse(as_hex(rgb)) or rgb
    while contrast(shown, (1.0, 1.0, 1.0)) < least_contrast and lightness > 0:
        lightness = max(0.0, lightness - 0.005)
        # Judged as it will be written, in whole steps of 1/255.
        shown = parse(as_hex(colorsys.hls_to_rgb(hue, lightness, saturation))) or rgb
    return shown


def contrast(one: RGB, other: RGB) -> float:
    """Return the contrast ratio of two colours, 1 to 21."""
    lighter, darker = sorted((_luminance(one), _luminance(other)), reverse=True)
    return (lighter + 0.05) / (darker + 0.05)


def _luminance(rgb: RGB) -> float:
    red, green, blue = (
        part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in rgb
    )
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue
