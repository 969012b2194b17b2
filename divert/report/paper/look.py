"""How a site's reports look: paper, colours, logo, picture."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from divert.core.paper import prints_on_letter
from divert.core.words import Text
from divert.report.paper.colour import Colours, colours_of
from divert.report.paper.pictures import Picture, load
from divert.site.model import Site

Paper = Literal["Letter", "A4"]

_TEXT_WIDTH_PT = {"Letter": 510.0, "A4": 493.2}  # between side margins of 18 mm


@dataclass(frozen=True, slots=True)
class Look:
    """Paper, colours and pictures of one site's reports; ``text_width_pt`` is the column they fill."""

    paper: Paper
    colours: Colours
    logo: Picture | None = None
    picture: Picture | None = None

    @property
    def text_width_pt(self) -> float:
        """Return the width between the margins, which a chart across the page fills."""
        return _TEXT_WIDTH_PT[self.paper]


def look_of(site: Site) -> tuple[Look, tuple[Text, ...]]:
    """Return a site's look, with a sentence for each picture that could not be used."""
    logo, no_logo = load(site.folder, site.logo, "logo") if site.logo else (None, None)
    picture, no_picture = (
        load(site.folder, site.report.picture, "picture") if site.report.picture else (None, None)
    )
    look = Look(_paper(site.country), colours_of(site.colour), logo, picture)
    return look, tuple(problem for problem in (no_logo, no_picture) if problem is not None)


def plain_look(country: str) -> Look:
    """Return the look of pages that are no one site's: the usual colour, no logo."""
    return Look(_paper(country), colours_of(USUAL_COLOUR))


USUAL_COLOUR = "#2f6b4f"  # a site's, where it names none


def _paper(country: str) -> Paper:
    return "Letter" if prints_on_letter(country) else "A4"
