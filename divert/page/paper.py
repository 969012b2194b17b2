"""A PDF as pictures of its pages, so that a report is seen as it will be printed."""

from __future__ import annotations

import io
import threading
from pathlib import Path

_SCALE = 1.6  # pixels to a point: sharp on a screen
_lock = threading.Lock()  # the PDF library works on one document at a time


def page_count(path: Path) -> int:
    """Return how many pages a PDF has, 0 where it cannot be read."""
    import pypdfium2

    with _lock:
        try:
            document = pypdfium2.PdfDocument(path.read_bytes())
        except (pypdfium2.PdfiumError, OSError):
            return 0
        try:
            return len(document)
        finally:
            document.close()


def picture_of(path: Path, number: int) -> bytes | None:
    """Return one page (from 1) as PNG, None where there is no such page."""
    import pypdfium2

    with _lock:
        try:
            document = pypdfium2.PdfDocument(path.read_bytes())
        except (pypdfium2.PdfiumError, OSError):
            return None
        try:
            if not 1 <= number <= len(document):
                return None
            picture = document[number - 1].render(scale=_SCALE).to_pil()
        finally:
            document.close()
    out = io.BytesIO()
    picture.save(out, "PNG")
    return out.getvalue()
