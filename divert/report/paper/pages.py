"""From words and printed values to a page: the one Jinja environment and the one style sheet."""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import lru_cache
from html import unescape
from typing import TYPE_CHECKING

from markupsafe import Markup

from divert.core.shipped import templates_folder
from divert.core.words import N_, catalogue
from divert.figures.numbers.printed import Printed, Printer
from divert.report.charts.widths import shortened
from divert.report.paper.fonts import cut_to, faces_css, for_paper
from divert.report.paper.look import Look

if TYPE_CHECKING:
    from jinja2 import Environment

_BODY_PT = 9.6  # the size of running text on paper; one rem on a screen
_STYLE = "<style></style>"  # where base.html leaves room for the style sheet of the HTML file


@dataclass(frozen=True, slots=True)
class Frame:
    """What stands around every report: its title for a reader's window, and head and foot lines.

    ``day`` is the day the report speaks from, ``YYYY-MM-DD``; ``notices`` say what its sums do not
    hold.
    """

    title: str
    description: str
    site: str
    site_line: str
    for_line: str
    period_line: str
    foot: str
    day: str
    proof: str = ""
    notices: tuple[Markup, ...] = ()

    @property
    def head_from(self) -> str:
        """Return whose report it is, as short as a running head takes it."""
        return _for_a_head(self.site)

    @property
    def head_to(self) -> str:
        """Return whom it is for, as short as a running head takes it."""
        return _for_a_head(self.for_line)


_LONGEST_HEAD = 34  # letters; the whole name stands at the head of the first page
_SHORTEST_HEAD = 15  # letters; whole words that are fewer name nobody: "For ..."
_HEAD_MM, _HEAD_POINTS = 80.0, 8.0  # room of a head, under half of an A4's line, and its size
_SMALL_WORDS = 2  # of a head that is cut: two heads on a line with more read as a sentence


def _for_a_head(text: str) -> str:
    if len(text) <= _LONGEST_HEAD:
        return text
    whole_words = text[:_LONGEST_HEAD].rpartition(" ")[0]
    if (
        len(whole_words) < _SHORTEST_HEAD
    ):  # what follows is one very long word: as much as there is room
        return shortened(text, _HEAD_MM, _HEAD_POINTS)
    kept: list[str] = []
    for word in whole_words.split():
        if word[0].islower() and sum(w[0].islower() for w in kept) == _SMALL_WORDS:
            break
        kept.append(word)
    return " ".join(kept).rstrip(" ,;") + "…"


@lru_cache
def environment(language: str) -> Environment:
    """Return the Jinja environment of a language: autoescape, no arithmetic needed, gettext."""
    from jinja2 import Environment, FileSystemLoader, StrictUndefined

    made = Environment(
        loader=FileSystemLoader(templates_folder()),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        extensions=["jinja2.ext.i18n"],
    )
    made.policies["ext.i18n.trimmed"] = True
    words = catalogue(language)
    made.install_gettext_callables(  # type: ignore[attr-defined]
        words.gettext, words.ngettext, newstyle=True
    )
    return made


def render(template: str, frame: Frame, view: object, printer: Printer, look: Look) -> str:
    """Return the page as HTML without its style sheet; templates see frame, view, look, printer."""
    page = (
        environment(printer.language)
        .get_template(template)
        .render(frame=frame, view=view, look=look, printer=printer, language=printer.language)
    )
    # Between letters a typewriter's apostrophe is set as a printer's; what a ton is stays on a line.
    page = re.sub(r"(?<=[^\W\d_])(?:'|&#39;|&#x27;|&apos;)(?=[^\W\d_])", "\u2019", page)
    return re.sub(r"\((\d[^\s()]*)[ \u202f](lb|kg)\)", "(\\1\u00a0\\2)", page)


@lru_cache
def style(paper: str, strong: str, pale: str, language: str) -> str:
    """Return the style sheet for a paper, a site's colours and a language, without fonts."""
    css = (templates_folder() / "style.css").read_text(encoding="utf-8")
    of = catalogue(language).gettext(N_("{page} of {pages}"))
    before, between, after = (
        f'"{part}"' for part in re.split(r"\{pages?\}", of.replace('"', ""), maxsplit=2)
    )
    head = (
        f":root {{ --strong: {strong}; --pale: {pale}; }}\n"
        f"@page {{ size: {paper}; @bottom-right {{ content: "
        f"{before} counter(page) {between} counter(pages) {after}; }} }}\n"
    )
    return head + css


def style_for(look: Look, language: str) -> str:
    """Return the style sheet of a look, without fonts."""
    return style(look.paper, look.colours.strong, look.colours.pale, language)


def print_style(look: Look, language: str, *, rare: bool = True) -> str:
    """Return the style sheet for the PDF: fonts by their packaged files, whole for ``rare`` letters."""
    return f"{faces_css(for_paper(rare))}\n{style_for(look, language)}"


def self_contained(page: str, look: Look, language: str) -> str:
    """Return the page as one HTML file that needs nothing else: style and fonts within it."""
    words = re.sub(r"data:[\w/+.-]+;base64,[A-Za-z0-9+/=]+", "", page)
    css = style_for(look, language)
    return page.replace(
        _STYLE,
        f"<style>\n{faces_css(cut_to(words))}\n@media print {{\n{_heads_written(css, page)}}}\n"
        f"@media screen {{\n{for_screen(css)}}}\n</style>",
        1,
    )


def _heads_written(css: str, page: str) -> str:
    """Return the style sheet with running heads and foot as words: browsers know no named strings."""
    for name in ("foot", "from", "to"):
        found = re.search(rf'data-{name}="([^"]*)"', page)
        css = css.replace(f"string({name})", _css_text(unescape(found[1]) if found else ""))
    return css


def _css_text(text: str) -> str:
    """Return a text as CSS writes one, everything but letters and digits by its number."""
    return '"' + "".join(c if c.isalnum() else f"\\{ord(c):x} " for c in text) + '"'


def for_screen(css: str) -> str:
    """Return a style sheet with every point as 1/9.6 rem: the text of a page at the reader's size."""
    return re.sub(r"(?<![\w#.])(\d*\.?\d+)pt\b", lambda m: f"{float(m[1]) / _BODY_PT:.4g}rem", css)


def in_page_order(page: str, printer: Printer) -> tuple[Printed, ...]:
    """Return the figures that were printed, in the order in which the page shows them.

    Figures shown only inside a chart follow at the end.
    """
    waiting: dict[tuple[str, str], list[Printed]] = {}
    for figure in printer.printed:
        waiting.setdefault((figure.key, figure.text), []).append(figure)
    ordered: list[Printed] = []
    for key, text in re.findall(r'data-key="([^"]*)">([^<]*)</data>', page):
        ordered += waiting.pop((unescape(key), unescape(text)), [])
    return (*ordered, *(figure for rest in waiting.values() for figure in rest))
