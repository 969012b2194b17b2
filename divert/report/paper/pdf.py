"""From a page to a PDF/UA-1 file: WeasyPrint sets it, and what it leaves out is added here."""

from __future__ import annotations

import atexit
import contextlib
import datetime as dt
import math
import os
import re
from collections.abc import Callable, Sequence
from functools import cache, lru_cache
from html import unescape
from typing import TYPE_CHECKING, Any

from divert.core.findings import CannotRun
from divert.core.room import room_for
from divert.core.shipped import templates_folder
from divert.core.words import N_, Text
from divert.report.paper.artifacts import mark_running_heads
from divert.report.paper.fonts import rare_letters
from divert.report.paper.look import Look
from divert.report.paper.pages import print_style
from divert.report.paper.right_to_left import in_visual_order

if TYPE_CHECKING:
    from weasyprint import CSS
    from weasyprint.text.fonts import FontConfiguration

_FULL = 2 / 3  # of a page's room; with less on it, a page before the last looks half empty
_SPARSE = 0.36  # and the last one forgotten

INSTEAD = Text(
    N_("PDFs need the Pango library, which this machine lacks; the HTML was written. README says how "
       "to install it on each system.")
)  # fmt: skip


_THREADS = 4  # two look for letters, and the programs that find the libraries
_NO_ROOM = Text(
    N_("The system allows this run too few threads and processes to make PDFs. Raise the limit (often "
       "`ulimit -u`), or make the others with --as html,xlsx.")
)  # fmt: skip
_ONE_PAGE = 1.25  # pages filled to no more than that together may fit on one
# Classes of the style sheet, step by step; the first sets nothing but a sponsor's report closer.
_CLOSER = ("close", "tight", "tight flowing")
_FLOWING = ("flowing", "tight flowing")
# Ways to set a report of many pages, the usual one first.
_WAYS = ("", "tight", "tight flowing", "airy", "airy roomy")


class NoPango(CannotRun):
    """PDFs cannot be made on this machine; carries the line that says what to do."""


def weasyprint() -> Any:
    """Return the WeasyPrint module; raises NoPango where its system libraries are missing.

    Raises CannotRun where they would be refused the threads that they start: they end the process then.
    """
    if not room_for(_THREADS):
        raise CannotRun(_NO_ROOM)
    try:
        import weasyprint as module
    except (ImportError, OSError) as problem:
        raise NoPango(INSTEAD) from problem
    return module


def write_pdf(
    page: str, look: Look, language: str, day: dt.date, *, most_pages: int | None = None,
    least_pages: int | None = None,
) -> bytes:  # fmt: skip
    """Return a page as PDF/UA-1: tagged, titled, fonts embedded, header cells with their scope.

    Nothing outside the packaged templates and the page itself is read. The same page gives the same
    bytes: SOURCE_DATE_EPOCH, or ``day``, stands for the time of making. A report that runs over
    ``most_pages`` is set closer, no closer than it must be. One that is to have ``least_pages`` or
    more is set closer, or with more air, where a page would have little on it. Where none are asked
    for, little text stands on one page.
    """
    module = weasyprint()
    with _clock_at(day):
        named = in_visual_order(_named_drawings(page))

        @cache
        def laid_out(how: str) -> Any:
            set_so = _set(how, named) if how else named
            return _laid_out(module, set_so, look, language)

        if least_pages is not None:
            document = _best_filled(laid_out, least_pages, most_pages)
        else:
            document = _fitting(laid_out, most_pages, '<body class="sponsor"' in page)
        return bytes(
            document.write_pdf(pdf_variant="pdf/ua-1", finisher=_finish, custom_metadata=False)
        )


def _fitting(laid_out: Callable[[str], Any], most: int | None, sponsor: bool) -> Any:
    """Return the report set no closer than it must be for its pages."""
    document = laid_out("")
    for how in _CLOSER if sponsor else _CLOSER[1:]:
        if most is None or len(document.pages) <= most:
            break
        document = laid_out(how)
    if len(document.pages) > 1 and sum(map(_share_filled, document.pages)) < _ONE_PAGE:
        for how in _FLOWING:
            flowing = laid_out(how)
            if len(flowing.pages) < len(document.pages):
                return flowing
    if _half_empty(document):
        for how in _FLOWING:
            flowing = laid_out(how)
            if len(flowing.pages) <= len(document.pages) and not _half_empty(flowing):
                return flowing
    return document


def _half_empty(document: Any) -> bool:
    """Return whether a page before the last has little on it."""
    return any(_share_filled(page) < _FULL for page in document.pages[:-1])


def _best_filled(laid_out: Callable[[str], Any], least: int, most: int | None) -> Any:
    """Return the setting without a page that has little on it; where none is, the one nearest to it."""
    best, found = math.inf, None
    for how in _WAYS:
        document = laid_out(how)
        lacks = _lacks([_share_filled(page) for page in document.pages], least, most)
        if lacks < best:
            best, found = lacks, document
        if lacks == 0:
            break
    return found


def _lacks(filled: Sequence[float], least: int, most: int | None) -> float:
    """Return how far pages are from being full and as many as asked for; 0 where nothing lacks.

    The last page may end where the report does, but should not look forgotten.
    """
    *whole, last = filled
    pages = max(0, least - len(filled)) + (0 if most is None else max(0, len(filled) - most))
    return 4 * pages + 3 * sum(max(0.0, _FULL - f) for f in whole) + max(0.0, _SPARSE - last)


def _set(how: str, page: str) -> str:
    return re.sub(r'<body class="', f'<body class="{how} ', page, count=1)


def _share_filled(page: Any) -> float:
    """Return how far down its page words and drawings reach, as a share of the room for them."""
    box = page._page_box
    # Blocks that go on overleaf are as tall as the page: only what is seen tells where it ends.
    ends = [
        seen.position_y + seen.height
        for root in box.children if root.element_tag == "html"
        for seen in root.descendants() if hasattr(seen, "text") or hasattr(seen, "replacement")
    ]  # fmt: skip
    return float((max(ends) - box.content_box_y()) / box.height) if ends and box.height else 1.0


def _laid_out(module: Any, page: str, look: Look, language: str) -> Any:
    rare = _has_rare(page)
    return module.HTML(string=page, base_url=None, url_fetcher=_fetcher()).render(
        font_config=_fonts(rare), stylesheets=[_style(look, language, rare)]
    )


def _has_rare(page: str) -> bool:
    """Return whether a page holds letters that the fonts cut to the usual ones do not have."""
    return bool(rare_letters(unescape(re.sub(r"data:[\w/+.-]+;base64,[A-Za-z0-9+/=]+", "", page))))


def _named_drawings(page: str) -> str:
    """Give each drawing its title element, which is where its alternative text is taken from."""
    return re.sub(r'(<svg\b[^>]*\baria-label="([^"]*)"[^>]*>)', r"\1<title>\2</title>", page)


class _clock_at:  # noqa: N801 - reads as a phrase
    """Pin the time that fonts and metadata carry, unless the caller's environment has done so."""

    def __init__(self, day: dt.date) -> None:
        self.seconds = int(dt.datetime(day.year, day.month, day.day, tzinfo=dt.UTC).timestamp())
        self.ours = "SOURCE_DATE_EPOCH" not in os.environ

    def __enter__(self) -> None:
        if self.ours:
            os.environ["SOURCE_DATE_EPOCH"] = str(self.seconds)

    def __exit__(self, *_: object) -> None:
        if self.ours:
            del os.environ["SOURCE_DATE_EPOCH"]


def warm_up(look: Look, language: str) -> None:
    """Load fonts and style sheet now, so that processes forked from here on share them.

    Does nothing where PDFs cannot be made.
    """
    with contextlib.suppress(NoPango):
        weasyprint()
        _style(look, language, False)


@lru_cache
def _fonts(rare: bool) -> FontConfiguration:
    """Return the fonts of pages with or without rare letters: one family of one set, not of two."""
    from weasyprint.text.fonts import FontConfiguration

    # Its folder of unpacked fonts is to go while Python can still do so.
    atexit.register(_forget)
    return FontConfiguration()


def _forget() -> None:
    _style.cache_clear()
    _fonts.cache_clear()


@lru_cache(maxsize=8)
def _style(look: Look, language: str, rare: bool) -> CSS:
    # One style sheet and one set of fonts serve every report of a run.
    return weasyprint().CSS(
        string=print_style(look, language, rare=rare),
        font_config=_fonts(rare),
        url_fetcher=_fetcher(),
    )


@lru_cache
def _fetcher() -> Any:
    """Return a fetcher that opens packaged fonts and ``data:`` addresses, and nothing else."""
    from urllib.parse import unquote, urlsplit
    from urllib.request import url2pathname

    from weasyprint.urls import URLFetcher

    allowed = (templates_folder() / "fonts").resolve()

    class PackagedOnly(URLFetcher):  # type: ignore[misc]
        def fetch(self, url: str, headers: Any = None) -> Any:
            from pathlib import Path

            parts = urlsplit(url)
            if parts.scheme == "file" and not parts.netloc:
                path = Path(url2pathname(unquote(parts.path))).resolve()
                if path.is_relative_to(allowed):
                    return super().fetch(url, headers)
            elif parts.scheme == "data":
                return super().fetch(url, headers)
            raise ValueError(f"not part of the report: {url[:80]}")

    return PackagedOnly(allowed_protocols=("file", "data"), allow_redirects=False)


def _finish(document: Any, pdf: Any) -> None:
    """Give header cells their scope, of the column in a table's head, of the row elsewhere."""
    mark_running_heads(pdf)
    objects: list[Any] = [thing for thing in pdf.objects if isinstance(thing, dict)]
    elements = {o.reference: o for o in objects if o.get("Type") == "/StructElem"}
    for element in elements.values():
        if element["S"] != "/TH" or "A" not in element:
            continue
        row = elements.get(element["P"])
        part = elements.get(row["P"]) if row is not None else None
        in_head = part is not None and part["S"] == "/THead"
        element["A"]["Scope"] = "/Column" if in_head else "/Row"
